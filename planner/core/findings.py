"""What a plan has to say beside its figures: cautions, and reasons not to spray."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Finding:
    """One warning or refusal in plain words, with the next step.

    ``code`` is a stable name for programs; ``feature`` is the ref of a shape and
    ``product`` the name of a product where one of them is meant.
    """

    code: str
    message: str
    feature: str | None = None
    product: str | None = None


@dataclass(frozen=True)
class Findings:
    """Warnings leave the plan usable with care; a refusal stops it."""

    warnings: tuple[Finding, ...] = ()
    refusals: tuple[Finding, ...] = ()

    def __add__(self, other: "Findings") -> "Findings":
        return Findings(self.warnings + other.warnings, self.refusals + other.refusals)
