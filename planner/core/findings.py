"""What a plan has to say beside its figures: cautions, and reasons not to spray."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.core.tools import Tool


@dataclass(frozen=True)
class Finding:
    """One warning or refusal in plain words, with the next step.

    ``code`` is a stable name for programs; ``feature`` is the ref of a shape,
    ``product`` the name of a product and ``tool`` one of two tools where one of them
    is meant.
    """

    code: str
    message: str
    feature: str | None = None
    product: str | None = None
    tool: Tool | None = None


@dataclass(frozen=True)
class Findings:
    """Warnings leave the plan usable with care; a refusal stops it."""

    warnings: tuple[Finding, ...] = ()
    refusals: tuple[Finding, ...] = ()

    def __add__(self, other: "Findings") -> "Findings":
        return Findings(self.warnings + other.warnings, self.refusals + other.refusals)

    def with_new(self, other: "Findings") -> "Findings":
        """Add what is not told already."""
        both = self + other
        return Findings(tuple(dict.fromkeys(both.warnings)), tuple(dict.fromkeys(both.refusals)))


ToolFindings = Sequence[tuple[Tool, Findings]]


def told_by_tool(found: ToolFindings) -> Findings:
    """Join what is found about each tool: what holds for all once, the rest with the tool.

    Parameters
    ----------
    found : Sequence of tuple
        Each tool, and what is found about it. [-]

    Returns
    -------
    Findings
        The findings; those about one of several tools begin with its name. [-]

    Raises
    ------
    Nothing
        Any findings can be joined.

    References
    ----------
    Our own wording.
    """
    return Findings(
        tuple(_joined([(tool, findings.warnings) for tool, findings in found])),
        tuple(_joined([(tool, findings.refusals) for tool, findings in found])),
    )


def _joined(found: Sequence[tuple[Tool, tuple[Finding, ...]]]) -> Iterator[Finding]:
    common = set.intersection(*(set(findings) for _, findings in found))
    (_, of_first), *_ = found
    for tool, findings in found:
        for finding in findings:
            if finding not in common:
                message = f"{tool.words.capitalize()}: {finding.message}"
                yield replace(finding, message=message, tool=tool)
            elif findings is of_first:
                yield finding
