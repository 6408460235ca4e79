"""What is asked of a route: lawns in their order, where the tank may be filled, what was read."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.core.machine.machines import Machine
from planner.core.past import Past
from planner.core.setback_rules import SetbackRule
from planner.core.tolerance import has_own_turf
from properties.core.outlines import Drawing
from properties.core.units import Quantity


class ReloadKind(StrEnum):
    """Where water comes from."""

    YARD = "yard"
    NURSE_TANK = "nurse_tank"
    CUSTOMER_TAP = "customer_tap"


@dataclass(frozen=True)
class ReloadPoint:
    """A place on the way where the tank could be filled.

    A customer's tap needs their ``permission`` and an ``air_gap`` or a
    ``backflow_device``; None where nobody says.
    """

    name: str
    kind: ReloadKind
    permission: bool | None = None
    air_gap: bool | None = None
    backflow_device: bool | None = None

    @property
    def why_not(self) -> str:
        """Why the tank may not be filled here, empty where it may."""
        if self.kind is not ReloadKind.CUSTOMER_TAP:
            return ""
        missing = [] if self.permission else ["the customer’s permission"]
        if not (self.air_gap or self.backflow_device):
            missing.append("an air gap or a backflow device")
        return f"{' and '.join(missing)} would be needed" if missing else ""


@dataclass(frozen=True)
class Stop:
    """A lawn: its treatable ``area`` as it is told, or a ``drawing`` that is measured.

    ``room`` is what each product may still put down there today, by name, and ``given``
    what it has had already. ``gauge_after`` is what the gauge showed on leaving. The stop
    is one of so many equal ``parts`` of the lawn. ``setback_rules`` hold there beside those
    of the whole route, and ``past`` is what a drawn lawn has had.
    ``turfgrasses`` grow there; where nobody told, those of the request. ``hand_area`` is
    the part of a told ``area`` that the machine does not spray.
    """

    name: str
    area: Quantity | None = None
    drawing: Drawing | None = None
    room: Mapping[str, Quantity] = field(default_factory=dict)
    given: Mapping[str, Quantity] = field(default_factory=dict)
    takes_leftover: bool = True
    gauge_after: Quantity | None = None
    parts: int = 1
    setback_rules: tuple[SetbackRule, ...] = ()
    past: Past = field(default_factory=Past)
    turfgrasses: tuple[str, ...] = ()
    hand_area: Quantity | None = None

    @property
    def tells_its_turf(self) -> bool:
        """Whether what grows there is told of this lawn or of a part of it."""
        return bool(self.turfgrasses) or (self.drawing is not None and has_own_turf(self.drawing))


@dataclass(frozen=True)
class Reading:
    """What the gauge showed when the truck came to be filled again after a load.

    ``started_with`` and ``put_in``, all of each product in the tank at its start, are
    what was planned unless they are told.
    """

    after_load: int
    in_tank: Quantity
    started_with: Quantity | None = None
    put_in: Mapping[str, Quantity] = field(default_factory=dict)


@dataclass(frozen=True)
class Rinsing:
    """So many rinses of so much clean water; of a tenth of the tank unless told."""

    count: int = 3
    volume: Quantity | None = None


@dataclass(frozen=True)
class Route:
    """Lawns and reload points in the order they are come to; the first load is mixed before.

    ``next_lawns`` come after today's and could take a leftover. ``tank`` counts the
    machine's tanks from 1; a filled one may weigh no more than ``weight_limit``. The
    ``hand_tool`` does what the machine cannot or may not, from its own first tank.
    """

    legs: tuple[Stop | ReloadPoint, ...]
    tank: int = 1
    weight_limit: Quantity | None = None
    next_lawns: tuple[Stop, ...] = ()
    reading: Reading | None = None
    rinsing: Rinsing = Rinsing()
    hand_tool: Machine | None = None

    @property
    def stops(self) -> tuple[Stop, ...]:
        """The lawns of today."""
        return tuple(leg for leg in self.legs if isinstance(leg, Stop))

    @property
    def reload_points(self) -> tuple[tuple[int, ReloadPoint], ...]:
        """Each reload point with the number of lawns before it."""
        before, found = 0, []
        for leg in self.legs:
            if isinstance(leg, Stop):
                before += 1
            else:
                found.append((before, leg))
        return tuple(found)
