"""Days on which ground is closed, whatever it has had: blackout dates, and ground that is sown."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta

from planner.core.limits.standing import Closure, Why
from planner.core.mix.products import Product
from planner.core.nutrient.nutrients import Nutrient
from planner.core.past import Blackout, Seeding
from planner.core.shown import day_said

_NUTRIENTS = {nutrient.value.casefold(): nutrient for nutrient in Nutrient} | {
    "nitrogen": Nutrient.N,
    "phosphorus": Nutrient.P,
    "phosphate": Nutrient.P2O5,
    "potassium": Nutrient.K,
    "potash": Nutrient.K2O,
}
#: More turns than limits, blackouts and seedings of one place could take.
_MOST_TURNS = 1000


def blackout_closures(
    blackouts: Iterable[Blackout], products: Sequence[Product], *, on: date
) -> Iterator[Closure]:
    """Find the blackouts that hold for a mix on a day.

    Parameters
    ----------
    blackouts : Iterable[Blackout]
        The rules. [-]
    products : Sequence[Product]
        The mix. [-]
    on : date
        The day. [-]

    Returns
    -------
    Iterator[Closure]
        One for each rule that holds. [-]

    Raises
    ------
    Nothing
        A rule about something else closes nothing.

    References
    ----------
    Each rule names its own.
    """
    for rule in blackouts:
        if rule.holds_on(on) and any(is_barred(rule, product) for product in products):
            again_on = rule.over_after(on)
            last = again_on - timedelta(days=1)
            unchecked = ", an example that nobody has checked" if rule.example else ""
            reason = f"no {rule.what} until {day_said(last)} ({rule.source}{unchecked})"
            yield Closure(Why.BLACKOUT, reason, again_on)


def is_barred(rule: Blackout, product: Product) -> bool:
    """Tell whether a blackout is about a product, or about something known to be in it.

    Parameters
    ----------
    rule : Blackout
        The rule. [-]
    product : Product
        A product of the mix. [-]

    Returns
    -------
    bool
        Whether the product may not be put down while the rule holds. [-]

    Raises
    ------
    Nothing
        Any product can be asked about.

    References
    ----------
    Our own rule.
    """
    if rule.product is not None:
        return product.name.casefold() == rule.product.casefold()
    return holds(product, rule.substance or "") is True


def holds(product: Product, substance: str) -> bool | None:
    """Tell whether a substance is in a product.

    Parameters
    ----------
    product : Product
        The product, with its label and, for a fertilizer, its grade. [-]
    substance : str
        An active ingredient or a nutrient. [-]

    Returns
    -------
    bool or None
        Whether it is in there, None where nobody says. [-]

    Raises
    ------
    Nothing
        Any name can be asked about.

    References
    ----------
    Our own rule: a grade tells all nutrients; nitrogen of which nobody knows how much is
    slow release counts as soluble.
    """
    nutrient = _NUTRIENTS.get(substance.casefold())
    if nutrient is not None and product.fertilizer is not None:
        return product.fertilizer.share_of(nutrient) != 0
    if product.contents is None:
        return None
    return any(content.is_of(substance) for content in product.contents)


def seed_closures(
    seedings: Iterable[Seeding], products: Sequence[Product], *, on: date
) -> Iterator[Closure]:
    """Find what closes sown ground to a mix on a day.

    Parameters
    ----------
    seedings : Iterable[Seeding]
        What was or will be sown there. [-]
    products : Sequence[Product]
        The mix, with what each label says of sowing. [-]
    on : date
        The day. [-]

    Returns
    -------
    Iterator[Closure]
        One for each label and seeding too near in time. [-]

    Raises
    ------
    Nothing
        What a label does not say closes nothing; the plan warns of it.

    References
    ----------
    The labels.
    """
    pairs = [(seeding, product) for seeding in seedings for product in products]
    for seeding, product in pairs:
        closure = _after(seeding, product, on) or _before(seeding, product, on)
        if closure is not None:
            yield closure


def _after(seeding: Seeding, product: Product, on: date) -> Closure | None:
    wait = product.label.seeding.after_days
    if wait is None or seeding.sown_on > on:
        return None
    again_on = seeding.sown_on + timedelta(days=wait)
    if on >= again_on:
        return None
    reason = f"sown on {day_said(seeding.sown_on)}; {product.name} wants {wait} days after sowing"
    return Closure(Why.SEEDED, reason, again_on)


def _before(seeding: Seeding, product: Product, on: date) -> Closure | None:
    wait = product.label.seeding.before_days
    if wait is None or seeding.sown_on <= on or (seeding.sown_on - on).days >= wait:
        return None
    after = product.label.seeding.after_days
    again_on = None if after is None else seeding.sown_on + timedelta(days=after)
    reason = (
        f"to be sown on {day_said(seeding.sown_on)}; {product.name} wants {wait} days before sowing"
    )
    return Closure(Why.TO_BE_SEEDED, reason, again_on)


def first_open_day(closures_on: Callable[[date], Sequence[Closure]], *, on: date) -> date | None:
    """Find the first day from a day on that nothing closes.

    Parameters
    ----------
    closures_on : Callable
        What closes the ground on a day, nothing new being put down. [-]
    on : date
        The day to begin with. [-]

    Returns
    -------
    date or None
        The day, None where something never ends. [-]

    Raises
    ------
    Nothing
        Ground that never opens has no such day.

    References
    ----------
    Our own derivation: each closure ends later than the day it closes, so the days rise.
    """
    day = on
    for _ in range(_MOST_TURNS):
        ends = [closure.open_again_on for closure in closures_on(day)]
        if not ends:
            return day
        known = [end for end in ends if end is not None]
        if len(known) < len(ends):
            return None
        day = max(known)
    return None
