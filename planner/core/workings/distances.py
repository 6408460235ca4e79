"""How the distance kept from each feature came about."""

from collections.abc import Iterator, Sequence

from planner.core.ground.distances import KeptFrom
from planner.core.ground.ground import called
from planner.core.shown import Shown, in_unit
from planner.core.workings.terms import explained
from properties.core.setbacks import Claim
from properties.core.working import Figure, Input

DISTANCE_SOURCE = "The strictest of what is asked for; the label and local rules decide."


def distance_figures(kept_from: Sequence[KeptFrom], *, key: str, shown: Shown) -> Iterator[Figure]:
    """Derive the distances kept, all round and on the side the wind comes from.

    Parameters
    ----------
    kept_from : Sequence[KeptFrom]
        The features with what is asked for. [m]
    key : str
        Where the collection of zones stands in the plan. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        A distance that nobody knows has none.

    References
    ----------
    Each derivation names its own.
    """
    for number, kept in enumerate(kept_from):
        where = f"{key}.features[{number}].properties"
        name = called(kept.shape)
        if kept.all_round is not None:
            asked = kept.claims + (kept.downwind_claims if kept.is_all_round else ())
            title = f"Distance kept from {name}"
            yield _strictest(f"{where}.distance", title, asked, kept.all_round, shown)
        if kept.follows_wind and kept.decided_downwind is not None:
            title = f"Distance kept from {name} on the side the wind comes from"
            yield _strictest(
                f"{where}.downwind_distance",
                title,
                kept.downwind_claims,
                kept.decided_downwind,
                shown,
            )


def _strictest(
    key: str, title: str, claims: Sequence[Claim], decided: Claim, shown: Shown
) -> Figure:
    distances = tuple(
        Input(f"distance {number}", in_unit(claim.distance, shown.length))
        for number, claim in enumerate(claims, start=1)
    )
    told = [(each.name, claim.reason) for each, claim in zip(distances, claims, strict=True)]
    names = ", ".join(each.name for each in distances)
    return Figure(
        key,
        explained(title, told),
        f"max({names})" if len(distances) > 1 else names,
        distances,
        in_unit(decided.distance, shown.length),
        DISTANCE_SOURCE,
    )
