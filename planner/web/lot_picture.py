"""The drawing of a quote for a page: paths and spots in a picture that needs no script."""

from typing import Any

Json = dict[str, Any]

WIDTH, TALLEST = 640.0, 560.0
#: About how wide a letter of a name is, as a share of its height, and how high it is.
LETTER_SHARE, LETTER_HEIGHT = 0.52, 15.0

#: What each class is called, in the order of the key.
LOOKS = {
    "treatable": "Treated with the machine",
    "hand": "Treated by hand",
    "left": "Left untreated",
    "obstacle": "House, drive and the like",
    "water": "Water",
    "plants": "Plants",
    "people": "People, animals, neighbors",
}


def lot_picture(drawing: Json) -> Json:
    """Turn a drawing in metres into what an SVG holds."""
    scale = min(WIDTH / drawing["width"], TALLEST / drawing["height"])
    width, height = drawing["width"] * scale, drawing["height"] * scale

    def at(spot: list[float]) -> tuple[str, str]:
        return f"{spot[0] * scale:.1f}", f"{height - spot[1] * scale:.1f}"

    return {
        "width": f"{width:.1f}",
        "height": f"{height:.1f}",
        "areas": [
            {"look": area["look"], "d": "".join(_ring(map(at, ring)) for ring in area["rings"])}
            for area in drawing["areas"]
        ],
        "lines": [
            {"look": line["look"], "points": " ".join(",".join(at(c)) for c in line["line"])}
            for line in drawing["lines"]
        ],
        "points": [
            dict(zip("xy", at(each["at"]), strict=True)) | each for each in drawing["points"]
        ],
        "numbers": [
            dict(zip("xy", at(each["at"]), strict=True)) | each for each in drawing["numbers"]
        ],
        "names": [
            dict(zip("xy", at(name["at"]), strict=True)) | name for name in _names(drawing, scale)
        ],
        "scale": {
            "text": drawing["scale"]["text"],
            "x": f"{10 + drawing['scale']['length'] * scale:.1f}",
        },
        "key": _key(drawing),
    }


def _ring(corners: Any) -> str:
    return "M" + "L".join(" ".join(corner) for corner in corners) + "Z"


def _names(drawing: Json, scale: float) -> list[Json]:
    """The names that have room and lie on no other and on no number, the roomiest first."""
    numbers = [{"text": "00", "at": each["at"]} for each in drawing["numbers"]]
    kept: list[Json] = []
    for name in sorted(drawing["names"], key=lambda name: -name["room"]):
        has_room = _width(name) < 1.25 * name["room"] * scale
        if has_room and not any(_meet(name, other, scale) for other in (*numbers, *kept)):
            kept.append(name)
    return kept


def _width(name: Json) -> float:
    return len(name["text"]) * LETTER_SHARE * LETTER_HEIGHT


def _meet(one: Json, other: Json, scale: float) -> bool:
    across, along = (abs(a - b) * scale for a, b in zip(one["at"], other["at"], strict=True))
    return bool(across < (_width(one) + _width(other)) / 2 and along < 1.3 * LETTER_HEIGHT)


def _key(drawing: Json) -> list[tuple[str, str]]:
    present = {each["look"] for kind in ("areas", "lines", "points") for each in drawing[kind]}
    return [(look, name) for look, name in LOOKS.items() if look in present]
