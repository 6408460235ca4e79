"""Reading what a label says beside its rates."""

from collections.abc import Collection, Mapping
from enum import StrEnum
from functools import partial
from typing import TypeVar

from planner.core.label.facts import (
    Conditions,
    Droplets,
    Need,
    SignalWord,
    Told,
    Tolerance,
    Use,
    WaterIn,
)
from planner.core.mix.mixing import ADJUVANT_TOKENS
from planner.core.request.rates import RATES
from planner.core.request.reader import Believable, Members
from planner.core.request.wind import WINDS
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Dimension, Quantity

KNOWN_OF_TOLD = (
    *("registration_number", "signal_word", "protection", "mixing_notes"),
    *("finest_droplets", "coarsest_droplets"),
    *("keep_off", "until_dry", "rain_fast", "water_in", "irrigation_hold"),
    *("kills_turf", "version"),
)
KNOWN_OF_CONDITIONS = (
    *("wind_min", "temperature_min", "temperature_max"),
    *("tolerance", "adjuvants", "use", "turf"),
    *("strongest_in_water", "least_in_spray"),
    *("spot_share_max", "spot_rate_over_all"),
)
KNOWN_OF_WATER_IN = ("depth", "within")

TEMPERATURES = Believable(Quantity(-40, "deg C"), Quantity(60, "deg C"))
#: From nothing at all to two years: what a label makes somebody wait.
WAITS = Believable(Quantity(0, "s"), Quantity(731, "day"))
_STRENGTHS = (Dimension.SHARE, Dimension.VOLUME_PER_VOLUME, Dimension.MASS_PER_VOLUME)
SHARES = Believable(Quantity(0.01, "%"), Quantity(100, "%"))
WATER_DEPTHS = Believable(Quantity(0.1, "mm"), Quantity(8, "cm"))

Word = TypeVar("Word", bound=StrEnum)


def read_told(label: Members) -> Told:
    """Read what is told as it was copied.

    Parameters
    ----------
    label : Members
        The members of the label. [-]

    Returns
    -------
    Told
        What was copied. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md. The drop-size classes are those of ASABE S572.
    """
    wait = partial(_wait, label)
    finest, coarsest = (_word(label, f"{end}_droplets", Droplets) for end in ("finest", "coarsest"))
    classes = list(Droplets)
    if finest and coarsest and classes.index(finest) > classes.index(coarsest):
        label.faults.add(
            label.path_of("finest_droplets"),
            f"{finest} drops are coarser than {coarsest} ones.",
            "Copy the finest and the coarsest class that the label allows again.",
        )
    return Told(
        registration_number=label.name("registration_number"),
        signal_word=_word(label, "signal_word", SignalWord),
        protection=label.name("protection"),
        finest_droplets=finest,
        coarsest_droplets=coarsest,
        keep_off=wait("keep_off"),
        until_dry=label.flag("until_dry"),
        rain_fast=wait("rain_fast"),
        water_in=_water_in(label),
        irrigation_hold=wait("irrigation_hold"),
        mixing_notes=label.name("mixing_notes"),
        kills_turf=label.flag("kills_turf"),
        version=label.whole("version", least=1, most=1_000_000),
    )


def read_conditions(label: Members, *, wind_max: Quantity | None) -> Conditions:
    """Read what must be so before anything is sprayed.

    Parameters
    ----------
    label : Members
        The members of the label. [-]
    wind_max : Quantity or None
        The most wind that the label allows, if it was copied and could be read. [m/s]

    Returns
    -------
    Conditions
        What was copied. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    coldest, hottest = (
        label.quantity(f"temperature_{end}", Dimension.TEMPERATURE, believable=TEMPERATURES)
        for end in ("min", "max")
    )
    wind_min = label.quantity("wind_min", Dimension.SPEED, believable=WINDS)
    _check_ends(label, "temperature_min", coldest, hottest)
    _check_ends(label, "wind_min", wind_min, wind_max)
    return Conditions(
        wind_min=wind_min,
        temperature_min=coldest,
        temperature_max=hottest,
        tolerance=_words_by_name(label, "tolerance", TURFGRASSES, Tolerance),
        adjuvants=_words_by_name(label, "adjuvants", ADJUVANT_TOKENS, Need),
        use=_word(label, "use", Use) or Use.BROADCAST,
        turf=label.choice("turf", tuple(TURFGRASSES)),
        strongest_in_water=_strength(label, "strongest_in_water"),
        least_in_spray=_strength(label, "least_in_spray"),
        spot_share_max=label.quantity("spot_share_max", Dimension.SHARE, believable=SHARES),
        spot_rate_over_all=label.flag("spot_rate_over_all"),
    )


def _strength(label: Members, name: str) -> Quantity | None:
    told = label.quantity(name, *_STRENGTHS)
    if told is None:
        return None
    path = label.path_of(name)
    return label.faults.trying(lambda: RATES[told.dimension].check(told, field=path))


def _check_ends(
    label: Members, name: str, lowest: Quantity | None, highest: Quantity | None
) -> None:
    if lowest is not None and highest is not None and lowest.si > highest.si:
        label.faults.add(
            label.path_of(name),
            f"{lowest} is more than {highest}, the label’s highest.",
            "Copy both again: the first must be the smaller.",
        )


def _word(members: Members, name: str, words: type[Word]) -> Word | None:
    word = members.choice(name, tuple(words))
    return None if word is None else words(word)


def _wait(label: Members, name: str) -> Quantity | None:
    return label.quantity(name, Dimension.TIME, believable=WAITS)


def _water_in(label: Members) -> WaterIn | None:
    inner = label.within("water_in", KNOWN_OF_WATER_IN)
    if inner is None:
        return None
    if not inner.values:
        remedy = f"Give at least one of: {', '.join(KNOWN_OF_WATER_IN)}."
        label.faults.add(inner.path, "Nothing is told here.", remedy)
    depth = inner.quantity("depth", Dimension.LENGTH, believable=WATER_DEPTHS)
    return WaterIn(depth, _wait(inner, "within"))


def _words_by_name(
    label: Members, name: str, known: Collection[str], words: type[Word]
) -> Mapping[str, Word]:
    inner = label.within(name, known)
    if inner is None:
        return {}
    read = {key: _word(inner, key, words) for key in inner.values if key in known}
    return {key: word for key, word in read.items() if word is not None}
