"""Reading the weather, and what grows where it is sprayed."""

from planner.core.request.label_facts import TEMPERATURES, WAITS
from planner.core.request.reader import Members
from planner.core.request.wind import WINDS
from planner.core.weather import COMPASS_POINTS, Weather, compass_bearing
from properties.core.errors import Refused
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Dimension, Quantity, parse_quantity

KNOWN_OF_WEATHER = ("wind_speed", "wind_from", "temperature", "temperature_high", "rain_in")


def read_weather(whole: Members) -> Weather | None:
    """Read the air as somebody read it.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]

    Returns
    -------
    Weather or None
        The reading, None where there is none. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    weather = whole.within("weather", KNOWN_OF_WEATHER)
    if weather is None:
        return None
    temperature, high = (
        weather.quantity(name, Dimension.TEMPERATURE, believable=TEMPERATURES)
        for name in ("temperature", "temperature_high")
    )
    return Weather(
        weather.quantity("wind_speed", Dimension.SPEED, believable=WINDS),
        _wind_from(weather),
        temperature=temperature,
        temperature_high=high,
        rain_in=weather.quantity("rain_in", Dimension.TIME, believable=WAITS),
    )


def read_turfgrasses(whole: Members) -> tuple[str, ...]:
    """Read which turfgrasses grow there.

    Parameters
    ----------
    whole : Members
        The members of the request, or of a lawn. [-]

    Returns
    -------
    tuple[str, ...]
        Their words, each once; none where nobody told. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    words = []
    for path, item in whole.items("turfgrasses", most=len(TURFGRASSES), least=0):
        if isinstance(item, str) and item in TURFGRASSES:
            words.append(item)
        else:
            remedy = f"Write any of: {', '.join(TURFGRASSES)}."
            whole.faults.add(path, "This is no turfgrass that is known here.", remedy)
    return tuple(dict.fromkeys(words))


def _wind_from(weather: Members) -> Quantity | None:
    value = weather.values.get("wind_from")
    if not weather.has("wind_from"):
        return None
    if isinstance(value, str) and value.strip().upper() in COMPASS_POINTS:
        return compass_bearing(value.strip().upper())
    return weather.faults.trying(lambda: _bearing(value, weather.path_of("wind_from")))


def _bearing(value: object, path: str) -> Quantity:
    bearing = parse_quantity(value, Dimension.ANGLE, field=path)
    if not 0 <= bearing.si < 360:
        raise Refused(
            path,
            f"{bearing} is not a direction on the compass.",
            "Write 0 deg for north up to 359 deg, or a point such as NNW.",
        )
    return bearing
