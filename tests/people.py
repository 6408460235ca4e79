"""The standing cast of the page tests: an owner, colleagues, and a stranger.

Invented people of two invented firms.
"""

from datetime import UTC, datetime

import pytest

from properties.models import Firm, Person
from properties.services.firms import found_firm

PASSWORD = "a-long-quiet-phrase"
FOUNDED_AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def _person(firm: Firm, name: str, role: str) -> Person:
    return Person.objects.create_user(
        email=f"{name.lower()}@example.com", password=PASSWORD, firm=firm, name=name, role=role
    )


@pytest.fixture
def firm(db: None) -> Firm:
    """A firm with the example distances that every firm starts with."""
    return found_firm(name="Thistledown Turf Care", units="us", at=FOUNDED_AT)


@pytest.fixture
def owner(firm: Firm) -> Person:
    """Somebody who may do everything."""
    return _person(firm, "Olive", "owner")


@pytest.fixture
def office(firm: Firm) -> Person:
    """A colleague in the office."""
    return _person(firm, "Percy", "office")


@pytest.fixture
def crew(firm: Firm) -> Person:
    """A colleague on the truck."""
    return _person(firm, "Quill", "crew")


@pytest.fixture
def stranger(db: None) -> Person:
    """The owner of another firm."""
    other = found_firm(name="Fernbrake Lawns", units="metric", at=FOUNDED_AT)
    return _person(other, "Rowan", "owner")
