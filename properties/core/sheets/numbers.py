"""Numbers as people write them in lists: 1,250.5 and 1.250,5 and 1 250,5."""

import re
from collections.abc import Iterable
from enum import StrEnum

from properties.core.errors import Refused
from properties.core.sheets.cells import Cell, cell_text


class Decimals(StrEnum):
    """What stands before the decimals of a number."""

    POINT = "point"
    COMMA = "comma"


_GAP = "[ \u00a0\u2009\u202f'’]"
_WRITTEN = {
    Decimals.POINT: (",", r"\."),
    Decimals.COMMA: (r"\.", ","),
}
_PATTERNS = {
    style: re.compile(
        rf"([+-]?(?:\d{{1,3}}(?:{group}\d{{3}})+|\d{{1,3}}(?:{_GAP}\d{{3}})+|\d+|(?={point}\d))"
        rf"(?:{point}\d+)?)(.*)",
        re.DOTALL,
    )
    for style, (group, point) in _WRITTEN.items()
}
_EXAMPLE = {Decimals.POINT: "1,250.5", Decimals.COMMA: "1.250,5"}


def number_and_rest(cell: Cell, decimals: Decimals) -> tuple[float, str]:
    """Read the number a cell begins with, and give the text after it.

    Parameters
    ----------
    cell : Cell
        A number of the file itself, or text. [-]
    decimals : Decimals
        What stands before the decimals in text. [-]

    Returns
    -------
    tuple of float and str
        The number, and what follows it, without spaces around. [as written]

    Raises
    ------
    Refused
        If the text does not begin with a number written this way.

    References
    ----------
    Our own rule: digits in groups of three, or no groups at all.
    """
    if not isinstance(cell, str):
        return cell, ""
    text = cell_text(cell).replace("\u2212", "-")
    found = _PATTERNS[decimals].fullmatch(text)
    if found is None or re.match(r"[\d.,]", found[2]):
        raise Refused(
            "number", f"“{text[:60]}” is not a number.", f"Write it like {_EXAMPLE[decimals]}."
        )
    digits = re.sub(_GAP, "", found[1])
    plain = (
        digits.replace(",", "")
        if decimals is Decimals.POINT
        else digits.replace(".", "").replace(",", ".")
    )
    return float(plain), found[2].strip()


def decimals_of(cells: Iterable[Cell], *, separator: str) -> tuple[Decimals, bool]:
    """Guess what stands before the decimals, and say whether anything shows it.

    Parameters
    ----------
    cells : iterable of Cell
        The cells of columns that hold numbers. [-]
    separator : str
        What stands between columns: a semicolon is common where a comma is for decimals. [-]

    Returns
    -------
    tuple of Decimals and bool
        The guess; true where a number can be read in no other way. [-]

    Raises
    ------
    Nothing
        There is always a guess.

    References
    ----------
    Our own rule: “1,250” can be read both ways, “12,5” and “1,250.5” only in one.
    """
    texts = [cell for cell in cells if isinstance(cell, str) and any(map(str.isdigit, cell))]
    only = dict.fromkeys(Decimals, 0)
    for text in texts:
        readable = [style for style in Decimals if _reads(text, style)]
        if len(readable) == 1:
            only[readable[0]] += 1
    if only[Decimals.POINT] == only[Decimals.COMMA]:
        return (Decimals.COMMA if separator == ";" else Decimals.POINT), not texts
    return max(only, key=lambda style: only[style]), True


def _reads(text: str, style: Decimals) -> bool:
    try:
        number_and_rest(text, style)
    except Refused:
        return False
    return True
