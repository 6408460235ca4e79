"""The tools of a plan: the machine, and perhaps a hand tool beside it."""

from enum import StrEnum


class Tool(StrEnum):
    """Which of the two is meant."""

    MACHINE = "machine"
    HAND_TOOL = "hand_tool"

    @property
    def words(self) -> str:
        """The tool in a sentence."""
        return self.value.replace("_", " ")
