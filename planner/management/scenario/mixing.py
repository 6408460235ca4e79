"""The labels, the mixes and what the firm of the demo knows of mixing. All of it is invented."""

from datetime import date, datetime
from typing import Any

from planner.models import LabelLine, Mix, Product, ProductPair, WaterTest
from planner.selectors.labels import newest_version
from planner.selectors.mixing import IONS, jar_tests_of, pairs_of, water_test_of
from planner.selectors.products import mixes_of, products_of
from planner.services.labels import check_label, keep_label
from planner.services.mixes import keep_mix
from planner.services.mixing import keep_pair, keep_water_test, record_jar_test
from properties.core.units import parse_quantity
from properties.models import Person
from properties.selectors.people import people_of

Json = dict[str, Any]

_ROWS = ("setbacks", "lines")


def write_labels(written: Json, owner: Person) -> None:
    """Enter the labels, and let a second person compare them."""
    present = set(products_of(owner).values_list("name", flat=True))
    second = people_of(owner).get(email=written["labels_compared_by"])
    for facts in written["labels"]:
        if facts["name"] in present:
            continue
        product = keep_label(
            Product(
                firm=owner.firm,
                entered_by=owner,
                entered_at=datetime.fromisoformat(written["founded_at"]),
                is_invented=True,
                **{word: value for word, value in facts.items() if word not in _ROWS},
            ),
            setbacks={
                kind: parse_quantity(distance) for kind, distance in facts["setbacks"].items()
            },
            lines=[
                _line(position, line) for position, line in enumerate(facts.get("lines", ()), 1)
            ],
        )
        version = newest_version(product)
        if version is not None:
            at = datetime.fromisoformat(written["labels_compared_at"])
            check_label(version, person=second, at=at)


def _line(position: int, told: Json) -> LabelLine:
    rates = {
        end: parse_quantity(told[end]) if end in told else None for end in ("rate_min", "rate_max")
    }
    words = {word: value for word, value in told.items() if word not in rates}
    return LabelLine(position=position, **words, **rates)


def write_mixes(written: Json, owner: Person) -> None:
    """Put the mixes together."""
    present = set(mixes_of(owner).values_list("name", flat=True))
    for facts in written["mixes"]:
        if facts["name"] not in present:
            parts = [
                (products_of(owner).get(name=name), parse_quantity(rate))
                for name, rate, *_ in facts["parts"]
            ]
            lines = facts.get("lines") or [None] * len(parts)
            keep_mix(
                Mix(firm=owner.firm, name=facts["name"]),
                parts=parts,
                lines=[
                    product.lines.get(target=target) if target else None
                    for (product, _), target in zip(parts, lines, strict=True)
                ],
                nutrients=["".join(nutrient) for _, _, *nutrient in facts["parts"]],
            )


def write_mixing(written: Json, owner: Person) -> None:
    """Write down what was tried, what must not be mixed, and what is in the water."""
    people = {person.email: person for person in people_of(owner)}
    if not jar_tests_of(owner).exists():
        for test in written["jar_tests"]:
            record_jar_test(
                mixes_of(owner).get(name=test["mix"]),
                person=people[test["by"]],
                at=datetime.fromisoformat(test["at"]),
                fits=test["fits"],
                note=test["note"],
            )
    if not pairs_of(owner).exists():
        for pair in written["pairs"]:
            first, second = (
                products_of(owner).get(name=pair[word]) for word in ("first", "second")
            )
            keep_pair(
                ProductPair(
                    first=first, second=second, source=pair["source"], blocks=pair["blocks"]
                ),
                person=owner,
                at=datetime.fromisoformat(written["drawn_at"]),
            )
    if water_test_of(owner.firm) is None:
        _write_water(written["water"], owner)


def _write_water(told: Json, owner: Person) -> None:
    found = {ion: parse_quantity(told[ion]) for ion in IONS if ion in told}
    keep_water_test(
        WaterTest(
            firm=owner.firm,
            tested_on=date.fromisoformat(told["tested_on"]),
            source=told["source"],
            **found,
        )
    )
