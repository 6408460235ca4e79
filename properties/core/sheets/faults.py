"""What is wrong in a row of a list: where it stands, what it says, what to do."""

from dataclasses import dataclass

from properties.core.errors import Refused


@dataclass(frozen=True)
class RowFault:
    """One fault: the row as a spreadsheet counts it, the heading of the column, the value."""

    row: int
    column: str
    value: str
    problem: str
    remedy: str


def fault_of(refused: Refused, *, row: int, column: str, value: str) -> RowFault:
    """Say a refusal of a cell as a fault of its row.

    Parameters
    ----------
    refused : Refused
        What was refused. [-]
    row : int
        The row, counted from one. [-]
    column : str
        The heading of the column. [-]
    value : str
        What stands there. [-]

    Returns
    -------
    RowFault
        The fault. [-]

    Raises
    ------
    Nothing
        Any refusal can be told.

    References
    ----------
    Our own rule.
    """
    return RowFault(row, column, value[:80], refused.problem, refused.remedy)
