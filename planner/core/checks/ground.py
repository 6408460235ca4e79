"""What is found about the ground of a plan: defaults, unknown distances, strips, nothing left."""

from collections.abc import Iterator, Sequence

from planner.core.findings import Finding, Findings, told_by_tool
from planner.core.ground.accounting import why_barred, why_spared
from planner.core.ground.distances import KeptFrom
from planner.core.ground.ground import Ground, ToolGround, called
from planner.core.shown import Shown, listed, said
from properties.core.features import Role
from properties.core.outlines import Shape

#: A strip smaller than this is not worth a second tool.
STRIP_TOLD_M2 = 1.0
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
    found = told_by_tool([(each.tool, _of_tool(each, shown)) for each in ground.tools])
    return found + Findings(tuple(_left(ground, shown)), tuple(_nothing_left(ground)))


def _of_tool(each: ToolGround, shown: Shown) -> Findings:
    kept_from = each.kept_from
    warnings = [_default(kept, shown) for kept in kept_from if kept.by_default]
    warnings += [
        _example(kept, claim.reason)
        for kept in kept_from
        for claim in kept.deciding
        if claim.example
    ]
    all_round = [kept for kept in kept_from if kept.is_all_round]
    if all_round:
        warnings.append(_all_round(all_round))
    if each.unchecked_gates:
        warnings.append(_gates(each.unchecked_gates))
    refusals = [_unknown(kept) for kept in kept_from if kept.decided is None]
    return Findings(tuple(warnings), tuple(refusals))


def _left(ground: Ground, shown: Shown) -> Iterator[Finding]:
    """What is left to nobody, or to a tool that does not fit."""
    if len(ground.tools) == 1 and ground.hand_area_m2 > STRIP_TOLD_M2:
        yield _hand_area(ground, shown)
    if ground.too_narrow_m2 > STRIP_TOLD_M2:
        yield _no_tool(ground, shown)
    if ground.spared_m2 > NOTHING_M2:
        yield _spared(ground, shown)
    if ground.barred_m2 > NOTHING_M2:
        yield _barred(ground, shown)


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
    other = (
        "What it throws beside them is swept back onto the turf; or use a drop spreader there."
        if shown.spreads
        else "If a hand tool does them, it has its own output and needs its own mix."
    )
    message = (
        f"{said(shown.area_of(ground.hand_area_m2))} are too narrow for this machine’s swath. "
        f"The amounts of this plan include them at this machine’s output. {other}"
    )
    return Finding("hand_area", message)


def _no_tool(ground: Ground, shown: Shown) -> Finding:
    message = (
        f"{said(shown.area_of(ground.too_narrow_m2))} are sprayed with no tool: they are too "
        "narrow for the machine’s swath, and the hand tool keeps farther away."
    )
    return Finding("no_tool_fits", message)


def _barred(ground: Ground, shown: Shown) -> Finding:
    message = (
        f"{said(shown.area_of(ground.barred_m2))} are left out, as no tool of this plan may work "
        f"there: {why_barred(ground)}. Plan it with a tool that fits."
    )
    return Finding("turf_barred", message)


def _spared(ground: Ground, shown: Shown) -> Finding:
    message = (
        f"{said(shown.area_of(ground.spared_m2))} are left out, as this mix is not for the turf "
        f"there: {why_spared(ground)}. Mark its edge before you spray, and treat it with another "
        "product."
    )
    return Finding("turf_spared", message)


def _gates(gated: Sequence[Shape]) -> Finding:
    gates = listed([f"{called(shape)}, {shape.gate}" for shape in gated])
    message = (
        f"Nobody says how wide the machine is, so nobody has checked that it passes the gate: "
        f"{gates}. Measure it, and add its width."
    )
    return Finding("gate_unchecked", message)


def _nothing_left(ground: Ground) -> Iterator[Finding]:
    if ground.treatment.treatable_area_m2 >= NOTHING_M2 or ground.closed_area_m2 > NOTHING_M2:
        return
    took = [called(shape) for shape in _takers(ground)]
    causes = [*took, *filter(None, (why_spared(ground), why_barred(ground)))]
    by = f": it is taken by {listed(causes)}" if causes else ""
    message = (
        f"No ground is left to spray{by}. Check the outlines and the distances, or leave this "
        "place out."
    )
    yield Finding("nothing_treatable", message)


def _takers(ground: Ground) -> Iterator[Shape]:
    """What keeps turf unsprayed, or stands on it."""
    took_m2 = {left.ref: left.area_m2 for left in ground.treatment.left_out}
    obstacles = ground.drawing.of_role(Role.OBSTACLE)
    for shape, under_m2 in zip(obstacles, ground.under_obstacles_m2, strict=True):
        took_m2[shape.ref] = took_m2.get(shape.ref, 0.0) + under_m2
    for shape in ground.drawing.shapes:
        if took_m2.get(shape.ref, 0.0) > NOTHING_M2:
            yield shape
