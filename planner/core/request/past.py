"""Reading what a place has had before, when it gets nothing, and where it was sown."""

from collections.abc import Sequence
from datetime import date

import shapely
from shapely.geometry.base import BaseGeometry

from planner.core.label.labels import RATE_KINDS, Form
from planner.core.label.substances import Content, kg_per_amount
from planner.core.mix.products import Product
from planner.core.past import Blackout, Past, PastApplication, Seeding
from planner.core.request.days import month_day, working_day
from planner.core.request.limits import CONTENTS, DENSITIES
from planner.core.request.past_nutrients import read_past_nutrients
from planner.core.request.rates import RATES
from planner.core.request.reader import Faults, Members, open_object
from properties.core.outlines import read_area
from properties.core.units import Dimension, Quantity

KNOWN_OF_HISTORY = ("on", "product", "rate", "where", "active_ingredients", "density", "fertilizer")
KNOWN_OF_CONTENT = ("name", "content")
KNOWN_OF_BLACKOUT = ("product", "substance", "from", "to", "source", "example")
KNOWN_OF_SEEDING = ("on", "where")

MOST_APPLICATIONS = 500
MOST_CORNERS = 100_000
MOST_BLACKOUTS = 100
MOST_SEEDINGS = 100
MOST_CONTENTS = 20
_PER_AREA = (Dimension.VOLUME_PER_AREA, Dimension.MASS_PER_AREA)


def read_past(whole: Members, products: Sequence[Product], *, on: date | None) -> Past:
    """Read the history of a request, its blackout dates and its seedings.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    products : Sequence[Product]
        The mix as far as it could be read. [-]
    on : date or None
        The day of the work, if it was given and could be read. [-]

    Returns
    -------
    Past
        What could be read. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    _want_a_day(whole, products)
    read = [
        _application(whole.faults, path, item, products, on)
        for path, item in whole.items("history", most=MOST_APPLICATIONS, least=0)
    ]
    history = tuple(entry for entry in read if entry is not None)
    if sum(shapely.get_num_coordinates(entry.where) for entry in history) > MOST_CORNERS:
        remedy = "Leave out corners on straight lines."
        whole.faults.add("history", f"These areas have more than {MOST_CORNERS:,} corners.", remedy)
    return Past(
        history if whole.has("history") else None,
        tuple(_blackouts(whole)),
        tuple(_seedings(whole)),
        _since(whole),
    )


def _since(whole: Members) -> date | None:
    since = working_day(whole, "history_since")
    if since is not None and not whole.has("history"):
        remedy = "List what was put down since, or write [] where nothing was."
        whole.faults.add("history_since", "There is no “history” that this could be about.", remedy)
    return since


def _want_a_day(whole: Members, products: Sequence[Product]) -> None:
    """Nothing that depends on the day can be told without it."""
    if whole.has("on"):
        return
    asks = [name for name in ("history", "blackouts", "seedings") if whole.values.get(name)]
    if any(product.label.limits.interval_days is not None for product in products):
        asks.append("the interval of a label")
    if asks:
        whole.faults.add(
            "on",
            f"The request does not say on which day it is, and {asks[0]} depends on it.",
            'Add the day of the work, for example "on": "2026-05-20".',
        )


def _application(
    faults: Faults, path: str, value: object, products: Sequence[Product], on: date | None
) -> PastApplication | None:
    members = open_object(faults, path, value, KNOWN_OF_HISTORY)
    if members is None:
        return None
    members.want("on", "Write the day it was put down, for example 2026-04-10.")
    members.want("product", "Write what the product is called.")
    members.want("rate", "Write how much the ground got, for example 1.2 fl oz/1000 sq ft.")
    applied_on, name = _day_before(members, on), members.name("product")
    where = _where(members)
    mixed = _mixed(name, products)
    rate = _rate(members, mixed)
    if applied_on is None or name is None or rate is None or where is None:
        return None
    contents = _contents(members, rate)
    if contents is None and mixed is not None and not members.has("active_ingredients"):
        contents = mixed.contents
    nutrients = read_past_nutrients(members, mixed, rate)
    return PastApplication(path, applied_on, name, rate, where, contents, nutrients)


def _mixed(name: str | None, products: Sequence[Product]) -> Product | None:
    """The product of the mix that has this name, if there is one."""
    if name is None:
        return None
    same = (product for product in products if product.name.casefold() == name.casefold())
    return next(same, None)


def _day_before(members: Members, on: date | None) -> date | None:
    day = working_day(members, "on")
    if day is None or on is None or day <= on:
        return day
    remedy = "Leave out what was put down later, or correct one of the two days."
    members.faults.add(members.path_of("on"), f"{day} is after {on}, the day of the work.", remedy)
    return None


def _where(members: Members) -> BaseGeometry | None:
    if not members.want("where", "Write the ground as a GeoJSON Polygon or MultiPolygon."):
        return None
    value, path = members.values["where"], members.path_of("where")
    return members.faults.trying(lambda: read_area(value, field=path))


def _rate(members: Members, mixed: Product | None) -> Quantity | None:
    rate = members.quantity("rate", *_PER_AREA)
    if rate is None:
        return None
    path, faults = members.path_of("rate"), members.faults
    if mixed is not None and mixed.kind.form is not RATE_KINDS[rate.dimension].form:
        problem = f"{rate} cannot be compared with {mixed.rate}, the rate of {mixed.name} now."
        faults.add(path, problem, "Write both as a volume or both as a weight.")
        return None
    return faults.trying(lambda: RATES[rate.dimension].check(rate, field=path))


def _contents(members: Members, rate: Quantity) -> tuple[Content, ...] | None:
    """What was in the product; None where nobody says."""
    density = members.quantity("density", Dimension.MASS_PER_VOLUME, believable=DENSITIES)
    if not members.has("active_ingredients"):
        return None
    form = RATE_KINDS[rate.dimension].form
    read = [
        _content(members.faults, path, item, form, density)
        for path, item in members.items("active_ingredients", most=MOST_CONTENTS, least=0)
    ]
    return tuple(content for content in read if content is not None)


def _content(
    faults: Faults, path: str, value: object, form: Form, density: Quantity | None
) -> Content | None:
    members = open_object(faults, path, value, KNOWN_OF_CONTENT)
    if members is None:
        return None
    members.want("name", "Write what it is called on the label.")
    members.want("content", "Write how much of it is in the product, for example 4 lb/gal.")
    name, content = members.name("name"), members.quantity("content", *CONTENTS)
    if name is None or content is None:
        return None
    amount = kg_per_amount(content, form=form, density=density)
    if amount is None:
        problem = f"{content} cannot be told from the measure of the rate."
        faults.add(members.path_of("content"), problem, "Add the “density” of the product.")
        return None
    return Content(name, amount)


def _blackouts(whole: Members) -> list[Blackout]:
    read = []
    for path, item in whole.items("blackouts", most=MOST_BLACKOUTS, least=0):
        members = open_object(whole.faults, path, item, KNOWN_OF_BLACKOUT)
        blackout = None if members is None else _blackout(members)
        if blackout is not None:
            read.append(blackout)
    return read


def _blackout(members: Members) -> Blackout | None:
    for end, day in (("from", "12-01"), ("to", "03-01")):
        members.want(end, f"Write the month and the day, for example {day}.")
    members.want("source", "Write where the rule comes from: a law, a label, your firm.")
    product, substance = members.name("product"), members.name("substance")
    first, last = month_day(members, "from"), month_day(members, "to")
    source, example = members.name("source"), members.flag("example")
    if members.has("product") == members.has("substance"):
        remedy = "Write either a “product” or a “substance”."
        members.faults.add(members.path, "It is not clear what may not be put down.", remedy)
        return None
    if first is None or last is None or source is None:
        return None
    blackout = Blackout(first, last, source, product, substance, example)
    if blackout.is_always:
        remedy = "Write the first day of the blackout in “from” and the last in “to”."
        members.faults.add(members.path_of("to"), "This leaves no day of the year.", remedy)
        return None
    return blackout


def _seedings(whole: Members) -> list[Seeding]:
    read = []
    for path, item in whole.items("seedings", most=MOST_SEEDINGS, least=0):
        members = open_object(whole.faults, path, item, KNOWN_OF_SEEDING)
        if members is None:
            continue
        members.want("on", "Write the day it was or will be sown, for example 2026-04-10.")
        sown_on, where = working_day(members, "on"), _where(members)
        if sown_on is not None and where is not None:
            read.append(Seeding(path, sown_on, where))
    return read
