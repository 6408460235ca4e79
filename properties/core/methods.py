"""Ways of applying: a distance to keep can depend on the one that is used."""

from enum import StrEnum


class Method(StrEnum):
    """How a product is laid out on the ground."""

    BOOM = "boom"
    HAND_GUN = "hand_gun"
    BACKPACK = "backpack"
    GRANULAR_OPEN = "granular_open"
    GRANULAR_DEFLECTOR = "granular_deflector"


METHOD_NAMES = {
    Method.BOOM: "Boom",
    Method.HAND_GUN: "Hand gun",
    Method.BACKPACK: "Backpack sprayer",
    Method.GRANULAR_OPEN: "Spreader, open",
    Method.GRANULAR_DEFLECTOR: "Spreader with deflector",
}
