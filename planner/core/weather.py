"""The wind as it was told, and what it stops. Speeds in m/s, directions in degrees.

Where a downwind distance is asked for, the no-spray ground follows the wind by a rule
of caution. It is no forecast of drift.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from planner.core.findings import Finding, Findings
from planner.core.mix.products import Product
from properties.core.units import Quantity

STILL_AIR = Quantity(3, "mph")
USUAL_HALF_ANGLE = Quantity(45.0, "deg")

COMPASS_POINTS = (
    *("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE"),
    *("S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"),
)


@dataclass(frozen=True)
class Weather:
    """The air as somebody read it. ``wind_from`` is the direction that the wind comes from.

    ``temperature_high`` is the most that is expected before the work is done, ``rain_in``
    how long it will stay dry.
    """

    wind_speed: Quantity | None = None
    wind_from: Quantity | None = None
    temperature: Quantity | None = None
    temperature_high: Quantity | None = None
    rain_in: Quantity | None = None


@dataclass(frozen=True)
class WindRule:
    """What a firm goes by in the wind, beside the labels.

    ``half_angle`` and ``judged`` say which ground is upwind of a feature, see
    ``Downwind``; over ``hold_above`` nothing is sprayed, below ``calm_below`` the air
    is too still.
    """

    half_angle: Quantity = USUAL_HALF_ANGLE
    judged: Literal["sector", "facing"] = "sector"
    hold_above: Quantity | None = None
    calm_below: Quantity = STILL_AIR
    source: str = "the firm’s rule for the wind"


USUAL_RULE = WindRule()

#: Said once in every plan.
NOTE = (
    "A distance kept downwind is a rule of caution, not a forecast of where spray drifts. Read "
    "the wind where you stand; when it turns or freshens, stop and plan again."
)

#: Findings that stop all spraying, whatever the ground.
HOLDS = ("wind_over_label", "wind_over_firm")


def compass_bearing(point: str) -> Quantity:
    """Turn one of the sixteen points of the compass into a bearing.

    Parameters
    ----------
    point : str
        One of ``COMPASS_POINTS``. [-]

    Returns
    -------
    Quantity
        The bearing, clockwise from north. [deg]

    Raises
    ------
    ValueError
        If it is none of the sixteen.

    References
    ----------
    Common practice: sixteen points, 22.5 degrees apart.
    """
    return Quantity(360 / len(COMPASS_POINTS) * COMPASS_POINTS.index(point), "deg")


def weather_findings(
    weather: Weather | None,
    products: Iterable[Product],
    *,
    rule: WindRule = USUAL_RULE,
    in_shape: bool = False,
) -> Findings:
    """Compare the wind with what the labels and the firm allow.

    Parameters
    ----------
    weather : Weather or None
        The reading, None where nobody gave one. [m/s, degrees]
    products : Iterable[Product]
        The products of the mix. [-]
    rule : WindRule
        What the firm goes by. [m/s, degrees]
    in_shape : bool
        Whether any distance asked for depends on the wind. [-]

    Returns
    -------
    Findings
        A refusal where the wind is over a limit, warnings otherwise. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Very still air can mean an inversion, in which spray hangs and travels:
    North Dakota State University Extension, AE1705, Air Temperature Inversions.
    Wait for 3 mph: common practice.
    """
    products = tuple(products)
    limited = [product for product in products if product.label.wind_max is not None]
    speed = None if weather is None else weather.wind_speed
    if speed is None:
        asking = [product for product in products if product not in limited]
        unknown = (*map(_unknown, limited), *chain(*map(_least_unknown, asking)))
        limits = Findings((*unknown, *_unknown_to_firm(rule)))
    else:
        over = [product for product in limited if _is_over(speed, product.label.wind_max)]
        labels = Findings(
            refusals=(
                *(_over(speed, product) for product in over),
                *(_under(speed, product) for product in products if _is_under(speed, product)),
            )
        )
        limits = labels + _over_firm(speed, rule)
    if weather is None:
        return limits
    shape = () if in_shape else (_NOT_IN_SHAPE,)
    return Findings((*shape, *_still(speed, rule))) + limits


_NOT_IN_SHAPE = Finding(
    "wind_not_in_shape",
    "The wind does not change the no-spray ground: its distances are kept on all sides. "
    "Before you spray, check the wind limits of the label and of your firm.",
)


def _still(speed: Quantity | None, rule: WindRule) -> tuple[Finding, ...]:
    if speed is None or speed.si >= rule.calm_below.si:
        return ()
    message = (
        f"Very still air ({speed}): under a clear sky near sunrise or sunset, spray can hang and "
        f"travel far. Wait for {rule.calm_below} of steady wind, and read the label on inversions."
    )
    return (Finding("wind_calm", message),)


def _unknown(product: Product) -> Finding:
    message = (
        f"{product.name}: the label allows {product.label.wind_max} of wind at most, and no wind "
        "was measured. Measure it on the site before you spray."
    )
    return Finding("wind_unknown", message, product=product.name)


def _least_unknown(product: Product) -> Iterator[Finding]:
    least = product.label.conditions.wind_min
    if least is not None:
        message = (
            f"{product.name}: the label asks for {least} of wind at least, and no wind was "
            "measured. Measure it on the site before you spray."
        )
        yield Finding("wind_unknown", message, product=product.name)


def _unknown_to_firm(rule: WindRule) -> tuple[Finding, ...]:
    if rule.hold_above is None:
        return ()
    message = (
        f"Above {rule.hold_above} of wind nothing is sprayed ({rule.source}), and no wind was "
        "measured. Measure it on the site before you spray."
    )
    return (Finding("wind_unknown", message),)


def _is_over(speed: Quantity, limit: Quantity | None) -> bool:
    return limit is not None and speed.si > limit.si


def _over(speed: Quantity, product: Product) -> Finding:
    message = (
        f"{product.name}: the wind is {speed} and the label allows {product.label.wind_max} "
        "at most. Do not spray now. Measure again when the wind has dropped."
    )
    return Finding("wind_over_label", message, product=product.name)


def _is_under(speed: Quantity, product: Product) -> bool:
    lowest = product.label.conditions.wind_min
    return lowest is not None and speed.si < lowest.si


def _under(speed: Quantity, product: Product) -> Finding:
    lowest = product.label.conditions.wind_min
    message = (
        f"{product.name}: the wind is {speed} and the label asks for {lowest} at least. In such "
        "still air spray can hang and travel. Measure again when the wind is steady."
    )
    return Finding("wind_under_label", message, product=product.name)


def _over_firm(speed: Quantity, rule: WindRule) -> Findings:
    if not _is_over(speed, rule.hold_above):
        return Findings()
    message = (
        f"Hold: the wind is {speed}, and above {rule.hold_above} nothing is sprayed "
        f"({rule.source}). Measure again when the wind has dropped."
    )
    return Findings(refusals=(Finding("wind_over_firm", message),))
