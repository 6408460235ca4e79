"""The wind as it was told, and what it stops. Speeds in m/s, directions in degrees.

The shape of the no-spray ground does not follow the wind: distances are kept on
all sides.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from planner.core.findings import Finding, Findings
from planner.core.products import Product
from properties.core.units import Quantity

STILL_AIR = Quantity(3, "mph")

COMPASS_POINTS = (
    *("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE"),
    *("S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"),
)


@dataclass(frozen=True)
class Weather:
    """A wind reading. ``wind_from`` is the direction that the wind comes from."""

    wind_speed: Quantity | None = None
    wind_from: Quantity | None = None


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


def weather_findings(weather: Weather | None, products: Iterable[Product]) -> Findings:
    """Compare the wind with what the labels allow.

    Parameters
    ----------
    weather : Weather or None
        The reading, None where nobody gave one. [m/s, degrees]
    products : Iterable[Product]
        The products of the mix. [-]

    Returns
    -------
    Findings
        A refusal where the wind is over a label's limit, warnings otherwise. [-]

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
    limited = [product for product in products if product.label.wind_max is not None]
    speed = None if weather is None else weather.wind_speed
    if speed is None:
        limits = Findings(tuple(map(_unknown, limited)))
    else:
        over = [product for product in limited if _is_over(speed, product)]
        limits = Findings(refusals=tuple(_over(speed, product) for product in over))
    if weather is None:
        return limits
    return Findings((_NOT_IN_SHAPE, *_still(speed))) + limits


_NOT_IN_SHAPE = Finding(
    "wind_not_in_shape",
    "The wind does not change the no-spray ground: its distances are kept on all sides. "
    "Before you spray, check the wind limits of the label and of your firm.",
)


def _still(speed: Quantity | None) -> tuple[Finding, ...]:
    if speed is None or speed.si >= STILL_AIR.si:
        return ()
    message = (
        f"Very still air ({speed}): under a clear sky near sunrise or sunset, spray can hang and "
        f"travel far. Wait for {STILL_AIR} of steady wind, and read the label on inversions."
    )
    return (Finding("wind_calm", message),)


def _unknown(product: Product) -> Finding:
    message = (
        f"{product.name}: the label allows {product.label.wind_max} of wind at most, and no wind "
        "was measured. Measure it on the site before you spray."
    )
    return Finding("wind_unknown", message, product=product.name)


def _is_over(speed: Quantity, product: Product) -> bool:
    limit = product.label.wind_max
    return limit is not None and speed.si > limit.si


def _over(speed: Quantity, product: Product) -> Finding:
    message = (
        f"{product.name}: the wind is {speed} and the label allows {product.label.wind_max} "
        "at most. Do not spray now. Measure again when the wind has dropped."
    )
    return Finding("wind_over_label", message, product=product.name)
