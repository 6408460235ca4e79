"""Turf that a tool may not enter: marked as hand work, or behind a gate that is too narrow."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.core.machine.machines import Machine
from planner.core.tools import Tool
from properties.core.features import Role
from properties.core.outlines import Drawing, Shape


@dataclass(frozen=True)
class Barred:
    """A turf shape that a tool may not enter, and why."""

    shape: Shape
    reason: str


def barred_turf(drawing: Drawing, sprayer: Machine, *, tool: Tool) -> tuple[Barred, ...]:
    """Find the turf that a tool may not enter.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    sprayer : Machine
        The tool with the width it needs to pass. [-]
    tool : Tool
        Which tool it is. [-]

    Returns
    -------
    tuple[Barred, ...]
        The shapes, each with its reason. [-]

    Raises
    ------
    Nothing
        A gate or a width that nobody knows bars nothing; see ``unchecked_gates``.

    References
    ----------
    Our own rule.
    """
    return tuple(
        Barred(shape, reason)
        for shape in drawing.of_role(Role.TURF)
        for reason in _reasons(shape, sprayer, tool)
    )


def unchecked_gates(drawing: Drawing, sprayer: Machine) -> tuple[Shape, ...]:
    """Find the turf behind a gate that a machine of unknown width may not pass.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    sprayer : Machine
        The tool; one that is carried by hand passes every gate. [-]

    Returns
    -------
    tuple[Shape, ...]
        The shapes. [-]

    Raises
    ------
    Nothing
        What is not known is returned.

    References
    ----------
    Our own rule: unknown is not zero.
    """
    if sprayer.goes_anywhere or sprayer.width is not None:
        return ()
    gated = (shape for shape in drawing.of_role(Role.TURF) if shape.gate is not None)
    return tuple(shape for shape in gated if not shape.by_hand_only)


def _reasons(shape: Shape, sprayer: Machine, tool: Tool) -> Iterator[str]:
    gate, width = shape.gate, sprayer.width
    if shape.by_hand_only and tool is Tool.MACHINE:
        yield "marked for the hand tool only"
    elif gate is not None and width is not None and gate.si < width.si:
        yield f"the gate is {gate} wide and the {tool.words} needs {width}"
