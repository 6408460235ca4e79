"""What is found about the ground of a plan: defaults, unknown distances, strips, nothing left."""

from collections.abc import Iterator

from planner.core.distances import KeptFrom
from planner.core.findings import Finding, Findings
from planner.core.ground import Ground, called
from planner.core.shown import Shown, listed, said
from properties.core.features import Role
from properties.core.outlines import Shape

#: A strip smaller than this is not worth a second tool.
HAND_AREA_TOLD_M2 = 1.0
#: Ground smaller than a hand is left over from drawing, not turf.
NOTHING_M2 = 0.01


def ground_findings(ground: Ground, *, shown: Shown) -> Findings:
    """Say what is uncertain or missing about the ground.

    Parameters
    ----------
    ground : Ground
        The areas of a plan. [m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Warnings, and a refusal where a distance is unknown or nothing is left. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own rules: unknown is not zero; a default is told as one.
    """
    warnings = [_default(kept, shown) for kept in ground.kept_from if kept.by_default]
    warnings += [
        _example(kept, claim.reason)
        for kept in ground.kept_from
        for claim in kept.deciding
        if claim.example
    ]
    all_round = [kept for kept in ground.kept_from if kept.is_all_round]
    if all_round:
        warnings.append(_all_round(all_round))
    if ground.hand_area_m2 > HAND_AREA_TOLD_M2:
        warnings.append(_hand_area(ground, shown))
    refusals = [_unknown(kept) for kept in ground.kept_from if kept.decided is None]
    if ground.treatment.treatable_area_m2 < NOTHING_M2:
        refusals.append(_nothing(ground))
    return Findings(tuple(warnings), tuple(refusals))


def _default(kept: KeptFrom, shown: Shown) -> Finding:
    message = "".join(
        f"{called(kept.shape)}: {said(claim.distance.to(shown.length))} is kept because nothing "
        "else gives a distance. "
        f"It is a default, not a rule: {claim.reason}. Check it against the label and your "
        "local rules, or set a distance on the feature."
        for claim in kept.claims
    )
    return Finding("setback_default", message, feature=kept.shape.ref)


def _example(kept: KeptFrom, reason: str) -> Finding:
    message = (
        f"{called(kept.shape)}: the distance comes from an example, not from a rule that anybody "
        f"has checked ({reason}). Check locally, then enter your own."
    )
    return Finding("setback_example", message, feature=kept.shape.ref)


def _all_round(kept: list[KeptFrom]) -> Finding:
    message = (
        "Nobody says where the wind comes from, so the downwind distance is kept on all sides of "
        f"{listed([called(each.shape) for each in kept])}. Read the wind on the site and plan "
        "again: more ground may be open."
    )
    return Finding("wind_unknown_all_round", message)


def _unknown(kept: KeptFrom) -> Finding:
    message = (
        f"{called(kept.shape)}: nobody says which distance to keep from it, and unknown is not "
        "zero. Set a distance on the feature, or copy the one from the label or your local rules."
    )
    return Finding("setback_unknown", message, feature=kept.shape.ref)


def _hand_area(ground: Ground, shown: Shown) -> Finding:
    message = (
        f"{said(shown.area_of(ground.hand_area_m2))} are too narrow for this machine’s swath. "
        "The amounts of this plan include them at this machine’s output. If a hand tool does "
        "them, it has its own output and needs its own mix."
    )
    return Finding("hand_area", message)


def _nothing(ground: Ground) -> Finding:
    took = listed([called(shape) for shape in _takers(ground)])
    message = (
        f"No ground is left to spray: it is taken by {took}. Check the outlines and the "
        "distances, or leave this place out."
    )
    return Finding("nothing_treatable", message)


def _takers(ground: Ground) -> Iterator[Shape]:
    kept = {each.shape.ref for each in ground.kept_from}
    for shape in ground.drawing.shapes:
        if shape.ref in kept or shape.kind.role is Role.OBSTACLE:
            yield shape
