"""The check in advance: what round five may not do because of what round two did."""

from datetime import date
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.season.check import check_season
from planner.core.season.verdicts import Outcome, RoundVerdict
from properties.core.errors import Refused
from properties.core.units import parse_quantity
from tests.planner.core.scenarios import LARKFOOT, RUSHMERE
from tests.planner.core.season.asking import FRESH, PLAIN, W4, asked, at, with_label

Json = dict[str, Any]


def _outcomes(verdicts: tuple[RoundVerdict, ...]) -> list[Outcome]:
    return [verdict.outcome for verdict in verdicts]


def _messages(verdict: RoundVerdict) -> str:
    return " ".join(each.finding.message for each in verdict.objections)


def test_rounds_that_the_year_has_room_for_fit() -> None:
    verdicts = check_season([asked(1, "2026-04-10"), asked(2, "2026-05-20")])

    assert _outcomes(verdicts) == [Outcome.FITS, Outcome.FITS]
    assert all(not verdict.objections and verdict.counts for verdict in verdicts)


def test_a_round_cannot_have_what_earlier_rounds_used_up() -> None:
    # Larkfoot's limit: 3.4 a year; twice 1.2 leaves 1.0, and 1.2 are asked for.
    rounds = [asked(n, day) for n, day in enumerate(("2026-04-10", "2026-05-20", "2026-07-06"), 1)]

    third = check_season(rounds)[2]

    assert third.outcome is Outcome.REFUSED
    (objection,) = third.objections
    assert objection.finding.code == "rate_above_room"
    assert "3.4 fl oz/1000 sq ft in a calendar year" in objection.finding.message
    assert [each.words for each in objection.used_up_by] == [
        "W-4 (invented), April 10, 2026, planned in round 1, Weeds 1",
        "W-4 (invented), May 20, 2026, planned in round 2, Weeds 2",
    ]
    assert objection.advice == (
        "Or use less in round 1, Weeds 1 and round 2, Weeds 2, or take it out."
    )


def test_it_is_the_very_plan_of_a_request_with_the_earlier_round_in_its_history() -> None:
    first, second = check_season(
        [asked(1, "2026-04-10"), asked(2, "2026-07-06", at("1.5 fl oz/1000 sq ft"))]
    )

    # Another way to the same: what the first round put down, typed into a request by hand.
    plan = plan_as_json(plan_from_json(FRESH | {"on": "2026-04-10"}))
    (product,) = plan["products"]
    rate = product["rate_after_rounding"]
    had = {
        "on": "2026-04-10",
        "product": product["name"],
        "rate": f"{rate['value']!r} {rate['unit']}",
        "where": plan["treatable"],
        **PLAIN,
    }
    by_hand = at("1.5 fl oz/1000 sq ft") | {"on": "2026-07-06", "history": [had]}
    assert first.outcome is Outcome.FITS
    assert second.plan is not None
    assert plan_as_json(second.plan) == plan_as_json(plan_from_json(by_hand))


def test_what_is_in_the_records_counts_beside_the_rounds() -> None:
    request = LARKFOOT | {"history_since": "2025-01-01"}

    verdict = check_season([asked(1, "2026-07-10", request)])[0]

    (objection,) = verdict.objections
    assert {each.words for each in objection.used_up_by} == {
        "W-4 (invented), April 10, 2026, in the records",
        "W-4 (invented), May 20, 2026, in the records",
    }
    assert objection.advice == ""


def test_a_round_within_the_interval_waits_until_the_ground_opens() -> None:
    verdicts = check_season([asked(1, "2026-04-10"), asked(2, "2026-05-01")])

    # 30 days after April 10 is May 10, inside the window of round 2.
    assert _outcomes(verdicts) == [Outcome.FITS, Outcome.LATER]
    assert verdicts[1].day == date(2026, 5, 10)
    assert "the label wants 30 days between two applications" in verdicts[1].moved_for[0]


def test_a_round_whose_ground_opens_after_its_window_is_refused_with_the_day() -> None:
    second = check_season([asked(1, "2026-04-10"), asked(2, "2026-04-20")])[1]

    assert second.outcome is Outcome.REFUSED
    (objection,) = second.objections
    assert objection.finding.code == "nothing_open"
    assert [each.round and each.round.number for each in objection.used_up_by] == [1]
    assert objection.advice == (
        "It opens on May 10, 2026, after this round’s last day, May 3, 2026: move the round to "
        "then. Or use less in round 1, Weeds 1, or take it out."
    )


def test_ground_that_stays_closed_is_left_out_and_named() -> None:
    # The patch had it on June 8; 30 days are over on July 8, after this one-day window.
    request = at("0.8 fl oz/1000 sq ft", LARKFOOT | {"history_since": "2025-01-01"})

    verdict = check_season([asked(1, "2026-07-06", request, days=1)])[0]

    assert verdict.outcome is Outcome.PART
    assert "of Back (turf) are left out" in _messages(verdict)
    assert verdict.counts


def _patches(*had: tuple[str, int]) -> Json:
    """The commons, of which the lawns of these numbers had W-4 on these days."""
    history = [
        {
            "on": day,
            "product": "W-4 (invented)",
            "rate": "0.8 fl oz/1000 sq ft",
            "where": FRESH["property"]["features"][lawn]["geometry"],
        }
        for day, lawn in had
    ]
    return at("0.8 fl oz/1000 sq ft", FRESH | {"history": history})


def test_where_only_some_ground_opens_within_the_window_the_round_waits_for_that() -> None:
    request = _patches(("2026-05-20", 0), ("2026-06-08", 1))

    # 30 days after May 20 is June 19; June 8 opens on July 8 only.
    verdict = check_season([asked(1, "2026-06-10", request)])[0]

    assert (verdict.outcome, verdict.day) == (Outcome.PART, date(2026, 6, 19))


def test_ground_that_opens_later_within_the_window_is_told_with_its_day() -> None:
    patch, *_ = LARKFOOT["history"][2:]
    request = _patches(("2026-05-20", 0))
    request["history"].append(patch)

    # All of it opens on July 8 only, and the back beside the patch is open all the time.
    verdict = check_season([asked(1, "2026-06-10", request)])[0]

    assert (verdict.outcome, verdict.day) == (Outcome.PART, date(2026, 6, 10))
    assert verdict.objections[0].advice == "It opens on June 19, 2026: do it from then on."


def test_a_lawn_that_a_label_spares_is_named_in_the_open() -> None:
    forbidden = with_label(tolerance={"creeping_bentgrass": "forbidden"})
    front, back = FRESH["property"]["features"]
    green = back | {"properties": back["properties"] | {"turfgrasses": ["creeping_bentgrass"]}}
    request = forbidden | {
        "property": FRESH["property"] | {"features": [front, green]},
        "turfgrasses": ["tall_fescue"],
    }

    verdict = check_season([asked(1, "2026-04-10", request)])[0]

    assert verdict.outcome is Outcome.PART
    assert [each.finding.code for each in verdict.objections] == ["turf_spared"]
    assert "Back" in _messages(verdict)


def test_a_round_that_must_not_be_done_is_not_counted_later() -> None:
    too_much = at("1.6 fl oz/1000 sq ft")

    verdicts = check_season(
        [
            asked(1, "2026-03-01", too_much),
            asked(2, "2026-04-10"),
            asked(3, "2026-05-20"),
        ]
    )

    assert _outcomes(verdicts) == [Outcome.REFUSED, Outcome.FITS, Outcome.FITS]
    assert not verdicts[0].counts


def test_the_number_of_uses_counts_over_the_season() -> None:
    twice = with_label(limits={"uses_per_year": 1})

    second = check_season([asked(1, "2026-04-10", twice), asked(2, "2026-06-20", twice)])[1]

    assert second.outcome is Outcome.REFUSED
    assert "the label allows 1 in a calendar year" in _messages(second)
    assert "It opens on January 1, 2027" in second.objections[0].advice


def test_an_ingredient_counts_whatever_product_an_earlier_round_put_it_down_in() -> None:
    ingredient = {"name": "invented phenoxy", "content": "4 lb/gal", "per_year": "3.0 lb/acre"}
    first = with_label(active_ingredients=[ingredient])
    other = W4 | {"name": "W-5 (invented)", "label": first["mix"][0]["label"]}
    told = {"active_ingredients": [{"name": "invented phenoxy", "content": "4 lb/gal"}]}

    # 1.2 fl oz/1,000 sq ft of 4 lb/gal are 1.63 lb/acre: no room for as much again of 3.0.
    verdicts = check_season(
        [
            asked(1, "2026-04-10", first, contents={"W-4 (invented)": told}),
            asked(2, "2026-06-20", FRESH | {"mix": [other]}, contents={"W-5 (invented)": told}),
        ]
    )

    assert _outcomes(verdicts) == [Outcome.FITS, Outcome.REFUSED]
    assert "invented phenoxy" in _messages(verdicts[1])
    assert verdicts[1].objections[0].used_up_by[0].product == "W-4 (invented)"


def test_nitrogen_of_earlier_rounds_counts_against_the_year() -> None:
    feed = {name: value for name, value in RUSHMERE.items() if name != "nutrients_so_far"}
    weeds = {"on": "2026-03-20", "product": "Invented herbicide", "rate": "0.1 mL/m2", **PLAIN}
    weeds["where"] = RUSHMERE["property"]["features"][0]["geometry"]
    feed = feed | {"history": [weeds], "history_since": "2024-01-01", "weather": {}}
    told = {RUSHMERE["mix"][0]["name"]: {"fertilizer": RUSHMERE["mix"][0]["fertilizer"]}}
    days = ("2026-04-01", "2026-05-15", "2026-06-20", "2026-08-01")

    # Rushmere's limit: 12 g/m² a year, 3.6 each time; a fourth time would make 14.5.
    verdicts = check_season(
        [asked(n, day, feed, contents=told) for n, day in enumerate(days, start=1)]
    )

    assert _outcomes(verdicts) == [Outcome.FITS] * 3 + [Outcome.REFUSED]
    objection = verdicts[3].objections[0]
    assert objection.finding.code == "nutrient_over_limit"
    assert [each.round and each.round.number for each in objection.used_up_by] == [1, 2, 3]


def test_a_blackout_of_the_place_moves_a_round_or_refuses_it() -> None:
    blackout = {"product": "W-4 (invented)", "from": "06-01", "to": "07-10", "source": "Town code"}
    closed = FRESH | {"blackouts": [blackout]}

    verdicts = check_season([asked(1, "2026-06-05", closed), asked(2, "2026-07-05", closed)])

    assert _outcomes(verdicts) == [Outcome.REFUSED, Outcome.LATER]
    assert "Town code" in _messages(verdicts[0])
    assert verdicts[0].objections[0].advice.startswith("It opens on July 11, 2026")
    assert verdicts[1].day == date(2026, 7, 11)


def test_ground_that_will_be_sown_is_closed_to_a_round_before() -> None:
    sown = with_label(seeding={"before": "60 day"})
    front = FRESH["property"]["features"][0]["geometry"]
    request = sown | {"seedings": [{"on": "2026-09-01", "where": front}]}

    verdict = check_season([asked(1, "2026-08-01", request)])[0]

    assert verdict.outcome is Outcome.PART
    assert "to be sown on September 1, 2026" in _messages(verdict)


def test_what_belongs_to_the_day_does_not_refuse_a_season() -> None:
    old = FRESH | {
        "machine": FRESH["machine"]
        | {
            "calibration": {
                "method": "measured_course",
                "course_length": "100 ft",
                "volumes_used": ["0.5 gal"] * 3,
                "done_on": "2025-04-01",
                "good_for": "30 day",
            }
        }
    }
    del old["machine"]["output"]

    verdict = check_season([asked(1, "2026-04-10", old)])[0]

    assert verdict.outcome is Outcome.FITS
    assert [each.code for each in verdict.see_to] == ["calibration_expired"]


def test_a_place_of_which_nobody_told_the_past_is_said_to_be_unknown() -> None:
    request = {name: value for name, value in FRESH.items() if not name.startswith("history")}

    first, second = check_season([asked(1, "2026-04-10", request), asked(2, "2026-06-20", request)])

    assert [each.code for each in first.cautions] == ["history_unknown"]
    assert [each.code for each in second.cautions] == ["history_incomplete"]


def test_a_round_that_no_plan_can_be_made_for_says_why() -> None:
    def not_calibrated(_: date) -> Json:
        raise Refused("machine", "The boom has no calibration.", "Calibrate it.")

    unreadable = FRESH | {"mix": [W4 | {"rate": "lots"}]}
    first = asked(1, "2026-04-10")
    broken = type(first)(1, "Weeds", first.window, first.day, not_calibrated, {})

    verdicts = check_season([broken, asked(2, "2026-05-20", unreadable)])

    assert _outcomes(verdicts) == [Outcome.UNKNOWN, Outcome.UNKNOWN]
    assert verdicts[0].faults == ("The boom has no calibration. Calibrate it.",)
    assert "lots" in verdicts[1].faults[0]


def test_rounds_are_asked_in_the_order_of_their_days() -> None:
    verdicts = check_season([asked(2, "2026-06-20"), asked(1, "2026-04-10")])

    assert [verdict.asked.number for verdict in verdicts] == [1, 2]


def test_a_round_that_moves_behind_another_is_asked_after_it() -> None:
    blackout = {"product": "W-4 (invented)", "from": "05-20", "to": "06-30", "source": "Town code"}
    closed = FRESH | {"blackouts": [blackout]}
    other = FRESH | {"mix": [W4 | {"name": "W-5 (invented)"}]}

    verdicts = check_season(
        [asked(1, "2026-06-20", closed, days=60), asked(2, "2026-06-25", other)]
    )

    assert [(each.asked.number, each.day.isoformat()) for each in verdicts] == [
        (2, "2026-06-25"),
        (1, "2026-07-01"),
    ]
    assert verdicts[1].plan is not None
    assert [each.product for each in verdicts[1].plan.request.past.history or ()] == [
        "W-5 (invented)"
    ]


def test_a_seeding_without_end_is_no_reason_to_guess_a_day() -> None:
    sown = with_label(seeding={"before": "60 day"})
    everywhere = [feature["geometry"] for feature in FRESH["property"]["features"]]
    request = sown | {"seedings": [{"on": "2026-09-01", "where": each} for each in everywhere]}

    verdict = check_season([asked(1, "2026-08-01", request)])[0]

    assert verdict.outcome is Outcome.REFUSED
    assert verdict.objections[0].advice.startswith("Nobody can say when it opens.")


@settings(max_examples=12)
@given(
    tenths=st.lists(st.integers(8, 15), min_size=2, max_size=5),
    gaps=st.lists(st.integers(1, 60), min_size=5, max_size=5),
)
def test_no_season_puts_down_more_than_its_label_allows_in_a_year(
    tenths: list[int], gaps: list[int]
) -> None:
    day, rounds = date(2026, 3, 1).toordinal(), []
    for number, (tenth, gap) in enumerate(zip(tenths, gaps, strict=False), start=1):
        day += gap
        request = at(f"{tenth / 10} fl oz/1000 sq ft")
        rounds.append(asked(number, date.fromordinal(day).isoformat(), request))

    done = [each for each in check_season(rounds) if each.counts]

    rates = [parse_quantity(each.entries[0]["rate"]).to("fl oz/1000 sq ft").value for each in done]
    assert sum(rates) <= 3.4 * (1 + 1e-9)
    days = [each.day.toordinal() for each in done]
    assert all(later - earlier >= 30 for earlier, later in pairwise(days))
