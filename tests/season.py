"""An invented programme of three rounds for page tests."""

import pytest

from planner.models import Machine, Mix, Programme, Round
from planner.services.programmes import keep_programme
from properties.models import Firm


@pytest.fixture
def programme(firm: Firm, machine: Machine, mix: Mix) -> Programme:
    """The herbicide three times: in spring, in summer and in autumn."""
    days = {
        "Spring": ("04-10", "04-30"),
        "Summer": ("06-10", "06-30"),
        "Autumn": ("09-15", "10-05"),
    }
    return keep_programme(
        Programme(firm=firm, name="Weeds all year"),
        rounds=[
            Round(name=name, from_day=first, to_day=last, mix=mix, machine=machine)
            for name, (first, last) in days.items()
        ],
    )
