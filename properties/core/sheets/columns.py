"""What the columns of a list hold: a guess from their headings, and a person's choice."""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from properties.core.sheets.cells import Cell, cell_text
from properties.core.sheets.numbers import Decimals


class Fact(StrEnum):
    """What a column may tell about a property."""

    ADDRESS = "address"
    NAME = "name"
    CUSTOMER = "customer"
    PHONE = "phone"
    EMAIL = "email"
    NOTE = "note"
    AREA = "area"
    LATITUDE = "latitude"
    LONGITUDE = "longitude"


#: Facts that several columns may tell together, one after the other.
TOLD_IN_PARTS = frozenset({Fact.ADDRESS, Fact.NOTE})
NUMBERS = frozenset({Fact.AREA, Fact.LATITUDE, Fact.LONGITUDE})

#: The first word that a heading holds decides, in this order.
_SPOKEN = (
    (Fact.EMAIL, ("email", "e mail", "mail", "correo")),
    (Fact.PHONE, ("phone", "telephone", "mobile", "cell", "tel", "telefono")),
    (Fact.LATITUDE, ("latitude", "lat", "latitud")),
    (Fact.LONGITUDE, ("longitude", "lon", "lng", "long", "longitud")),
    (
        Fact.AREA,
        (
            *("area", "turf", "lawn size", "size", "sq ft", "sqft", "square feet", "acres"),
            *("acreage", "m2", "sq m", "square metres", "square meters", "hectares"),
            "superficie",
        ),
    ),
    (Fact.CUSTOMER, ("customer", "client", "owner", "resident", "bill to", "cliente")),
    (
        Fact.ADDRESS,
        (
            *("address", "street", "city", "town", "state", "zip", "postcode", "postal code"),
            *("house number", "direccion", "calle", "ciudad"),
        ),
    ),
    (Fact.NOTE, ("note", "notes", "access", "gate", "comment", "comments", "remarks", "nota")),
    (Fact.NAME, ("property", "lot", "site", "name", "unit", "nombre", "propiedad")),
)


@dataclass(frozen=True)
class Columns:
    """How the columns of a list are to be read, as somebody confirmed it.

    ``facts`` has one entry for each column, none for one that is not used. What no
    column tells is told once for all rows.
    """

    heading_row: int
    facts: tuple[Fact | None, ...]
    decimals: Decimals
    area_unit: str = ""
    customer_for_all: str = ""
    #: Whether rows without a position share one.
    position_for_all: bool = True

    def positions_of(self, fact: Fact) -> tuple[int, ...]:
        """The columns that tell a fact, from the left."""
        return tuple(n for n, told in enumerate(self.facts) if told is fact)

    def to_json(self) -> dict[str, object]:
        """Write the choice as plain JSON."""
        return {
            "heading_row": self.heading_row,
            "facts": [fact and str(fact) for fact in self.facts],
            "decimals": str(self.decimals),
            "area_unit": self.area_unit,
            "customer_for_all": self.customer_for_all,
            "position_for_all": self.position_for_all,
        }

    @classmethod
    def of_json(cls, written: dict[str, object]) -> "Columns":
        """Read a choice that was written as JSON."""
        facts = written["facts"]
        assert isinstance(facts, list)  # noqa: S101
        return cls(
            heading_row=int(str(written["heading_row"])),
            facts=tuple(Fact(fact) if fact else None for fact in facts),
            decimals=Decimals(str(written["decimals"])),
            area_unit=str(written["area_unit"]),
            customer_for_all=str(written["customer_for_all"]),
            position_for_all=bool(written["position_for_all"]),
        )


def heading_row_of(rows: Sequence[Sequence[Cell]]) -> int:
    """Guess which row names the columns: the first with two texts and no number in it.

    Parameters
    ----------
    rows : sequence of rows
        The rows of a table. [-]

    Returns
    -------
    int
        The row, counted from one; the first filled one where none looks so. [-]

    Raises
    ------
    Nothing
        There is always a guess.

    References
    ----------
    Our own rule: a title above the headings is one cell alone.
    """
    filled = [n for n, row in enumerate(rows, start=1) if row]
    for number in filled[:10]:
        texts = [cell_text(cell) for cell in rows[number - 1] if cell_text(cell)]
        if len(texts) > 1 and not any(re.fullmatch(r"[\d\s.,+-]+", text) for text in texts):
            return number
    return filled[0] if filled else 1


def guessed_facts(headings: Sequence[str]) -> tuple[Fact | None, ...]:
    """Guess from its heading what each column tells.

    Parameters
    ----------
    headings : sequence of str
        The headings, one for each column. [-]

    Returns
    -------
    tuple of Fact or nothing
        One for each column; a fact that one column must tell is guessed once. [-]

    Raises
    ------
    Nothing
        A heading that says nothing to us is no fact.

    References
    ----------
    Our own list of words.
    """
    taken: set[Fact] = set()
    guesses: list[Fact | None] = []
    for heading in headings:
        fact = _spoken_of(heading)
        fresh = fact if fact in TOLD_IN_PARTS or fact not in taken else None
        guesses.append(fresh)
        taken |= {fresh} if fresh else set()
    return tuple(guesses)


def plain_words(text: str) -> str:
    """Small letters and digits with single spaces, accents taken off.

    Parameters
    ----------
    text : str
        Any text. [-]

    Returns
    -------
    str
        Its words. [-]

    Raises
    ------
    Nothing
        Any text has words, or none.

    References
    ----------
    Unicode Standard Annex 15, normalization form KD.
    """
    apart = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return " ".join(re.findall(r"[^\W_]+", bare))


def _spoken_of(heading: str) -> Fact | None:
    words = f" {plain_words(heading)} "
    return next(
        (fact for fact, spoken in _SPOKEN if any(f" {word} " in words for word in spoken)), None
    )
