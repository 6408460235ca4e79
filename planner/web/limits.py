"""What the ground of a plan has had and may still get, as its page shows it."""

from datetime import date
from typing import Any

Json = dict[str, Any]


def limits_of(plan: Json) -> list[Json]:
    """Arrange each limit with its faces; a plan from before there were limits has none."""
    return [_limit(limit, plan) for limit in plan.get("limits", ())]


def _limit(limit: Json, plan: Json) -> Json:
    names = {shape["feature"]: shape["name"] for shape in plan["areas_by_shape"]}
    return {
        "name": limit["substance"] or limit["product"],
        "faces": [
            standing
            | face
            | {
                "name": ", ".join(names[ref] for ref in face["features"]),
                "open_on": _day(face["open_on"]),
                "open_on_after": _day(standing["open_on_after"]),
                "opens_later": standing["open_on_after"] not in (None, face["open_on"]),
            }
            for face, standing in zip(plan["faces"], limit["faces"], strict=True)
        ],
    }


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)
