"""Free turf shared out: what each tool sprays, and what is left for which reason.

Metres, in the plane of the property's frame. No bit of ground is in two shares.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.core.ground.distances import KeptFrom, keep_away
from planner.core.machine.barred import Barred, barred_turf, unchecked_gates
from planner.core.machine.machines import Machine
from planner.core.request import PlanRequest
from planner.core.tolerance import spared_turf
from planner.core.tools import Tool
from properties.core.free_ground import Site
from properties.core.outlines import Shape
from properties.core.passable import split_by_swath
from properties.core.plane import NOWHERE, Area, cut, union_of
from properties.core.setbacks import Claim
from properties.core.zones import Zone


@dataclass(frozen=True)
class Reach:
    """What one tool keeps away from, with its zones, and the turf that it may not enter.

    ``spared`` is turf that the mix is not for, whatever the tool.
    """

    tool: Tool
    sprayer: Machine
    kept_from: tuple[KeptFrom, ...]
    zones: tuple[Zone, ...]
    kept: Area
    barred: tuple[Barred, ...]
    unchecked: tuple[Shape, ...]
    closed: Area
    spared: tuple[Barred, ...] = ()


@dataclass(frozen=True)
class Shares:
    """Free turf, shared out.

    ``sprayed`` is what each tool sprays, ``treatable`` all of that. ``fits`` and ``hand``
    are the ground where the machine's swath fits and the rest of what is sprayed.
    ``unsprayed`` is all that is left, for one of three reasons.
    """

    sprayed: tuple[Area, ...]
    treatable: Area
    fits: Area
    hand: Area
    by_features: Area
    too_narrow: Area
    barred: Area
    unsprayed: Area


def reach_of(
    site: Site, request: PlanRequest, tool: Tool, sprayer: Machine, *, defaults: Mapping[str, Claim]
) -> Reach:
    """Work out where a tool must not spray, and where it may not go.

    Parameters
    ----------
    site : Site
        The ground. [m]
    request : PlanRequest
        What is asked for. [-]
    tool : Tool
        Which tool it is. [-]
    sprayer : Machine
        The tool itself. [-]
    defaults : Mapping[str, Claim]
        Distances by kind where nobody else gives one. [-]

    Returns
    -------
    Reach
        Its zones and its closed ground. [m]

    Raises
    ------
    Nothing
        A request that was read can be measured.

    References
    ----------
    See ``keep_away``, ``barred_turf`` and ``spared_turf``.
    """
    kept_from = keep_away(request, method=sprayer.method, defaults=defaults)
    zones = site.zones({each.shape.ref: each.setback for each in kept_from})
    barred = barred_turf(request.drawing, sprayer, tool=tool)
    spared = spared_turf(request.drawing, request.products, told=request.turfgrasses)
    return Reach(
        tool,
        sprayer,
        kept_from,
        zones,
        kept=site.kept_by(zones),
        barred=barred,
        unchecked=unchecked_gates(request.drawing, sprayer),
        closed=union_of(site.plane[each.shape.ref] for each in (*barred, *spared)),
        spared=spared,
    )


def shared_alone(free: Area, machine: Reach) -> Shares:
    """Share free turf out with one tool, which sprays narrow strips too as far as it may enter.

    Parameters
    ----------
    free : area
        Turf without obstacles. [m]
    machine : Reach
        The tool. [-]

    Returns
    -------
    Shares
        Its part, and what is left. [m]

    Raises
    ------
    Nothing
        Valid areas can always be cut.

    References
    ----------
    Our own derivation.
    """
    closed, entered = cut(free, machine.closed)
    by_features, sprayed = cut(entered, machine.kept)
    also_by_features, barred = cut(closed, machine.kept)
    fits, hand = _split(sprayed, machine.sprayer)
    by_features = union_of((by_features, also_by_features))
    return Shares(
        sprayed=(sprayed,),
        treatable=sprayed,
        fits=fits,
        hand=hand,
        by_features=by_features,
        too_narrow=NOWHERE,
        barred=barred,
        unsprayed=union_of((by_features, barred)),
    )


def shared_by_two(free: Area, machine: Reach, hand_tool: Reach) -> Shares:
    """Share free turf out between a machine and a hand tool.

    The machine has the ground where its swath fits, the hand tool what is left and
    open to it. What neither may spray is left for the features if both keep away from
    it; else because it is closed to one of them, or too narrow for the machine.

    Parameters
    ----------
    free : area
        Turf without obstacles. [m]
    machine : Reach
        The machine. [-]
    hand_tool : Reach
        The hand tool. [-]

    Returns
    -------
    Shares
        Both parts, and what is left. [m]

    Raises
    ------
    Nothing
        Valid areas can always be cut.

    References
    ----------
    Our own derivation.
    """
    entered = cut(free, machine.closed)[1]
    fits = _split(cut(entered, machine.kept)[1], machine.sprayer)[0]
    rest = cut(free, fits)[1]
    kept_by_hand, open_to_hand = cut(rest, hand_tool.kept)
    closed_to_hand, hand = cut(open_to_hand, hand_tool.closed)
    by_features, left = cut(kept_by_hand, machine.kept)
    closed_to_machine, too_narrow = cut(left, machine.closed)
    barred = union_of((closed_to_hand, closed_to_machine))
    unsprayed = kept_by_hand if closed_to_hand.is_empty else cut(rest, hand)[1]
    return Shares(
        sprayed=(fits, hand),
        treatable=cut(free, unsprayed)[1],
        fits=fits,
        hand=hand,
        by_features=by_features,
        too_narrow=too_narrow,
        barred=barred,
        unsprayed=unsprayed,
    )


def _split(treatable: Area, sprayer: Machine) -> tuple[Area, Area]:
    if sprayer.goes_anywhere or treatable.is_empty:
        return treatable, NOWHERE
    return split_by_swath(treatable, swath_m=sprayer.swath.si)
