"""Keeping mixes."""

from collections.abc import Sequence

from django.db import transaction

from planner.core.label_facts import Use
from planner.core.request.rates import RATES
from planner.models import LabelLine, Mix, MixPart, Product
from properties.core.errors import Refused
from properties.core.units import Quantity


@transaction.atomic
def keep_mix(
    mix: Mix,
    *,
    parts: Sequence[tuple[Product, Quantity]],
    lines: Sequence[LabelLine | None] | None = None,
) -> Mix:
    """Keep a mix with its products in the order given, each at its rate.

    ``lines`` are the lines of the labels that the rates belong to. Refused where a rate
    cannot be right, or where a line is for each plant and not for turf.
    """
    used = list(lines or [None] * len(parts))
    for position, (_, rate) in enumerate(parts, start=1):
        RATES[rate.dimension].check(rate, field=f"rate_{position}")
    _check_uses(used)
    mix.full_clean()
    mix.save()
    mix.parts.all().delete()
    for position, ((product, rate), line) in enumerate(zip(parts, used, strict=True), start=1):
        part = MixPart(mix=mix, product=product, rate=rate, line=line, position=position)
        part.full_clean()
        part.save()
    return mix


def _check_uses(lines: Sequence[LabelLine | None]) -> None:
    """Refuse a tank of which one part is for all the turf and another for spots."""
    first: LabelLine | None = None
    for position, line in enumerate(lines, start=1):
        if line is None:
            continue
        if line.use == Use.PER_PLANT:
            raise Refused(
                f"line_{position}",
                f"“{line}” is an amount for each plant, not a rate for turf.",
                "Choose a line for turf; plants are treated one by one.",
            )
        if first is not None and line.use != first.use:
            raise Refused(
                f"line_{position}",
                f"“{line}” and “{first}” cannot share a tank.",
                "Mix what goes over the whole turf and what goes on spots apart.",
            )
        first = first or line
