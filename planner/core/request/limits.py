"""Reading what a label allows on one piece of ground, and what works in the product."""

import math
from collections.abc import Sequence

from planner.core.label.labels import EVERY_KIND, RATE_KINDS, SAME_NUMBER
from planner.core.label.limits import (
    CALENDAR_YEAR,
    NEW_YEAR,
    ActiveIngredient,
    SeedingWait,
    UseLimits,
    Year,
    YearKind,
)
from planner.core.request.days import month_day, whole_days
from planner.core.request.rates import RATES
from planner.core.request.reader import Believable, Faults, Members, open_object
from properties.core.units import Dimension, Quantity

KNOWN_OF_YEAR = ("year", "season_from")
KNOWN_OF_LIMITS = ("per_application", "per_year", *KNOWN_OF_YEAR, "uses_per_year", "interval")
KNOWN_OF_INGREDIENT = (
    *("name", "content", "acid_equivalent", "per_application", "per_year"),
    *KNOWN_OF_YEAR,
)
KNOWN_OF_SEEDING = ("after", "before")

MOST_INGREDIENTS = 10
MOST_USES = 100
DENSITIES = Believable(Quantity(0.3, "kg/L"), Quantity(3, "kg/L"))
CONTENTS = {
    Dimension.MASS_PER_VOLUME: Believable(Quantity(1e-6, "g/L"), Quantity(3, "kg/L")),
    Dimension.SHARE: Believable(Quantity(1e-7, "%"), Quantity(100, "%")),
}
_PER_AREA = (Dimension.VOLUME_PER_AREA, Dimension.MASS_PER_AREA)


def read_use_limits(label: Members, rate: Quantity | None) -> UseLimits:
    """Read the limits of a label.

    Parameters
    ----------
    label : Members
        The members of the label. [-]
    rate : Quantity or None
        The rate asked for, if it could be read: limits must be of its form. [-]

    Returns
    -------
    UseLimits
        The limits that could be read. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = label.within("limits", KNOWN_OF_LIMITS)
    if members is None:
        return UseLimits()
    each, in_all = (
        _in_form(members, name, members.quantity(name, *_PER_AREA), rate)
        for name in ("per_application", "per_year")
    )
    return UseLimits(
        each,
        in_all,
        read_year(members) or CALENDAR_YEAR,
        members.whole("uses_per_year", least=1, most=MOST_USES),
        whole_days(members, "interval"),
    )


def read_ingredients(
    label: Members, rate: Quantity | None, year: Year
) -> tuple[ActiveIngredient, ...] | None:
    """Read what works in a product, with the limits that its label sets for each.

    Parameters
    ----------
    label : Members
        The members of the label. [-]
    rate : Quantity or None
        The rate asked for, if it could be read. [-]
    year : Year
        The year of the label, for an ingredient without its own. [-]

    Returns
    -------
    tuple[ActiveIngredient, ...] or None
        What could be read, None where nobody says. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if not label.has("active_ingredients"):
        return None
    found: list[ActiveIngredient] = []
    for path, item in label.items("active_ingredients", most=MOST_INGREDIENTS, least=0):
        ingredient = _ingredient(label.faults, path, item, year)
        if ingredient is None:
            continue
        _check_new(label.faults, path, ingredient, found)
        _check_content(label, path, ingredient, rate)
        found.append(ingredient)
        _check_sum(label.faults, path, found)
    return tuple(found)


def read_seeding(label: Members) -> SeedingWait:
    """Read how long a label wants to wait before and after sowing.

    Parameters
    ----------
    label : Members
        The members of the label. [-]

    Returns
    -------
    SeedingWait
        The days. [day]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = label.within("seeding", KNOWN_OF_SEEDING)
    if members is None:
        return SeedingWait()
    return SeedingWait(whole_days(members, "after"), whole_days(members, "before"))


def read_year(members: Members) -> Year | None:
    """Read the year that a limit is counted in.

    Parameters
    ----------
    members : Members
        Where ``year`` and ``season_from`` stand. [-]

    Returns
    -------
    Year or None
        The year, None where nobody says or there are faults. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    word = members.choice("year", tuple(YearKind))
    begins = month_day(members, "season_from")
    is_season = word == YearKind.SEASON
    if is_season:
        members.want("season_from", "Write the day the season begins, for example 03-01.")
    elif members.has("season_from"):
        remedy = "Write “season” in “year”, or leave this out."
        members.faults.add(members.path_of("season_from"), "Only a season begins on a day.", remedy)
    return None if word is None else Year(YearKind(word), begins or NEW_YEAR)


def _in_form(
    members: Members, name: str, limit: Quantity | None, rate: Quantity | None
) -> Quantity | None:
    """Check that a limit can be compared with the rate: weight with weight."""
    if limit is None:
        return None
    path, faults = members.path_of(name), members.faults
    form = RATE_KINDS[limit.dimension].form
    if rate is not None and EVERY_KIND[rate.dimension].form is not form:
        what = EVERY_KIND[rate.dimension].form
        remedy = "Write the limit in the measure of the rate."
        faults.add(path, f"{limit} cannot be compared with the rate of a {what} product.", remedy)
        return None
    return faults.trying(lambda: RATES[limit.dimension].check(limit, field=path))


def _ingredient(faults: Faults, path: str, value: object, year: Year) -> ActiveIngredient | None:
    members = open_object(faults, path, value, KNOWN_OF_INGREDIENT)
    if members is None:
        return None
    members.want("name", "Write what it is called on the label.")
    members.want("content", "Write how much of it is in the product, for example 4 lb/gal.")
    name = members.name("name")
    content, acid = _content(members, "content"), _content(members, "acid_equivalent")
    each, in_all = (
        members.quantity(limit, Dimension.MASS_PER_AREA, believable=RATES[Dimension.MASS_PER_AREA])
        for limit in ("per_application", "per_year")
    )
    own_year = read_year(members) or year
    if name is None or content is None:
        return None
    if acid is not None and acid.dimension is not content.dimension:
        faults.add(
            members.path_of("acid_equivalent"),
            f"{acid} is a {acid.dimension} and the content a {content.dimension}.",
            "Copy both in the same measure.",
        )
    elif acid is not None and acid.si > content.si * (1 + SAME_NUMBER):
        faults.add(
            members.path_of("acid_equivalent"),
            f"{acid} is more than the content, {content}, and the acid is a part of it.",
            "Copy both again: the first must be the smaller.",
        )
    return ActiveIngredient(name, content, UseLimits(each, in_all, own_year), acid)


def _content(members: Members, name: str) -> Quantity | None:
    content = members.quantity(name, *CONTENTS)
    if content is None:
        return None
    path, believable = members.path_of(name), CONTENTS[content.dimension]
    return members.faults.trying(lambda: believable.check(content, field=path))


def _check_new(
    faults: Faults, path: str, ingredient: ActiveIngredient, before: Sequence[ActiveIngredient]
) -> None:
    if ingredient.name.casefold() in {other.name.casefold() for other in before}:
        faults.add(f"{path}.name", f"{ingredient.name} is there twice.", "Keep it once.")


def _check_sum(faults: Faults, path: str, ingredients: Sequence[ActiveIngredient]) -> None:
    """A product cannot hold more than all of its weight."""
    shares = [each.content.si for each in ingredients if each.content.dimension is Dimension.SHARE]
    whole = math.fsum(shares)
    if whole > 1 + SAME_NUMBER:
        faults.add(
            f"{path}.content",
            f"With those before it that is {whole:.4g} times the weight of the product.",
            "Copy each share of the weight again from the label.",
        )


def _check_content(
    label: Members, path: str, ingredient: ActiveIngredient, rate: Quantity | None
) -> None:
    """A share of the weight tells nothing of a volume, nor the other way, without a density."""
    if rate is None or label.has("density"):
        return
    kind = EVERY_KIND[rate.dimension]
    by_weight = ingredient.content.dimension is Dimension.SHARE
    if by_weight != kind.is_weighed:
        measured = "weight" if kind.is_weighed else "volume"
        label.faults.add(
            f"{path}.content",
            f"{ingredient.content} cannot be told from the {measured} of the product.",
            "Add what the product weighs, for example “density”: 9.2 lb/gal, to its label.",
        )
