"""What a plan keeps away from, how far with each tool, and who asks for it."""

from typing import Any

from properties.core.features import KINDS

Json = dict[str, Any]

#: Ground that a page would write as 0 sq ft.
TOO_LITTLE_TO_TELL = 0.05

#: How a distance is said to be that of one tool of two.
WITH = {"machine": "with the machine", "hand_tool": "by hand"}


def kept_from(plan: Json) -> list[Json]:
    """Join each zone with the turf that is left unsprayed because of it."""
    parts = {part["feature"]: part for part in plan["left_out"]}
    return [
        _worth_telling(parts.get(zone["feature"], {}))
        | {"name": _name_of(zone), "asked": _asked(plan, zone)}
        for zone in _zones(plan)
    ]


def _worth_telling(part: Json) -> Json:
    """Leave out ground of next to nothing, where a feature only touches the turf."""
    areas = {name: part.get(name) for name in ("own_ground", "strip")}
    return {
        name: area if area and area["value"] >= TOO_LITTLE_TO_TELL else None
        for name, area in areas.items()
    }


def _asked(plan: Json, zone: Json) -> list[Json]:
    """List the distances from a feature: one, or where the tools differ one for each tool."""
    by_tool = [
        own | {"words": WITH[part["tool"]]}
        for part in plan.get("parts", ())
        for own in _zones(part)
        if own["feature"] == zone["feature"]
    ]
    kept = {str((own.get("distance"), own.get("downwind_distance"))) for own in by_tool}
    return by_tool if len(kept) > 1 else [zone]


def _zones(plan: Json) -> list[Json]:
    """List what is told of each feature that a plan, or one tool of it, keeps away from."""
    return [drawn["properties"] for drawn in plan["no_spray"]["features"]]


def feature_names(plan: Json) -> dict[str, str]:
    """Say what each feature with a distance is called."""
    return {zone["feature"]: _name_of(zone) for zone in _zones(plan)}


def _name_of(zone: Json) -> str:
    """Name a feature as it was called, or by its kind in words."""
    called: str = zone["name"]
    return called or KINDS[zone["kind"]].name
