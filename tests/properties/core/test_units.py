"""The closed list of units against published factors, and everything it refuses."""

import math
import re
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.errors import Refused
from properties.core.units import (
    BASE,
    PER,
    WORDS,
    Dimension,
    Quantity,
    canonical_unit,
    dimension_of,
    factor_to_si,
    parse_quantity,
    quantity_of_si,
    ureg,
)

# NIST Handbook 44, Appendix C, General Tables of Units of Measurement: exact by definition
# unless digits are given. One of the first unit is so many of the second.
NIST_44_C = [
    ("in", "m", 0.0254),
    ("ft", "m", 0.3048),
    ("yd", "ft", 3),
    ("sq ft", "m2", 0.09290304),
    ("sq yd", "sq ft", 9),
    ("acre", "m2", 4046.8564224),
    ("acre", "sq ft", 43560),
    ("ha", "acre", 2.4710538147),
    ("gal", "L", 3.785411784),
    ("gal", "fl oz", 128),
    ("gal", "qt", 4),
    ("qt", "pt", 2),
    ("pt", "fl oz", 16),
    ("pt", "mL", 473.176473),
    ("fl oz", "mL", 29.5735295625),
    ("imp gal", "L", 4.54609),
    ("imp gal", "gal", 1.2009499255),
    ("lb", "g", 453.59237),
    ("lb", "oz wt", 16),
    ("mph", "m/s", 0.44704),
    ("mph", "ft/s", 88 / 60),
    ("psi", "kPa", 6.894757293),
]
# What a turf table is written in: quotients of the same units.
QUOTIENTS = [
    ("gal/acre", "L/ha", 9.353956229),
    ("gal/1000 sq ft", "gal/acre", 43.56),
    ("lb/1000 sq ft", "kg/ha", 48.8242763638),
    ("fl oz/1000 sq ft", "mL/100 m2", 29.5735295625 / 0.9290304),
    ("fl oz/gal", "fl oz/100 gal", 100),
    ("lb/100 gal", "kg/L", 0.45359237 / 378.5411784),
]
# Bureau International des Poids et Mesures, The International System of Units, 9th edition.
METRIC = [
    ("km", "m", 1000),
    ("cm", "mm", 10),
    ("ha", "m2", 10_000),
    ("L", "mL", 1000),
    ("kg", "g", 1000),
    ("km/h", "m/s", 1 / 3.6),
    ("kn", "km/h", 1.852),
    ("bar", "kPa", 100),
    ("h", "min", 60),
    ("min", "s", 60),
    ("g/m2", "kg/ha", 10),
    ("L/100 m2", "L/ha", 100),
]


@pytest.mark.parametrize(("unit", "other", "count"), [*NIST_44_C, *QUOTIENTS, *METRIC])
def test_a_unit_is_so_many_of_another(unit: str, other: str, count: float) -> None:
    # Published to 10 digits where it is not exact.
    assert Quantity(1, unit).to(other).value == pytest.approx(count, rel=1e-10)
    assert Quantity(count, other).to(unit).value == pytest.approx(1, rel=1e-10)


def test_a_foot_and_an_acre_are_the_international_ones_to_the_last_bit() -> None:
    # The survey foot is 2 ppm longer (85 FR 62698, 5 October 2020).
    assert factor_to_si("ft") == 0.3048
    assert factor_to_si("acre") == 4046.8564224


@pytest.mark.parametrize(
    # NIST Special Publication 811, appendix B.8 and 4.2.1.1: t/°C = (t/°F − 32)/1.8.
    ("fahrenheit", "celsius"),
    [(32, 0), (212, 100), (85, 29.4444444444), (-40, -40), (50, 10), (0, -17.7777777778)],
)
def test_a_temperature_counts_from_the_zero_of_its_scale(fahrenheit: float, celsius: float) -> None:
    assert Quantity(fahrenheit, "deg F").si == pytest.approx(celsius, abs=1e-9)
    assert Quantity(celsius, "deg C").to("deg F").value == pytest.approx(fahrenheit, abs=1e-9)
    assert parse_quantity(f"{celsius} °C") == Quantity(celsius, "deg C")
    assert str(Quantity(celsius, "deg C")) == f"{celsius:.10g} °C"


def test_nine_degree_days_fahrenheit_are_five_celsius() -> None:
    # NIST Special Publication 811, 8.5 and appendix B.8: an interval of 1 °C is one of 1.8 °F.
    assert Quantity(9, "deg F day").to("deg C day").value == pytest.approx(5, rel=1e-12)
    assert parse_quantity("250 °F day").unit == "deg F day"


def test_one_percent_is_a_hundredth_and_a_degree_stays_a_degree() -> None:
    assert (factor_to_si("%"), factor_to_si("deg")) == (0.01, 1)


def test_every_word_of_the_list_measures_what_it_says() -> None:
    for name, word in WORDS.items():
        registered = ureg.Quantity(1, word.registry_name)
        assert registered.check(ureg.Quantity(1, BASE[word.dimension]).dimensionality), name
        assert dimension_of(name) is word.dimension


def test_no_spelling_means_two_units_in_any_case() -> None:
    spelled = [(name, name) for name in WORDS] + [
        (spelling, name) for name, word in WORDS.items() for spelling in word.spellings
    ]
    long = [(spelling.casefold(), name) for spelling, name in spelled if len(spelling) > 2]

    assert len(dict(spelled)) == len(spelled)
    assert len(dict(long)) == len({*long})


@pytest.mark.parametrize(
    ("typed", "canonical"),
    [
        ("fl. oz./1,000 sq. ft.", "fl oz/1000 sq ft"),
        ("FL OZ / 1000 FT2", None),
        ("Gallons", "gal"),
        ("  oz   wt ", "oz wt"),
        ("GAL/acre", "gal/acre"),
        ("l/ha", "L/ha"),
        ("ml/100 m²", "mL/100 m2"),
        ("lb/100 gal", "lb/100 gal"),
        ("fl oz/1 gal", "fl oz/gal"),
        ("% v/v", "%"),
        ("°", "deg"),
        ("US gal", "gal"),
    ],
)
def test_a_unit_has_one_name_however_it_is_typed(typed: str, canonical: str | None) -> None:
    assert canonical_unit(typed) == (canonical or "fl oz/1000 sq ft")


@pytest.mark.parametrize(
    ("typed", "value", "unit"),
    [
        ("0.80 fl oz/1000 sq ft", 0.8, "fl oz/1000 sq ft"),
        (".5 gal", 0.5, "gal"),
        ("1,000 sq ft", 1000, "sq ft"),
        ("12,345,678.5 m2", 12345678.5, "m2"),
        ("-3 ft", -3, "ft"),
        ("+3ft", 3, "ft"),
        ("1e3 m", 1000, "m"),
        ("2.5E-1 L", 0.25, "L"),
        ("0.25%", 0.25, "%"),
        (" 25\u00a0ft ", 25, "ft"),
    ],
)
def test_a_number_and_a_unit_are_a_quantity(typed: str, value: float, unit: str) -> None:
    assert parse_quantity(typed) == Quantity(value, unit)


@given(value=st.floats(allow_nan=False, allow_infinity=False), unit=st.sampled_from(sorted(WORDS)))
def test_a_quantity_written_to_the_last_digit_reads_back_as_itself(value: float, unit: str) -> None:
    quantity = Quantity(value, unit)

    assert parse_quantity(quantity.to_the_last_digit) == quantity


@given(
    value=st.floats(1e-6, 1e6),
    units=st.sampled_from(
        [
            (one, other)
            for one, other in product(sorted(WORDS), repeat=2)
            if dimension_of(one) is dimension_of(other)
        ]
    ),
)
def test_there_and_back_is_the_same_quantity(value: float, units: tuple[str, str]) -> None:
    one, other = units

    assert Quantity(value, one).to(other).to(one).value == pytest.approx(value, rel=1e-14)
    assert Quantity(value, one).to(other).si == pytest.approx(Quantity(value, one).si, rel=1e-14)


def test_a_quantity_of_the_cores_is_said_in_a_unit_of_the_list() -> None:
    assert quantity_of_si(0.3048, "ft") == Quantity(1, "ft")
    assert str(quantity_of_si(1 / 3, "m")) == "0.3333333333 m"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1.5 oz", "a weight or a volume"),
        ("1.5 OZ", "a weight or a volume"),
        ("1.5 ounces", "a weight or a volume"),
        ("0.8 oz/1000 sq ft", "a weight or a volume"),
        ("0,72 gal", "comma where a decimal point belongs"),
        ("1,00 gal", "comma where a decimal point belongs"),
        ("10,00,000 sq ft", "comma where a decimal point belongs"),
        ("25", "25 has no unit"),
        ("  ", "A quantity is missing"),
        ("", "A quantity is missing"),
        ("ft", "does not begin with a number"),
        ("½ gal", "does not begin with a number"),
        ("nan ft", "does not begin with a number"),
        ("inf ft", "does not begin with a number"),
        ("1/2 gal", "not a unit on our list"),
        ("1e999 ft", "too large a number"),
        ("3 furlong", "not a unit on our list"),
        ("3 M", "not a unit on our list"),
        ("3 Gal/sq", "not a unit on our list"),
        ("3 ft/ft", "not a unit on our list"),
        ("3 gal/1000", "not a unit on our list"),
        ("3 /acre", "not a unit on our list"),
        ("3 fl oz/0 gal", "divides by 0"),
        ("3 fl oz/-5 gal", "divides by -5"),
        ("3 fl oz/1e999 gal", "divides by inf"),
        ("3 \ud800", "cannot be shown"),
        ("3 f\x00t", "cannot be shown"),
        ("x" * 10_000, "does not begin with a number"),
        ("1" * 10_000, "has no unit"),
    ],
)
def test_what_could_mean_something_else_is_refused(typed: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_quantity(typed, field="tank")

    assert refused.value.field == "tank"
    assert words in refused.value.problem
    assert refused.value.remedy
    assert len(str(refused.value)) < 300
    str(refused.value).encode()


@pytest.mark.parametrize(
    ("given_", "words"),
    [
        (25, "25 has no unit"),
        (2.5, "2.5 has no unit"),
        pytest.param(10**5000, "This number has no unit", id="five thousand digits"),
        (math.nan, "This number has no unit"),
        (True, "A quantity is missing"),
        (None, "A quantity is missing"),
        (["3 ft"], "A quantity is missing"),
        ({"value": 3, "unit": "ft"}, "A quantity is missing"),
    ],
)
def test_what_is_no_text_is_refused(given_: object, words: str) -> None:
    with pytest.raises(Refused, match=words):
        parse_quantity(given_)


def test_a_quantity_of_another_kind_is_refused_with_an_example_of_the_right_one() -> None:
    with pytest.raises(Refused, match="gal is a volume, not a length") as refused:
        parse_quantity("3 gal", Dimension.LENGTH)

    assert "25 ft" in refused.value.remedy
    assert parse_quantity("3 %", Dimension.LENGTH, Dimension.SHARE) == Quantity(3, "%")


@pytest.mark.parametrize("kind", list(Dimension))
def test_the_example_of_every_kind_is_itself_of_that_kind(kind: Dimension) -> None:
    with pytest.raises(Refused) as refused:
        parse_quantity("", kind)

    example = re.search(r"for example (.+)\.$", refused.value.remedy)
    assert example is not None
    assert parse_quantity(example[1], kind).dimension is kind


def test_a_weight_is_never_read_as_a_volume() -> None:
    for one, other in (("oz wt", "fl oz"), ("lb", "gal"), ("g", "mL"), ("lb/acre", "gal/acre")):
        with pytest.raises(Refused, match="cannot be converted"):
            Quantity(1, one).to(other)


def test_every_quotient_of_the_list_has_a_kind_and_a_factor() -> None:
    for (above, below), kind in PER.items():
        for one, other in product(WORDS, repeat=2):
            if (WORDS[one].dimension, WORDS[other].dimension) == (above, below):
                assert dimension_of(f"{one}/{other}") is kind
                assert factor_to_si(f"{one}/10 {other}") == pytest.approx(
                    factor_to_si(one) / (10 * factor_to_si(other)), rel=1e-12
                )


@given(typed=st.text(max_size=30))
def test_any_text_is_a_quantity_or_is_refused(typed: str) -> None:
    try:
        quantity = parse_quantity(typed)
    except Refused as refused:
        str(refused).encode()
    else:
        assert math.isfinite(quantity.value)
        assert canonical_unit(quantity.unit) == quantity.unit
