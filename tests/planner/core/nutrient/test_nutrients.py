"""What a fertilizer holds, against published bags and rates."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.nutrient.nutrients import (
    K_IN_K2O,
    P_IN_P2O5,
    Fertilizer,
    Grade,
    Nutrient,
    added_nutrients,
    nutrient_rate,
    product_rate_for,
)
from planner.core.request.fertilizer import parse_grade
from properties.core.units import Quantity, parse_quantity
from tests.planner.core.published import rows_of

percents = st.integers(0, 330).map(lambda tenths: tenths / 10)
grades = st.builds(Grade, percents, percents, percents)
rates = st.floats(min_value=1e-5, max_value=1)


@pytest.mark.parametrize("row", rows_of("fertilizer.csv"), ids=lambda row: row["case"])
def test_a_nutrient_takes_the_product_that_is_published(row: dict[str, str]) -> None:
    published = parse_quantity(row["rate"])

    rate = product_rate_for(
        target=parse_quantity(row["target"]).si,
        fertilizer=Fertilizer(parse_grade(row["grade"])),
        nutrient=Nutrient(row["nutrient"]),
    )

    assert rate is not None
    in_unit = rate / Quantity(1, published.unit).si
    assert in_unit == pytest.approx(published.value, abs=float(row["tolerance"]))


# Cornell Cooperative Extension of Suffolk County, Another Set of Calculations for Fertilizer
# Applications: a 30 lb bag of 24-2-8. University of Minnesota Extension, SULIS, Getting What
# You Paid For, tables 7.2 to 7.4: a 60 lb bag of 30-4-4, with P and K to a tenth of a pound
# by the factors 0.44 and 0.83.
@pytest.mark.parametrize(
    ("bag_lb", "grade", "nutrient", "pounds", "tolerance"),
    [
        (30, "24-2-8", Nutrient.N, 7.2, 1e-9),
        (30, "24-2-8", Nutrient.P2O5, 0.6, 1e-9),
        (30, "24-2-8", Nutrient.K2O, 2.4, 1e-9),
        (60, "30-4-4", Nutrient.N, 18, 1e-9),
        (60, "30-4-4", Nutrient.P2O5, 2.4, 1e-9),
        (60, "30-4-4", Nutrient.P, 1.1, 0.06),
        (60, "30-4-4", Nutrient.K, 2.0, 0.05),
    ],
)
def test_a_bag_holds_what_is_published(
    bag_lb: float, grade: str, nutrient: Nutrient, pounds: float, tolerance: float
) -> None:
    share = Fertilizer(parse_grade(grade)).share_of(nutrient)

    assert share is not None
    assert bag_lb * share == pytest.approx(pounds, abs=tolerance)


def test_oxides_weigh_what_their_atoms_weigh() -> None:
    # Standard atomic weights, five digits (IUPAC 2021): P 30.974, K 39.098, O 15.999. The
    # University of Minnesota Extension (SULIS, tables 7.2 to 7.4) prints 0.44 and 0.83.
    assert pytest.approx(61.948 / 141.943) == P_IN_P2O5
    assert pytest.approx(78.196 / 94.195) == K_IN_K2O
    assert (round(P_IN_P2O5, 2), round(K_IN_K2O, 2)) == (0.44, 0.83)


# M. Woods, Calculating how much of an element is applied in a liquid fertilizer, 19 March
# 2015, after Virginia Tech 424-035: 6 fl oz at 10.68 lb/gal are half a pound, 4 % of that N.
def test_a_liquid_holds_what_is_published() -> None:
    ounces, pounds_per_gal = Quantity(6, "fl oz/1000 sq ft"), Quantity(10.68, "lb/gal")

    n = nutrient_rate(
        product_rate=ounces.si * pounds_per_gal.si,
        fertilizer=Fertilizer(parse_grade("4-0-0")),
        nutrient=Nutrient.N,
    )

    assert n is not None
    assert n / Quantity(1, "lb/1000 sq ft").si == pytest.approx(0.02, abs=0.005)


def test_slow_nitrogen_is_not_soluble() -> None:
    feed = Fertilizer(parse_grade("18-3-9"), slow_release=Quantity(40, "%"))

    assert feed.share_of(Nutrient.SOLUBLE_N) == pytest.approx(0.108)


def test_soluble_nitrogen_is_unknown_where_nobody_copied_the_slow_share() -> None:
    unknown, none = (Fertilizer(parse_grade(grade)) for grade in ("18-3-9", "0-0-22"))

    assert unknown.share_of(Nutrient.SOLUBLE_N) is None
    assert none.share_of(Nutrient.SOLUBLE_N) == 0
    added = added_nutrients([(0.02, unknown), (0.01, none)])
    assert added[Nutrient.SOLUBLE_N] is None
    assert added[Nutrient.N] == pytest.approx(0.0036)


def test_what_a_product_does_not_hold_has_no_rate() -> None:
    potash = Fertilizer(parse_grade("0-0-22"))

    assert product_rate_for(target=0.005, fertilizer=potash, nutrient=Nutrient.N) is None


@given(grade=grades, target=rates, nutrient=st.sampled_from(list(Nutrient)))
def test_the_nutrient_put_in_is_the_nutrient_put_down(
    grade: Grade, target: float, nutrient: Nutrient
) -> None:
    fertilizer = Fertilizer(grade, slow_release=Quantity(25, "%"))

    product = product_rate_for(target=target, fertilizer=fertilizer, nutrient=nutrient)

    if product is None:
        assert fertilizer.share_of(nutrient) == 0
    else:
        down = nutrient_rate(product_rate=product, fertilizer=fertilizer, nutrient=nutrient)
        assert down == pytest.approx(target, rel=1e-12)


@given(parts=st.lists(st.tuples(rates, grades), max_size=4))
def test_nutrients_of_a_mix_are_never_more_than_its_weight(
    parts: list[tuple[float, Grade]],
) -> None:
    added = added_nutrients([(rate, Fertilizer(grade)) for rate, grade in parts])

    whole = sum(added[nutrient] or 0 for nutrient in (Nutrient.N, Nutrient.P2O5, Nutrient.K2O))
    assert whole <= sum(rate for rate, _ in parts) * (1 + 1e-9)
