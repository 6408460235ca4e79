"""What a plan warns of, as its page tells it: the most pressing first, one line for each kind."""

from collections.abc import Mapping
from typing import Any

Json = dict[str, Any]

#: What each kind of warning is called, in the order in which somebody at the gate needs them.
HEADLINES = {
    "wind_calm": "Very still air",
    "wind_unknown": "Wind not measured",
    "wind_unknown_all_round": "Wind direction not given",
    "temperature_rising": "Heat coming",
    "temperature_unknown": "Temperature not measured",
    "rain_unknown": "Rain not looked up",
    "calibration_product_unknown": "Product of the catch tests not told",
    "turf_tolerance_unsure": "Turf that may not stand it",
    "turfgrass_unknown": "Turfgrass not known",
    "jar_test_needed": "Try it in a jar first",
    "mix_with_care": "Mix with care",
    "conditioner_too_little": "Too little for this water",
    "adjuvant_unconfirmed": "Adjuvant not confirmed",
    "mix_not_for_other_tool": "Never one tool’s mix in the other",
    "slope_speed_unknown": "Speed on a slope not known",
    "slope_pump_unknown": "Pump not told, and ground on a slope",
    "slope_output": "More or less comes down on a slope",
    "ground_closed": "Ground left out on the day",
    "history_unknown": "Past of this place not known",
    "history_incomplete": "Past of this place known in part",
    "history_content_unknown": "Content of a past product not known",
    "blackout_unchecked": "Blackout not checked",
    "seeding_wait_unknown": "Sown ground",
    "tank_above_label": "Too strong a mix in the tank",
    "tank_below_label": "Too weak a mix in the tank",
    "kills_turf": "It kills turf",
    "output_drifted": "Not the output that was planned",
    "gauge_below_what_stays": "Less in the tank than can leave it",
    "gauge_points_to_calibration": "The gauge points to the machine",
    "gauge_points_to_area": "The gauge points to one lawn",
    "gauge_drifts_on": "Use that grows or shrinks",
    "gauge_unclear": "Readings that do not fit",
    "delivered_below_label": "Too little on a lawn",
    "reload_not_permitted": "No reload there",
    "leftover_has_no_place": "No place for what is left",
    "leftover_shared": "What is left is shared among lawns",
    "leftover_goes_in_a_record": "What is left goes on a lawn",
    "weight_of_water_only": "Weight taken as water",
    "rate_below_label": "Rate below the label",
    "carrier_below_label": "Less spray than the label asks for",
    "carrier_above_label": "More spray than the label allows",
    "rate_unlike_before": "A rate unlike your others",
    "ounces_by_weight": "Ounces by weight of a liquid",
    "label_range_wide": "A label range too wide to be one",
    "label_range_missing": "Label not copied in full",
    "mixing_order_unconfirmed": "Mixing order not confirmed",
    "water_only": "Plain water",
    "spots_as_drawn": "A product for spots on all the turf",
    "spots_over_ground": "More spots than ground",
    "spots_over_share": "More spots than the label allows",
    "droplets_unknown": "Drops of the tips not known",
    "fans_do_not_meet": "Fans that do not meet",
    "tips_unlike_new": "Tips unlike new ones",
    "setback_default": "Distances that are only a default",
    "setback_example": "Distances that nobody has checked",
    "gate_unchecked": "Gate not checked",
    "plants_uncounted": "Plants not counted",
    "plant_ground_unknown": "Ground of the plants not known",
    "plant_distances_unchecked": "Distances not checked",
    "turf_spared": "Turf this mix is not for",
    "turf_barred": "Turf no tool may work on",
    "no_tool_fits": "Turf too narrow for any tool",
    "hand_area": "Turf too narrow for the machine",
    "hand_area_left": "Turf left for a hand tool",
    "passes_overlap": "Ground sprayed twice",
    "wind_not_in_shape": "Wind not in the shape",
    "calibration_scattered": "Calibration runs far apart",
    "calibration_uneven": "Calibration runs uneven",
    "calibration_fluke": "A calibration run left out",
    "speed_not_timed": "Speed read off, not timed",
    "catch_tests_few": "Too few catch tests",
    "nutrients_unknown": "Nutrients not known",
    "nutrient_limit_example": "Limits on nutrients that nobody has checked",
    "calibration_age_unknown": "Age of the calibration not known",
    "calibration_area_unknown": "Ground since the calibration not known",
    "calibration_set_up_unknown": "Set-up of the calibration not known",
    "speed_unlike_calibration": "Not the speed it was calibrated at",
    "swath_unlike_nozzles": "Swath and nozzles do not agree",
    "nozzles_not_all_caught": "Not every nozzle was caught",
    "output_unusual": "Unusual output",
    "output_stated": "Output stated, not measured",
}
RANKS = {code: rank for rank, code in enumerate(HEADLINES)}


def together(findings: list[Json], names: Mapping[str, str]) -> list[Json]:
    """Put findings of one kind together, so that twelve unchecked distances read as one.

    ``names`` says what each feature is called.
    """
    kinds: dict[str, list[Json]] = {}
    for finding in findings:
        kinds.setdefault(finding["code"], []).append(finding)
    return [
        {
            "code": code,
            "headline": HEADLINES.get(code, ""),
            "about": _about(kinds[code], names),
            "messages": [finding["message"] for finding in kinds[code]],
        }
        for code in sorted(kinds, key=lambda code: RANKS.get(code, len(RANKS)))
    ]


def _about(findings: list[Json], names: Mapping[str, str]) -> list[str]:
    """Name each feature or product that several findings of one kind are about, once."""
    if len(findings) == 1:
        return []
    about = (
        names.get(finding.get("feature") or "", finding.get("product") or "")
        for finding in findings
    )
    return list(dict.fromkeys(name for name in about if name))
