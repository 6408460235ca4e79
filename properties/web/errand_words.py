"""What a page says about an errand: where it stands, and what may be done about it."""

from dataclasses import dataclass
from datetime import datetime

from properties.models import Errand, Person
from properties.selectors.errands import (
    ENDED,
    MAY_BEGIN_AGAIN,
    Standing,
    may_direct,
    standing_of,
)

WORDS = {
    Standing.WAITING: "Waiting for its turn.",
    Standing.NO_WORKER: "Nobody takes this up: the worker that does long work is not running. "
    "Whoever runs this service starts it with “make run” or “manage.py db_worker”.",
    Standing.RUNNING: "Under way.",
    Standing.STOPPING: "Stopping at the next step.",
    Standing.BROKEN_OFF: "This broke off: nothing has been heard of it for a minute. "
    "Nothing was written.",
    Standing.DONE: "Done.",
    Standing.STOPPED: "Stopped.",
    Standing.FAILED: "Not done.",
}
TROUBLE = frozenset({Standing.NO_WORKER, Standing.BROKEN_OFF, Standing.FAILED})


@dataclass(frozen=True)
class ErrandSheet:
    """An errand as a page shows it to a person."""

    errand: Errand
    standing: Standing
    directed: bool

    @property
    def words(self) -> str:
        """A sentence on where it stands; its own message tells more."""
        return "" if self.standing in ENDED and self.errand.message else WORDS[self.standing]

    @property
    def is_trouble(self) -> bool:
        """Say whether somebody should look at it."""
        return self.standing in TROUBLE

    @property
    def ended(self) -> bool:
        """Say whether nothing more will happen by itself."""
        return self.standing in ENDED

    @property
    def counts(self) -> bool:
        """Say whether steps can be counted."""
        return self.errand.total > 0 and self.standing not in ENDED

    @property
    def may_stop(self) -> bool:
        """Say whether the button to stop it belongs here."""
        return self.directed and not self.ended and self.standing != Standing.STOPPING

    @property
    def may_begin_again(self) -> bool:
        """Say whether the button to begin it again belongs here."""
        return self.directed and self.standing in MAY_BEGIN_AGAIN

    @property
    def may_do_here(self) -> bool:
        """Say whether it can be done without a worker."""
        return self.directed and self.standing == Standing.NO_WORKER


def errand_sheet(errand: Errand, *, person: Person, now: datetime) -> ErrandSheet:
    """Lay out an errand for a person at a moment."""
    return ErrandSheet(errand, standing_of(errand, now=now), may_direct(person, errand))
