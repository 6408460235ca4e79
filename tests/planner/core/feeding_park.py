"""The park by the pond, to change in tests of spreaders and of nutrients. All is invented."""

import copy
from typing import Any

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import area, corners_of
from tests.planner.core.scenarios import RUSHMERE

Json = dict[str, Any]
FEED = RUSHMERE["mix"][0]


def with_tests(*runs: tuple[float, str], **more: Any) -> Json:
    """The Rushmere job without limits, with these catch tests over 100 m²."""
    request = copy.deepcopy(RUSHMERE) | {"nutrient_limits": []}
    request["machine"]["calibration"] |= {
        "runs": [{"setting": setting, "used": used} for setting, used in runs]
    } | more
    return request


def planned(request: Json) -> Any:
    return plan_as_json(plan_from_json(request))


def warnings(request: Json) -> list[str]:
    return [each["code"] for each in planned(request)["warnings"]]


def refusals(request: Json) -> dict[str, str]:
    return {each["code"]: each["message"] for each in planned(request)["refusals"]}


LIQUID = {
    "name": "Invented liquid feed",
    "rate": "6 fl oz/1000 sq ft",
    "formulation": "liquid fertilizer",
    "fertilizer": {"grade": "4-0-0", "slow_release": "0 %"},
    "label": {"rate_max": "9 fl oz/1000 sq ft", "rate_min": "3 fl oz/1000 sq ft",
              "density": "10.68 lb/gal"},
}  # fmt: skip


def n_of(plan: Json) -> Any:
    return next(each["rate"]["value"] for each in plan["nutrients"] if each["nutrient"] == "N")


def had(west: float, east: float, rate: str, on: str = "2026-05-01", **more: Any) -> Json:
    """The feed put down on a strip of the park, between two distances east of its corner."""
    where = area("past", "turf", corners_of(west, -5, east, 40), unit_m=1)["geometry"]
    return {"on": on, "product": FEED["name"], "rate": rate, "where": where} | more


def with_history(*applications: Json) -> Json:
    request = {name: value for name, value in RUSHMERE.items() if name != "nutrients_so_far"}
    return request | {"history": list(applications)}


def year_of(request: Json) -> Any:
    return next(each for each in planned(request)["nutrient_limits"] if each["per"] == "year")


def with_label(limits: Json, *applications: Json) -> Json:
    """The park with a label that limits the feed itself, and no other limits."""
    label = {"rate_max": "25 g/m2", "rate_min": "10 g/m2", "limits": limits}
    return with_history(*applications) | {"nutrient_limits": [], "mix": [FEED | {"label": label}]}
