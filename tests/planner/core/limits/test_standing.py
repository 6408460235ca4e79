"""Where one piece of ground stands against one limit on a day."""

import random
from datetime import date, timedelta

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.labels import Label, Limits
from planner.core.label.limits import (
    ActiveIngredient,
    MonthDay,
    SeedingWait,
    UseLimits,
    Year,
    YearKind,
)
from planner.core.label.substances import Content, kg_per_amount
from planner.core.limits import Ceiling, Why, ceilings_of, standing_of
from planner.core.limits.calendar import (
    blackout_closures,
    first_open_day,
    holds,
    seed_closures,
)
from planner.core.limits.standing import Closure
from planner.core.mix.products import Product
from planner.core.nutrient.nutrients import Fertilizer, Grade
from planner.core.past import Blackout, PastApplication, Seeding
from properties.core.units import Quantity

UNIT = "fl oz/1000 sq ft"
HERE = shapely.box(0, 0, 1, 1)
JULY_6 = date(2026, 7, 6)

LIMITS = UseLimits(per_year=Quantity(3.4, UNIT), interval_days=30)


def product(
    limits: UseLimits = LIMITS, *, lowest: float | None = 0.8, name: str = "W-4"
) -> Product:
    rate = Limits(None if lowest is None else Quantity(lowest, UNIT), Quantity(1.5, UNIT))
    return Product(name, Quantity(1.2, UNIT), Label(rate, limits=limits))


def ceiling(limits: UseLimits = LIMITS, *, lowest: float | None = 0.8) -> Ceiling:
    (only,) = ceilings_of([product(limits, lowest=lowest)])
    return only


def had(*days: date, rate: float = 1.2, name: str = "w-4") -> list[PastApplication]:
    return [PastApplication(f"{name} {day}", day, name, Quantity(rate, UNIT), HERE) for day in days]


def rate_of(si: float | None) -> float:
    assert si is not None
    return si / Quantity(1, UNIT).si


def whys(*closures: Closure) -> list[Why]:
    return [closure.why for closure in closures]


def test_ground_may_get_again_what_it_has_not_had() -> None:
    standing = standing_of(ceiling(), had(date(2026, 4, 10), date(2026, 5, 20)), on=JULY_6)

    assert rate_of(standing.received) == pytest.approx(2.4)
    assert rate_of(standing.room) == pytest.approx(1.0)
    assert (standing.uses, standing.last_on) == (2, date(2026, 5, 20))
    assert standing.closures == ()


def test_ground_that_has_had_nothing_has_all_its_room() -> None:
    standing = standing_of(ceiling(), [], on=JULY_6)

    assert (standing.received, standing.uses, standing.last_on) == (0, 0, None)
    assert rate_of(standing.room) == pytest.approx(3.4)


@pytest.mark.parametrize(("days", "closed"), [(0, True), (29, True), (30, False), (31, False)])
def test_the_day_of_an_application_is_day_0_of_the_interval(days: int, closed: bool) -> None:
    day = date(2026, 6, 8)

    standing = standing_of(ceiling(), had(day), on=day + timedelta(days=days))

    assert whys(*standing.closures) == ([Why.INTERVAL] if closed else [])
    if closed:
        assert standing.closures[0].open_again_on == date(2026, 7, 8)


def test_the_interval_counts_from_last_year_too() -> None:
    standing = standing_of(ceiling(), had(date(2025, 12, 20)), on=date(2026, 1, 5))

    assert standing.uses == 0
    assert rate_of(standing.room) == pytest.approx(3.4)
    assert whys(*standing.closures) == [Why.INTERVAL]


def test_an_interval_of_no_days_closes_nothing() -> None:
    limits = UseLimits(interval_days=0)

    assert standing_of(ceiling(limits), had(JULY_6), on=JULY_6).closures == ()


def test_an_application_of_the_next_day_does_not_count() -> None:
    standing = standing_of(ceiling(), had(JULY_6 + timedelta(days=1)), on=JULY_6)

    assert (standing.uses, standing.last_on, standing.closures) == (0, None, ())


def test_room_below_the_lowest_rate_closes_the_ground_for_the_year() -> None:
    standing = standing_of(ceiling(), had(date(2026, 1, 2), date(2026, 3, 1), rate=1.4), on=JULY_6)

    (closure,) = standing.closures
    assert (closure.why, closure.open_again_on) == (Why.FULL, date(2027, 1, 1))
    assert "less than its lowest rate" in closure.reason


def test_room_of_exactly_the_lowest_rate_is_enough() -> None:
    standing = standing_of(ceiling(), had(date(2026, 1, 2), date(2026, 3, 1), rate=1.3), on=JULY_6)

    assert standing.closures == ()


def test_without_a_lowest_rate_any_room_is_enough_and_none_is_not() -> None:
    limit = ceiling(lowest=None)

    assert standing_of(limit, had(date(2026, 1, 2), rate=3.39), on=JULY_6).closures == ()
    (closure,) = standing_of(limit, had(date(2026, 1, 2), rate=3.4), on=JULY_6).closures
    assert closure.reason.endswith("nothing is left")


def test_more_than_the_limit_leaves_no_less_than_nothing() -> None:
    standing = standing_of(ceiling(), had(date(2026, 1, 2), rate=5), on=JULY_6)

    assert standing.room == 0


def test_in_twelve_months_the_ground_opens_when_enough_is_a_year_old() -> None:
    limits = UseLimits(per_year=Quantity(3.4, UNIT), year=Year(YearKind.ROLLING))
    days = [date(2025, 8, 1), date(2025, 10, 1), date(2026, 4, 1)]

    # 2.0 + 0.4 + 0.9 leave 0.1; without the first 2.1, so it opens when that is a year old.
    applications = [
        *had(days[0], rate=2.0),
        *had(days[1], rate=0.4),
        *had(days[2], rate=0.9),
    ]
    (closure,) = standing_of(ceiling(limits), applications, on=JULY_6).closures

    assert closure.open_again_on == date(2026, 8, 1)


def test_a_limit_below_the_lowest_rate_never_opens() -> None:
    limits = UseLimits(per_year=Quantity(0.5, UNIT))

    (closure,) = standing_of(ceiling(limits), had(date(2026, 1, 2), rate=0.4), on=JULY_6).closures

    assert closure.open_again_on is None


@pytest.mark.parametrize(
    ("year", "again_on"),
    [
        (Year(), date(2027, 1, 1)),
        (Year(YearKind.SEASON, MonthDay(3, 1)), date(2027, 3, 1)),
        # Two of three may be there, so the second oldest must be a year old.
        (Year(YearKind.ROLLING), date(2027, 5, 1)),
    ],
)
def test_the_number_of_uses_closes_the_ground(year: Year, again_on: date) -> None:
    limits = UseLimits(year=year, uses_per_year=2)
    days = date(2026, 4, 1), date(2026, 5, 1), date(2026, 6, 1)

    (closure,) = standing_of(ceiling(limits), had(*days), on=JULY_6).closures

    assert (closure.why, closure.open_again_on) == (Why.USES, again_on)
    assert "put down 3 times already" in closure.reason


def test_one_use_is_called_once() -> None:
    limits = UseLimits(uses_per_year=1)

    (closure,) = standing_of(ceiling(limits), had(date(2026, 4, 1)), on=JULY_6).closures

    assert "put down once already" in closure.reason


def test_another_product_counts_only_for_what_both_contain() -> None:
    ingredient = ActiveIngredient(
        "Invented-A", Quantity(4, "lb/gal"), UseLimits(per_year=Quantity(1, "lb/acre"))
    )
    label = Label(limits=LIMITS, active_ingredients=(ingredient,))
    own, shared = ceilings_of([Product("W-4", Quantity(1.2, UNIT), label)])
    contents = (Content("invented-a", kg_per_amount_of("1 lb/gal")),)
    other = PastApplication("x", date(2026, 5, 1), "Other", Quantity(1, "gal/acre"), HERE, contents)
    nothing = PastApplication("y", date(2026, 5, 2), "Third", Quantity(1, "gal/acre"), HERE, ())

    assert standing_of(own, [other, nothing], on=JULY_6).received == 0
    standing = standing_of(shared, [other, nothing], on=JULY_6)
    # 1 gal/acre of 1 lb/gal is 1 lb/acre.
    assert standing.received == pytest.approx(Quantity(1, "lb/acre").si)
    assert standing.uses == 1
    assert standing.room == pytest.approx(0)
    assert whys(*standing.closures) == [Why.FULL]


def kg_per_amount_of(content: str) -> float:
    number, unit = content.split(" ", 1)
    return Quantity(float(number), unit).si


def test_what_nobody_knows_is_not_zero() -> None:
    ingredient = ActiveIngredient(
        "Invented-A", Quantity(4, "lb/gal"), UseLimits(per_year=Quantity(1, "lb/acre"))
    )
    (limit,) = ceilings_of(
        [Product("W-4", Quantity(1.2, UNIT), Label(active_ingredients=(ingredient,)))]
    )

    standing = standing_of(limit, had(date(2026, 5, 1)), on=JULY_6)

    assert (standing.received, standing.room, standing.uses) == (None, None, 1)


def test_a_limit_at_once_needs_no_past() -> None:
    limit = ceiling(UseLimits(per_application=Quantity(1.0, UNIT)))

    standing = standing_of(limit, had(date(2026, 7, 5)), on=JULY_6)

    assert standing.room is None
    assert rate_of(standing.most_now) == pytest.approx(1.0)
    assert not limit.limits.needs_history


amounts = st.floats(0.1, 2)
days = st.integers(0, 800).map(lambda number: date(2025, 1, 1) + timedelta(days=number))
pasts = st.lists(st.tuples(days, amounts), max_size=8)
limits = st.builds(
    UseLimits,
    per_year=st.none() | st.floats(0.5, 5).map(lambda value: Quantity(value, UNIT)),
    year=st.sampled_from([Year(), Year(YearKind.ROLLING), Year(YearKind.SEASON, MonthDay(3, 1))]),
    uses_per_year=st.none() | st.integers(1, 4),
    interval_days=st.none() | st.integers(0, 90),
)


def applications_of(past: list[tuple[date, float]]) -> list[PastApplication]:
    return [
        PastApplication(f"{number:02}", day, "W-4", Quantity(rate, UNIT), HERE)
        for number, (day, rate) in enumerate(past)
    ]


@given(limits=limits, past=pasts, on=days, seed=st.integers(0, 99))
def test_the_order_of_the_past_does_not_matter(
    limits: UseLimits, past: list[tuple[date, float]], on: date, seed: int
) -> None:
    if not limits.is_set:
        return
    applications = applications_of(past)
    shuffled = list(applications)
    random.Random(seed).shuffle(shuffled)  # noqa: S311 - no secret

    assert standing_of(ceiling(limits), applications, on=on) == standing_of(
        ceiling(limits), shuffled, on=on
    )


@given(limits=limits, past=pasts, on=days)
def test_on_the_day_that_is_told_the_ground_is_open_and_the_day_before_it_is_not(
    limits: UseLimits, past: list[tuple[date, float]], on: date
) -> None:
    if not limits.is_set:
        return
    # What is put down later than the day would close the ground again.
    applications = [each for each in applications_of(past) if each.applied_on <= on]
    limit = ceiling(limits)

    def closures_on(day: date) -> tuple[Closure, ...]:
        return standing_of(limit, applications, on=day).closures

    day = first_open_day(closures_on, on=on)
    if day is None:
        assert limits.per_year is not None
        assert limits.per_year.value < 0.8
        return
    assert closures_on(day) == ()
    if day > on:
        assert closures_on(day - timedelta(days=1)) != ()


def test_ground_that_closes_again_and_again_has_no_day() -> None:
    def closures_on(day: date) -> tuple[Closure, ...]:
        return (Closure(Why.FULL, "", day + timedelta(days=1)),)

    assert first_open_day(closures_on, on=JULY_6) is None


def test_sown_ground_waits_as_its_label_says() -> None:
    mix = [Product("W-4", Quantity(1.2, UNIT), Label(seeding=SeedingWait(60, 21)))]
    may = Seeding("s", date(2026, 5, 20), HERE)

    assert list(seed_closures([may], mix, on=date(2026, 7, 19))) == []
    (closure,) = seed_closures([may], mix, on=date(2026, 7, 18))
    assert (closure.why, closure.open_again_on) == (Why.SEEDED, date(2026, 7, 19))


def test_ground_to_be_sown_is_left_alone_before() -> None:
    mix = [Product("W-4", Quantity(1.2, UNIT), Label(seeding=SeedingWait(60, 21)))]
    august = Seeding("s", date(2026, 8, 22), HERE)

    assert list(seed_closures([august], mix, on=date(2026, 8, 1))) == []
    (closure,) = seed_closures([august], mix, on=date(2026, 8, 2))
    assert (closure.why, closure.open_again_on) == (Why.TO_BE_SEEDED, date(2026, 10, 21))

    never_after = [Product("W-4", Quantity(1.2, UNIT), Label(seeding=SeedingWait(None, 21)))]
    (closure,) = seed_closures([august], never_after, on=date(2026, 8, 2))
    assert closure.open_again_on is None


def test_a_label_that_says_nothing_of_sowing_closes_nothing() -> None:
    mix = [product()]

    for day in (date(2026, 5, 20), date(2026, 8, 1)):
        assert list(seed_closures([Seeding("s", day, HERE)], mix, on=JULY_6)) == []


def test_a_blackout_is_about_a_product_or_what_is_in_it() -> None:
    nitrogen = ActiveIngredient("N", Quantity(18, "%"))
    feed = Product("Feed", Quantity(5, "lb/1000 sq ft"), Label(active_ingredients=(nitrogen,)))
    by_substance = Blackout(MonthDay(6, 1), MonthDay(9, 30), "invented county", substance="n")
    by_name = Blackout(MonthDay(6, 1), MonthDay(9, 30), "us", product="FEED", example=True)

    assert list(blackout_closures([by_substance, by_name], [product()], on=JULY_6)) == []
    assert list(blackout_closures([by_substance], [feed], on=date(2026, 10, 1))) == []
    one, other = blackout_closures([by_substance, by_name], [feed], on=JULY_6)
    assert one.open_again_on == other.open_again_on == date(2026, 10, 1)
    assert one.reason == "no n until September 30, 2026 (invented county)"
    assert "an example that nobody has checked" in other.reason


@pytest.mark.parametrize(
    ("substance", "held"),
    [
        ("N", True),
        ("nitrogen", True),
        # Nobody says how much of the nitrogen is slow release.
        ("soluble N", True),
        ("P", False),
        ("Phosphate", False),
        ("K2O", True),
        ("invented-A", None),
    ],
)
def test_a_grade_tells_which_nutrients_are_in_a_feed(substance: str, held: bool | None) -> None:
    feed = Product("Feed", Quantity(5, "lb/1000 sq ft"), fertilizer=Fertilizer(Grade(24, 0, 11)))

    assert holds(feed, substance) is held
    assert holds(product(), substance) is None


def test_a_content_is_told_by_weight_or_by_volume() -> None:
    density = Quantity(10, "lb/gal")

    # By definition: 40 % of 10 lb/gal are 4 lb/gal.
    told = kg_per_amount(Quantity(40, "%"), form=product().kind.form, density=density)
    assert told == pytest.approx(Quantity(4, "lb/gal").si)
    feed = Product("Feed", Quantity(5, "lb/1000 sq ft"))
    assert kg_per_amount(
        Quantity(4, "lb/gal"), form=feed.kind.form, density=density
    ) == pytest.approx(0.4)
    assert kg_per_amount(Quantity(4, "lb/gal"), form=feed.kind.form, density=None) is None
