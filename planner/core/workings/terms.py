"""Putting the names of inputs together to a formula."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from properties.core.working import Figure, Input


@dataclass(frozen=True)
class Extents:
    """What amounts follow: an area, a volume of spray, and the numbers of the loads.

    ``portion`` is what one of them is called: a spreader has passes instead of loads.
    """

    area: Input
    spray: Input
    loads: tuple[int, ...]
    portion: str = "load"


def below(place: str, figures: Iterable[Figure]) -> Iterator[Figure]:
    """Put figures below a place of the plan.

    Parameters
    ----------
    place : str
        Where they stand. [-]
    figures : Iterable[Figure]
        The figures, each with its own key. [-]

    Returns
    -------
    Iterator[Figure]
        The same figures. [-]

    Raises
    ------
    Nothing
        Any figure can stand anywhere.

    References
    ----------
    Our own notation.
    """
    for figure in figures:
        yield replace(figure, key=f"{place}.{figure.key}")


def summed(terms: Sequence[Input]) -> str:
    """Write the sum of inputs; of none, 0.

    Parameters
    ----------
    terms : Sequence[Input]
        The inputs. [-]

    Returns
    -------
    str
        Their names with plus signs. [-]

    Raises
    ------
    Nothing
        Any names can be joined.

    References
    ----------
    Our own notation.
    """
    return " + ".join(term.name for term in terms) or "0"


def grouped(terms: Sequence[Input]) -> str:
    """Write the sum of inputs so that it can stand in a product.

    Parameters
    ----------
    terms : Sequence[Input]
        The inputs. [-]

    Returns
    -------
    str
        Their names with plus signs, in brackets. [-]

    Raises
    ------
    Nothing
        Any names can be joined.

    References
    ----------
    Our own notation.
    """
    return f"({summed(terms)})"


def explained(title: str, terms: Sequence[tuple[str, str]]) -> str:
    """Say what the short names of a formula stand for.

    Parameters
    ----------
    title : str
        What the figure is. [-]
    terms : Sequence[tuple[str, str]]
        Each short name with what it stands for. [-]

    Returns
    -------
    str
        The title with the names explained. [-]

    Raises
    ------
    Nothing
        Any names can be joined.

    References
    ----------
    Our own notation.
    """
    told = ", ".join(f"{short} is {long}" for short, long in terms)
    return f"{title} ({told})" if told else title
