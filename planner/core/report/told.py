"""Findings, notes and workings as JSON, whatever they belong to."""

from planner.core.findings import Finding
from planner.core.ground.ground import Ground
from planner.core.report.quantities import Json, quantity
from properties.core.working import Figure


def finding_as_json(finding: Finding) -> Json:
    """Write a warning or a refusal.

    Parameters
    ----------
    finding : Finding
        What is found. [-]

    Returns
    -------
    dict
        Its code, its words and what it is about. [-]

    Raises
    ------
    Nothing
        Every finding can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    tool = None if finding.tool is None else finding.tool.value
    about = {"feature": finding.feature, "product": finding.product, "tool": tool}
    return {
        "code": finding.code,
        "message": finding.message,
        **{name: value for name, value in about.items() if value is not None},
    }


def notes_as_json(ground: Ground) -> list[Json]:
    """Write what was mended in a drawing.

    Parameters
    ----------
    ground : Ground
        The ground of the drawing. [-]

    Returns
    -------
    list of dict
        Each repair with the shape it was made to. [-]

    Raises
    ------
    Nothing
        Every note can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return [
        {"code": note.code, "message": note.message, "feature": note.shape}
        for note in (*ground.drawing.notes, *ground.treatment.notes)
    ]


def figure_as_json(figure: Figure) -> Json:
    """Write the working of a figure.

    Parameters
    ----------
    figure : Figure
        The figure. [units shown]

    Returns
    -------
    dict
        Its formula, inputs, result and source. [units shown]

    Raises
    ------
    Nothing
        Every figure can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {
        "figure": figure.key,
        "name": figure.name,
        "formula": figure.formula,
        "inputs": [{"name": each.name, **quantity(each.quantity)} for each in figure.inputs],
        "result": quantity(figure.result),
        "source": figure.source,
    }
