"""Which distance is kept from a feature, and who asked for it."""

from hypothesis import given
from hypothesis import strategies as st

from properties.core.outlines import Drawing, read_drawing
from properties.core.setbacks import (
    NOBODY_KNOWS,
    Claim,
    own_claim,
    setbacks_by_default,
    strictest,
)
from properties.core.units import Quantity
from tests.places import collection, feature, rectangle, small_lot

distances = st.floats(min_value=0, max_value=300).map(lambda value: Quantity(value, "ft"))


def _drawn() -> Drawing:
    return read_drawing(small_lot())


@given(st.lists(distances, min_size=1))
def test_no_claim_asks_for_more_than_the_strictest(asked: list[Quantity]) -> None:
    decided = strictest(Claim(distance, str(n)) for n, distance in enumerate(asked))

    assert decided is not None
    assert decided.distance.si == max(distance.si for distance in asked)


def test_of_equal_claims_the_first_is_named_whatever_its_unit() -> None:
    # 1 ft = 0.3048 m: NIST Handbook 44, Appendix C.
    feet, metres = Claim(Quantity(10.0, "ft"), "label"), Claim(Quantity(3.048, "m"), "firm")

    assert strictest([feet, metres]) is feet
    assert strictest([metres, feet]) is metres


def test_without_a_claim_nobody_decides() -> None:
    assert strictest([]) is None


def test_a_feature_claims_the_distance_that_was_set_on_it() -> None:
    lawn, _, roses, _ = _drawn().shapes

    assert own_claim(lawn) is None
    assert own_claim(roses) == Claim(Quantity(3.0, "ft"), "set on this feature")


def test_a_default_fills_in_only_where_the_feature_itself_has_no_distance() -> None:
    firm = {
        "pond": Claim(Quantity(25.0, "ft"), "firm"),
        "flower_bed": Claim(Quantity(9.0, "ft"), "firm"),
    }

    decided = setbacks_by_default(_drawn(), firm)

    assert decided.keys() == {"roses", "pond"}
    assert (decided["pond"].distance_m, decided["pond"].reason) == (7.62, "firm")
    assert decided["roses"].distance_m == Quantity(3.0, "ft").si


def test_a_distance_that_nobody_knows_is_told_and_not_left_out() -> None:
    decided = setbacks_by_default(_drawn(), {})

    assert decided["pond"].reason == NOBODY_KNOWS


def test_an_obstacle_is_kept_away_from_only_where_that_was_asked() -> None:
    house = feature("house", "building", rectangle(0, 0, 50, 50), setback="2 ft")
    shed = feature("shed", "building", rectangle(100, 0, 50, 50))

    decided = setbacks_by_default(read_drawing(collection(house, shed)), {})

    assert decided.keys() == {"house"}
