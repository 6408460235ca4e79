"""A feature while it is being read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from properties.core.errors import Refused
from properties.core.features import Kind
from properties.core.outlines.drawing import Note, ShapeFault
from properties.core.units import Dimension, Quantity, parse_quantity


@dataclass
class Draft:
    """A feature while it is being read: what is known so far, and what is wrong with it."""

    index: int
    ref: str
    where: str
    kind: Kind | None = None
    name: str = ""
    setback: Quantity | None = None
    downwind_setback: Quantity | None = None
    slope: Quantity | None = None
    by_hand_only: bool = False
    gate: Quantity | None = None
    position_error: Quantity | None = None
    measured_by: str | None = None
    turfgrasses: tuple[str, ...] = ()
    faults: list[Refused] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    @property
    def title(self) -> str:
        """What to call the shape in a sentence."""
        return self.name or self.ref

    def fault(
        self, path: str, problem: str, remedy: str, at: tuple[float, float] | None = None
    ) -> None:
        """Add what is wrong with a member of this feature."""
        self.faults.append(
            ShapeFault(f"{self.where}{path}", problem, remedy, shape=self.ref, at_lonlat=at)
        )

    def note(self, code: str, message: str) -> None:
        """Add what was mended, once."""
        note = Note(self.ref, message, code)
        if note not in self.notes:
            self.notes.append(note)

    def quantity(
        self, properties: Mapping[str, object], word: str, *kinds: Dimension
    ) -> Quantity | None:
        """Read a quantity that may be missing."""
        raw = properties.get(word)
        if raw is None:
            return None
        try:
            return parse_quantity(raw, *kinds)
        except Refused as refused:
            self.fault(f".properties.{word}", refused.problem, refused.remedy)
            return None
