"""The kinds of shape a drawing can hold, and what each kind means for spraying."""

from dataclasses import dataclass
from enum import StrEnum

from properties.core.errors import Refused


class Role(StrEnum):
    """What a shape does to the ground: it is turf, it covers turf, or it must be protected."""

    TURF = "turf"
    OBSTACLE = "obstacle"
    PROTECTED = "protected"


@dataclass(frozen=True)
class Kind:
    """A kind of shape: the word that files carry, its role, and the words a person reads."""

    token: str
    role: Role
    name: str


KINDS = {
    kind.token: kind
    for kind in (
        Kind("turf", Role.TURF, "Turf"),
        Kind("building", Role.OBSTACLE, "Building"),
        Kind("drive_or_walk", Role.OBSTACLE, "Drive or walk"),
        Kind("patio", Role.OBSTACLE, "Patio"),
        Kind("pool", Role.OBSTACLE, "Pool"),
        Kind("other_obstacle", Role.OBSTACLE, "Other obstacle"),
        Kind("flower_bed", Role.PROTECTED, "Flower bed"),
        Kind("vegetable_garden", Role.PROTECTED, "Vegetable garden"),
        Kind("tree_or_shrub", Role.PROTECTED, "Tree or shrub"),
        Kind("pond", Role.PROTECTED, "Pond"),
        Kind("stream", Role.PROTECTED, "Stream"),
        Kind("well", Role.PROTECTED, "Well"),
        Kind("storm_drain", Role.PROTECTED, "Storm drain"),
        Kind("play_area", Role.PROTECTED, "Play area"),
        Kind("beehives", Role.PROTECTED, "Beehives"),
        Kind("neighbours_land", Role.PROTECTED, "Neighbour’s land"),
        Kind("other_protected", Role.PROTECTED, "Other protected feature"),
    )
}

#: Other words for the same kinds, accepted from files that were written by hand.
OTHER_WORDS = {
    "drive": "drive_or_walk",
    "driveway": "drive_or_walk",
    "walk": "drive_or_walk",
    "path": "drive_or_walk",
    "tree": "tree_or_shrub",
    "shrub": "tree_or_shrub",
    "garden": "vegetable_garden",
    "bed": "flower_bed",
    "beehive": "beehives",
    "drain": "storm_drain",
    "neighbor_land": "neighbours_land",
    "neighbors_land": "neighbours_land",
    "neighbour_land": "neighbours_land",
}


def kind_named(text: object, *, field: str = "kind") -> Kind:
    """Look up a kind by its word, or by another word for the same thing.

    Parameters
    ----------
    text : object
        The word as it was written; anything but a string is refused. [-]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    Kind
        The kind. [-]

    Raises
    ------
    Refused
        If no kind goes by that word; the refusal names them all.

    References
    ----------
    Our own list.
    """
    remedy = f"Use one of: {', '.join(KINDS)}."
    if not isinstance(text, str) or not text:
        raise Refused(field, "The kind of this shape is missing.", remedy)
    kind = KINDS.get(OTHER_WORDS.get(text, text))
    if kind is None:
        raise Refused(field, f"{text[:40]!r} is not a kind of shape that we know.", remedy)
    return kind
