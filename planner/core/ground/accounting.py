"""Every bit of turf, and what becomes of it: the shares add up to all the turf. Areas in m²."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.core.ground.distances import KeptFrom
from planner.core.ground.ground import Ground, called
from planner.core.limits import Face
from planner.core.shown import day_said, listed
from properties.core.features import Role
from properties.core.plane import DUST_M2


class Fate(StrEnum):
    """What becomes of a share of the turf."""

    MACHINE = "machine"
    HAND = "hand"
    OWN_GROUND = "own_ground"
    STRIP = "strip"
    OBSTACLES = "obstacles"
    TOO_NARROW = "too_narrow"
    SPARED = "spared"
    BARRED = "barred"
    CLOSED = "closed"


@dataclass(frozen=True)
class Share:
    """So much turf, what becomes of it, and why; of which feature, where one is meant."""

    fate: Fate
    area_m2: float
    reason: str
    feature: str | None = None


def account_of(ground: Ground) -> tuple[Share, ...]:
    """Account for all the turf, every bit counted once.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m²]

    Returns
    -------
    tuple[Share, ...]
        The machine's share, and every other that is not nothing. [m²]

    Raises
    ------
    Nothing
        Any ground can be accounted for.

    References
    ----------
    Our own derivation: turf = sprayed by machine + by hand + kept unsprayed for features
    + under obstacles + too narrow for any tool + not for this mix + closed to the tools
    + closed on the day.
    """
    machine, *rest = _shares(ground)
    return (machine, *(share for share in rest if share.area_m2 > 0))


def _shares(ground: Ground) -> Iterator[Share]:
    alone = len(ground.tools) == 1
    yield Share(Fate.MACHINE, ground.machine_area_m2, "sprayed with the machine")
    by_hand = (
        "too narrow for the machine’s swath, and planned at its output all the same"
        if alone
        else "sprayed with the hand tool"
    )
    yield Share(Fate.HAND, ground.hand_area_m2, by_hand)
    yield from _for_features(ground)
    obstacles = ground.drawing.of_role(Role.OBSTACLE)
    under = f"under {listed([called(shape) for shape in obstacles])}" if obstacles else ""
    yield Share(Fate.OBSTACLES, ground.treatment.obstacle_area_m2, under)
    yield Share(
        Fate.TOO_NARROW,
        ground.too_narrow_m2,
        "too narrow for the machine, and the hand tool keeps farther away",
    )
    yield Share(Fate.SPARED, ground.spared_m2, why_spared(ground))
    yield Share(Fate.BARRED, ground.barred_m2, why_barred(ground))
    for reason, area_m2 in closed_areas_m2(ground).items():
        yield Share(Fate.CLOSED, area_m2, reason)


def _for_features(ground: Ground) -> Iterator[Share]:
    nearest = ground.tools[-1].kept_from
    for kept, left in zip(nearest, ground.treatment.left_out, strict=True):
        ref, name = kept.shape.ref, called(kept.shape)
        stands_here = left.own_ground_m2 > DUST_M2
        strip_m2 = left.strip_m2 if stands_here else left.area_m2
        if stands_here:
            yield Share(Fate.OWN_GROUND, left.own_ground_m2, f"{name} stands here", ref)
        yield Share(Fate.STRIP, strip_m2, f"kept from {name}: {_why(kept)}", ref)


def _why(kept: KeptFrom) -> str:
    downwind = kept.decided_downwind
    reason = kept.setback.reason
    return f"{reason}; {downwind.reason}" if kept.follows_wind and downwind else reason


def why_barred(ground: Ground) -> str:
    """Say which turf is closed to which tool, and why.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [-]

    Returns
    -------
    str
        Each shape with its reason; empty where nothing is closed. [-]

    Raises
    ------
    Nothing
        Any ground will do.

    References
    ----------
    Our own wording.
    """
    barred = dict.fromkeys(barred for each in ground.tools for barred in each.barred)
    reasons = [f"{called(each.shape)}: {each.reason}" for each in barred]
    return listed(reasons) if reasons else ""


def why_spared(ground: Ground) -> str:
    """Say which turf the mix is not for, and why.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [-]

    Returns
    -------
    str
        Each shape with its reason; empty where nothing is left out for it. [-]

    Raises
    ------
    Nothing
        Any ground will do.

    References
    ----------
    Our own wording.
    """
    reasons = [f"{called(each.shape)}: {each.reason}" for each in ground.spared]
    return listed(reasons) if reasons else ""


def closed_areas_m2(ground: Ground) -> dict[str, float]:
    """Add up the ground that is closed on the day, reason by reason.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m²]

    Returns
    -------
    dict of str to float
        The area by its reason. [m²]

    Raises
    ------
    Nothing
        Any ground will do.

    References
    ----------
    Our own derivation.
    """
    areas_m2: dict[str, float] = {}
    for face in ground.faces.faces:
        if not face.is_open:
            reason, area_m2 = why_closed(face), ground.treatment.area_of(face.geometry)
            areas_m2[reason] = areas_m2.get(reason, 0.0) + area_m2
    return areas_m2


def why_closed(face: Face) -> str:
    """Say why ground is closed on the day, and when it opens.

    Parameters
    ----------
    face : Face
        Ground that is closed. [-]

    Returns
    -------
    str
        Its reasons, and the day on which it is open again. [-]

    Raises
    ------
    Nothing
        Any ground will do.

    References
    ----------
    Our own wording.
    """
    reasons = "; ".join(dict.fromkeys(closure.reason for closure in face.closures))
    if face.open_on is None:
        return f"closed: {reasons}; nobody can say when it opens again"
    return f"closed until {day_said(face.open_on)}: {reasons}"
