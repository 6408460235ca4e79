"""What comes down on each slope, as the page shows it: each figure with its working at hand."""

from typing import Any

Json = dict[str, Any]


def slopes_of(plan: Json) -> list[Json]:
    """List the slopes of the machine's ground, each figure with the key of its working."""
    return [_slope(n, each) for n, each in enumerate(plan.get("slopes") or ())]


def slopes_that_differ(plan: Json) -> list[Json]:
    """List the ground of slopes where something else comes down, or nobody knows what."""
    return [each["shape"] for each in plan.get("slopes") or () if each["times"] != 1]


def _slope(number: int, slope: Json) -> Json:
    key = f"slopes[{number}]"
    return {
        **slope,
        "key": {part: f"{key}.{part}" for part in ("area", "speed", "times", "output")},
        "products": [
            each | {"key": f"{key}.products[{n}].rate"} for n, each in enumerate(slope["products"])
        ],
    }
