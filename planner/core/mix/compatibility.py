"""What a firm knows of products that go together or do not, and what to try in a jar.

Amounts are L or kg for a jar of some spray; ions of the water are mg/L, which is ppm.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.findings import Finding, Findings
from planner.core.mix.products import Product
from planner.core.shown import Units, listed
from properties.core.units import Quantity

#: With more products than this a mix is tried in a jar, whoever mixed it before.
FEW_PRODUCTS = 3
#: The jar of a jar test, and what the small amounts of liquids (true) and of the rest are in.
JARS = {Units.US: Quantity(1.0, "pt"), Units.METRIC: Quantity(500.0, "mL")}
SMALL_UNITS = {True: "mL", False: "g"}


@dataclass(frozen=True)
class Pair:
    """Two products that must not share a tank (``blocks``), or only with care."""

    products: tuple[str, str]
    source: str
    blocks: bool = True


@dataclass(frozen=True)
class JarTest:
    """What came of products that somebody put together in a jar."""

    products: tuple[str, ...]
    fits: bool
    on: date | None = None
    by: str | None = None


@dataclass(frozen=True)
class WaterTest:
    """What was found in the water, by weight in its volume; what is None was not tested."""

    potassium: Quantity | None = None
    sodium: Quantity | None = None
    calcium: Quantity | None = None
    magnesium: Quantity | None = None
    iron: Quantity | None = None


@dataclass(frozen=True)
class Mixing:
    """What is told about mixing. ``order`` is a label's, by name.

    ``jar_tests`` is None where nobody keeps any.
    """

    order: tuple[str, ...] | None = None
    pairs: tuple[Pair, ...] = ()
    jar_tests: tuple[JarTest, ...] | None = None
    water_test: WaterTest | None = None


NOTHING_TOLD = Mixing()


def compatibility_findings(products: Sequence[Product], mixing: Mixing) -> Findings:
    """Say which products of a mix do not go together, and whether to try it in a jar.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    mixing : Mixing
        What is known of pairs and of mixes that were tried. [-]

    Returns
    -------
    Findings
        A refusal for what must not be mixed, a warning for what was never tried. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    A jar test for a new mix: Iowa State University turf group, Tank Mixing Procedures,
    SportsField Management, May/June 2021.
    """
    found = Findings()
    for pair in mixing.pairs:
        if _named(pair.products) <= _named(product.name for product in products):
            found += _pair_found(pair)
    return found + _jar_findings(products, mixing.jar_tests)


def jar_amount(product: Product, *, jar_l: float, output_l_per_m2: float) -> float:
    """Scale a product down from the tank to a jar.

    Parameters
    ----------
    product : Product
        A product of the mix. [-]
    jar_l : float
        Spray in the jar, > 0. [L]
    output_l_per_m2 : float
        Finished spray that the tool puts down, > 0. [L/m²]

    Returns
    -------
    float
        The amount for the jar. [L or kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: concentration = rate per area / output, as in the tank.
    """
    concentration = product.rate.si / output_l_per_m2 if product.by_area else product.rate.si
    return concentration * jar_l


def _named(names: Iterable[str]) -> frozenset[str]:
    return frozenset(name.casefold() for name in names)


def _pair_found(pair: Pair) -> Findings:
    first, second = pair.products
    if pair.blocks:
        message = (
            f"{first} and {second} must not share a tank ({pair.source}). Spray them apart, and "
            "rinse the tank between them."
        )
        return Findings(refusals=(Finding("do_not_mix", message, product=first),))
    message = f"{first} and {second} go together only with care: {pair.source}."
    return Findings((Finding("mix_with_care", message, product=first),))


def _jar_findings(products: Sequence[Product], tests: Sequence[JarTest] | None) -> Findings:
    if tests is None or len(products) < 2:
        return Findings()
    mix = _named(product.name for product in products)
    failed = [test for test in tests if not test.fits and _named(test.products) <= mix]
    if failed:
        return _failed(failed[-1])
    tried = any(test.fits and _named(test.products) == mix for test in tests)
    if tried and len(products) <= FEW_PRODUCTS:
        return Findings()
    why = (
        f"{len(products)} products are many for one tank"
        if tried
        else "nobody here has put just these products together before"
    )
    message = (
        f"Try this mix in a jar first: {why}. Put them in in the same order, wait, look for "
        "flakes, gel, heat or layers, and write down what came of it."
    )
    return Findings((Finding("jar_test_needed", message),))


def _failed(test: JarTest) -> Findings:
    when = "" if test.on is None else f" on {test.on}"
    who = "" if test.by is None else f" by {test.by}"
    message = (
        f"{listed(list(test.products))} did not go together in a jar{when}{who}. Spray them "
        "apart, or try them again another way and write down what came of it."
    )
    return Findings(refusals=(Finding("jar_test_failed", message),))
