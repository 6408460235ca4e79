"""Reading what is known of mixing: order, pairs, jar tests, the water."""

from collections.abc import Sequence

from planner.core.mix.compatibility import JarTest, Mixing, Pair, WaterTest
from planner.core.mix.products import Product
from planner.core.request.mix import MOST_PRODUCTS
from planner.core.request.reader import Believable, Members, open_object
from properties.core.units import Dimension, Quantity

KNOWN = ("mixing_order", "do_not_mix", "jar_tests", "water_test")
KNOWN_OF_PAIR = ("products", "source", "blocks")
KNOWN_OF_JAR_TEST = ("products", "fits", "on", "by")
KNOWN_OF_WATER_TEST = ("potassium", "sodium", "calcium", "magnesium", "iron")

MOST_PAIRS = 1000
IONS = Believable(Quantity(0, "mg/L"), Quantity(5000, "mg/L"))


def read_mixing(whole: Members, products: Sequence[Product]) -> Mixing:
    """Read what is told about mixing.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    products : Sequence[Product]
        The mix as far as it could be read. [-]

    Returns
    -------
    Mixing
        What could be read. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return Mixing(
        order=_order(whole, products),
        pairs=_pairs(whole),
        jar_tests=_jar_tests(whole) if whole.has("jar_tests") else None,
        water_test=_water_test(whole),
    )


def _order(whole: Members, products: Sequence[Product]) -> tuple[str, ...] | None:
    names = _names(whole, "mixing_order", least=0)
    if names is None:
        return None
    if sorted(names) != sorted(product.name for product in products):
        whole.faults.add(
            "mixing_order",
            "This does not name every product of the mix once.",
            "Write the names of the mix, first into the tank first, or leave this out.",
        )
        return None
    return names


def _names(
    members: Members, name: str, *, least: int, most: int = MOST_PRODUCTS
) -> tuple[str, ...] | None:
    if not members.has(name):
        return None
    names = []
    for path, item in members.items(name, most=most, least=least):
        if isinstance(item, str) and item.strip():
            names.append(" ".join(item.split()))
        else:
            members.faults.add(path, "This is not a name.", "Write the name of a product.")
    return tuple(names)


def _pairs(whole: Members) -> tuple[Pair, ...]:
    pairs = []
    for path, item in whole.items("do_not_mix", most=MOST_PAIRS, least=0):
        members = open_object(whole.faults, path, item, KNOWN_OF_PAIR)
        if members is None:
            continue
        members.want("products", "Name the two products.")
        members.want("source", "Write where this comes from: a label, a test, your firm.")
        names = _names(members, "products", least=2, most=2)
        source = members.name("source")
        blocks = members.flag("blocks") if members.has("blocks") else True
        if names is not None and len(names) == 2 and source is not None:
            pairs.append(Pair((names[0], names[1]), source, blocks))
    return tuple(pairs)


def _jar_tests(whole: Members) -> tuple[JarTest, ...]:
    tests = []
    for path, item in whole.items("jar_tests", most=MOST_PAIRS, least=0):
        members = open_object(whole.faults, path, item, KNOWN_OF_JAR_TEST)
        if members is None:
            continue
        members.want("products", "Name what was in the jar.")
        members.want("fits", "Write true if it stayed as it should, false if not.")
        names, fits = _names(members, "products", least=2), members.flag("fits")
        on, by = members.day("on"), members.name("by")
        if names is not None:
            tests.append(JarTest(names, fits, on, by))
    return tuple(tests)


def _water_test(whole: Members) -> WaterTest | None:
    members = whole.within("water_test", KNOWN_OF_WATER_TEST)
    if members is None:
        return None
    return WaterTest(
        **{
            ion: members.quantity(ion, Dimension.MASS_PER_VOLUME, believable=IONS)
            for ion in KNOWN_OF_WATER_TEST
        }
    )
