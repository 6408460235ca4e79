"""Keeping what a firm knows of mixing: pairs, jar tests, its water."""

from datetime import datetime

from django.db import transaction

from planner.core.request.mixing import IONS
from planner.models import JarTest, Mix, ProductPair, WaterTest
from planner.selectors.mixing import IONS as ION_NAMES
from properties.core.errors import Refused
from properties.models import Person

#: With fewer there is nothing that could not go together.
FEWEST_IN_A_JAR = 2


@transaction.atomic
def keep_pair(pair: ProductPair, *, person: Person, at: datetime) -> ProductPair:
    """Keep two products that do not go together, in the order of their names."""
    if pair.first.name.casefold() > pair.second.name.casefold():
        pair.first, pair.second = pair.second, pair.first
    pair.firm, pair.entered_by, pair.entered_on = person.firm, person, at.date()
    pair.full_clean()
    pair.save()
    return pair


@transaction.atomic
def forget_pair(pair: ProductPair) -> None:
    """Let two products share a tank again."""
    pair.delete()


@transaction.atomic
def record_jar_test(mix: Mix, *, person: Person, at: datetime, fits: bool, note: str) -> JarTest:
    """Write down what came of a mix in a jar, with its products as they are now."""
    products = [part.product.name for part in mix.parts.all()]
    if len(products) < FEWEST_IN_A_JAR:
        raise Refused(
            "mix",
            f"{mix} holds one product only.",
            "Choose a mix of two products or more: one alone needs no jar.",
        )
    test = JarTest(
        firm=person.firm,
        products=products,
        fits=fits,
        tried_on=at.date(),
        tried_by=person,
        note=note,
    )
    test.full_clean()
    test.save()
    return test


@transaction.atomic
def keep_water_test(test: WaterTest) -> WaterTest:
    """Keep what was found in the water. Refused where it cannot be right."""
    test.full_clean()
    for ion in ION_NAMES:
        found = getattr(test, ion)
        if found is not None:
            IONS.check(found, field=ion)
    test.save()
    return test
