"""The ways to put a product down, where distances to keep differ by them."""

from enum import StrEnum


class Method(StrEnum):
    """How spray or granules leave the tool."""

    BOOM = "boom"
    HAND_GUN = "hand_gun"
    BACKPACK = "backpack"
    GRANULAR_OPEN = "granular_open"
    GRANULAR_DEFLECTOR = "granular_deflector"

    @property
    def words(self) -> str:
        """The method in a sentence."""
        return _WORDS[self]


_WORDS = {
    Method.BOOM: "with a boom",
    Method.HAND_GUN: "with a hand gun",
    Method.BACKPACK: "with a backpack sprayer",
    Method.GRANULAR_OPEN: "with an open spreader",
    Method.GRANULAR_DEFLECTOR: "with a spreader and its deflector",
}
