"""Bring in the demo firm and show one finished plan. Running it again changes nothing."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from planner.management.scenario.aerial.picture import LONG_SIDE_PX
from planner.management.scenario.loading import load
from planner.management.scenario.plan_text import plan_text
from planner.selectors.plans import plan_for, request_for


class Command(BaseCommand):
    """Add what is missing of the demo firm, then print a plan for one of its properties."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Say how large the pictures should be."""
        parser.add_argument(
            "--picture-px",
            type=int,
            default=LONG_SIDE_PX,
            help="long side of the pictures in pixels (default: %(default)s)",
        )

    def handle(self, *_args: Any, **options: Any) -> None:
        """Load the scenario and print the plan that shows it."""
        shown = load(tell=self.stdout.write, picture_px=options["picture_px"])
        request = request_for(shown.person, shown.asked, day=shown.on)
        self.stdout.write(plan_text(plan_for(request), request=request, shown=shown))
