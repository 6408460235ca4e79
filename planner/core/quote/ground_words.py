"""The area of a quote with its error bar, and its drawing, in plain words."""

from collections.abc import Sequence
from typing import Any

from planner.core.quote.said import quantity_said

Json = dict[str, Any]


def area_words(plans: Sequence[Json]) -> str:
    """Say how much ground is treated, and how far off that may be.

    Parameters
    ----------
    plans : Sequence of dict
        The plan of each visit; at least one. [units shown]

    Returns
    -------
    str
        A sentence or two. [units shown]

    Raises
    ------
    Nothing
        An error bar that nobody knows is told as such.

    References
    ----------
    The plans.
    """
    largest = max(plans, key=_treatable)
    smallest = min(plans, key=_treatable)
    area, least = (quantity_said(plan["treatable_area"]) for plan in (largest, smallest))
    between = "" if area == least else f"; at some visits less, down to {least}"
    turf = quantity_said(largest["turf_area"])
    return (
        f"Of {turf} of turf on our drawing we treat {area}{between}. The rest stays untreated, as "
        f"the drawing shows. {_off(largest)}"
    )


def _treatable(plan: Json) -> float:
    return float(plan["treatable_area"]["value"])


def _off(plan: Json) -> str:
    told = plan.get("uncertainty")
    if told is None:
        why = plan.get("uncertainty_unknown") or "Nobody wrote down how the corners were measured."
        return f"How far off this measure may be is not known. {why}"
    off = quantity_said(told["treatable_area"]["plus_minus"])
    return (
        f"Any measure is a little off: the true area is within {off} of ours, more or less, 95 "
        "times in 100."
    )


def drawing_words(place: str, area: str, promises: Sequence[Json]) -> str:
    """Tell the drawing to somebody who cannot see it.

    Parameters
    ----------
    place : str
        What the property is called. [-]
    area : str
        What is said of its area. [-]
    promises : Sequence of dict
        What is kept from each protected feature. [-]

    Returns
    -------
    str
        The drawing in words. [-]

    Raises
    ------
    Nothing
        Every drawing can be told.

    References
    ----------
    WCAG 2.2, 1.1.1: a text alternative that serves the same purpose.
    """
    features = "; ".join(f"{each['number']}, {each['name']}" for each in promises)
    protected = f" Numbered on it: {features}." if features else ""
    return f"Drawing of {place}, north up. {area}{protected}"
