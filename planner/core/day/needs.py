"""Which stretches a route is split into, each one load. Areas in m², outputs in L/m²."""

from collections.abc import Sequence

from planner.core.day.filling import Need, ground_of_stops
from planner.core.day.ground import RouteStop
from planner.core.day.limits import TankLimits
from planner.core.day.splitting import fewest_loads
from planner.core.route import ReloadPoint, Route


def reloads_before(route: Route) -> dict[int, ReloadPoint]:
    """Find where the tank may be filled.

    Parameters
    ----------
    route : Route
        The route. [-]

    Returns
    -------
    dict of int to ReloadPoint
        The lawns before which it may, counted from 0, each with the place. [-]

    Raises
    ------
    Nothing
        A route without a reload point has none.

    References
    ----------
    Our own rule: of several at one place the first is used.
    """
    permitted = [(stop, point) for stop, point in route.reload_points if not point.why_not]
    return dict(reversed(permitted))


def needs_of(
    route: Route,
    stops: Sequence[RouteStop],
    *,
    output_l_per_m2: float,
    limits: TankLimits,
    after: int = 0,
    first: int = 0,
) -> tuple[Need, ...]:
    """Split what is left of a route into stretches, each one load.

    Parameters
    ----------
    route : Route
        The route. [-]
    stops : Sequence[RouteStop]
        The lawns. [m²]
    output_l_per_m2 : float
        What the machine puts down, > 0. [L/m²]
    limits : TankLimits
        What the tank holds. [L]
    after : int
        How many loads are done. [-]
    first : int
        The first lawn that is not, counted from 0. [-]

    Returns
    -------
    tuple[Need, ...]
        The stretches in order; none where one does not fit, a lawn has no ground, or
        nothing is left to spray. [m²]

    Raises
    ------
    Nothing
        What does not fit is left empty.

    References
    ----------
    See ``fewest_loads``.
    """
    areas_m2 = [stop.area_m2 for stop in stops]
    if not all(stop.has_ground for stop in stops) or not any(areas_m2[first:]):
        return ()
    points = reloads_before(route)
    stretches = fewest_loads(
        [area_m2 * output_l_per_m2 for area_m2 in areas_m2[first:]],
        reload_before=[stop - first for stop in points],
        most=limits.most_l,
    )
    return tuple(
        Need(
            number,
            (first + begin, first + end),
            points.get(first + begin),
            ground_of_stops(areas_m2, (first + begin, first + end)),
            output_l_per_m2,
            _caps(stops[first + begin : first + end]),
        )
        for number, (begin, end) in enumerate(stretches or (), start=after + 1)
    )


def _caps(stops: Sequence[RouteStop]) -> dict[str, float]:
    """The highest rates that every one of some lawns may still get."""
    caps: dict[str, float] = {}
    for name, cap in (told for stop in stops for told in stop.caps.items()):
        caps[name] = min(cap, caps.get(name, cap))
    return caps
