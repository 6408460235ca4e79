"""Keeping labels, every version of them, and who compared them."""

import re
from collections.abc import Mapping, Sequence
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError

from planner.core.label.facts import Use
from planner.core.request.fertilizer import BAGS, SHARES, parse_grade
from planner.core.request.label import read_label
from planner.core.request.rates import RATES
from planner.core.request.reader import Faults, Members
from planner.models import LabelLine, LabelSetback, LabelVersion, Product
from planner.selectors.labels import facts_of, label_as_asked, newest_version
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity
from properties.models import Person

#: Where a fault of the reader is shown, by its path below the label.
_FIELDS = (
    (r"limits\.(\w+)", r"\1"),
    (r"(water_in|seeding)\.(\w+)", r"\1_\2"),
    (r"setbacks\.(\w+)\.downwind", r"downwind_\1"),
    (r"setbacks\.(\w+)(?:\.distance)?", r"from_\1"),
    (r"(tolerance|adjuvants)\..*", r"\1"),
    (r"(\w+)", r"\1"),
)
_INGREDIENT = re.compile(r"active_ingredients\[(\d+)\]\.(\w+)")
_COPY_THE_GRADE = "Copy the grade too, or leave this out."
_PER_PLANT = (Dimension.VOLUME, Dimension.MASS)


@transaction.atomic
def keep_label(
    product: Product,
    *,
    setbacks: Mapping[str, Quantity],
    further: Sequence[LabelSetback] = (),
    lines: Sequence[LabelLine] = (),
) -> Product:
    """Keep what was copied from a label, and freeze it as a version if it says anything new.

    ``setbacks`` are distances by kind of feature; ``further`` those with a distance
    downwind or for one method. Refused where a figure cannot be right: no plan could be
    made with it.
    """
    # Cleaned first: a quantity may have come as text.
    product.full_clean()
    rows = [LabelSetback(kind=kind, distance=distance) for kind, distance in setbacks.items()]
    rows += further
    _check(product, rows)
    for line in lines:
        _check_line(line)
    _check_fertilizer(product)
    product.save()
    _write_setbacks(product, rows)
    _write_lines(product, lines)
    _freeze(product)
    return product


def check_label(version: LabelVersion, *, person: Person, at: datetime) -> LabelVersion:
    """Confirm that a label says what stands here. Nobody confirms what they entered."""
    with transaction.atomic():
        row = LabelVersion.objects.select_for_update().get(pk=version.pk)
        newest = newest_version(row.product)
        if newest is None or newest.pk != row.pk:
            raise Refused(
                "", "The label was changed meanwhile.", "Compare it as it stands here now."
            )
        if row.entered_by_id == person.pk:
            raise Refused(
                "",
                "You entered this label yourself.",
                "Let somebody else hold the label in their hand and compare it.",
            )
        if row.checked_at is None:
            row.checked_by, row.checked_at = person, at
            row.save(update_fields=["checked_by", "checked_at"])
    return row


def _check(product: Product, rows: Sequence[LabelSetback]) -> None:
    """Read the label as a plan would, and say beside each field what is wrong with it."""
    faults = Faults()
    label = label_as_asked(product, setbacks=rows)
    read_label(Members(faults, "", {"label": label}), product.rate_max or product.rate_min)
    for name in ("rate_min", "rate_max"):
        rate: Quantity | None = getattr(product, name)
        if rate is not None and rate.dimension in RATES:
            believable, field = RATES[rate.dimension], f"label.{name}"
            faults.trying(lambda b=believable, r=rate, f=field: b.check(r, field=f))  # type: ignore[misc]
    if faults.found:
        raise ValidationError(
            {_field_of(fault.field): [str(fault)] for fault in reversed(faults.found)}
        )


def _check_fertilizer(product: Product) -> None:
    """Refuse a grade that is none, and facts of a fertilizer without one."""
    if product.grade:
        product.grade = str(parse_grade(product.grade, field="grade"))
    for name, believable in (("slow_release", SHARES), ("bag", BAGS)):
        told: Quantity | None = getattr(product, name)
        if told is None:
            continue
        believable.check(told, field=name)
        if not product.grade:
            raise Refused(name, "This is of a fertilizer, and no grade is told.", _COPY_THE_GRADE)


def _field_of(path: str) -> str:
    below = path.removeprefix("label.")
    if found := _INGREDIENT.fullmatch(below):
        return f"ingredient_{int(found[1]) + 1}_{found[2]}"
    for pattern, field in _FIELDS:
        if matched := re.fullmatch(pattern, below):
            return matched.expand(field)
    return ""


def _check_line(line: LabelLine) -> None:
    """Refuse a line whose rates are of another kind than its use, or cannot be right."""
    per_plant = line.use == Use.PER_PLANT
    for end in ("min", "max"):
        rate: Quantity | None = getattr(line, f"rate_{end}")
        if rate is None:
            continue
        field = f"line_{line.position}_rate_{end}"
        if per_plant != (rate.dimension in _PER_PLANT):
            wanted = "an amount for each plant" if per_plant else "a rate for an area or for spray"
            raise Refused(field, f"{rate} is not {wanted}.", "Choose the unit that the line has.")
        if not per_plant:
            RATES[rate.dimension].check(rate, field=field)


def _write_setbacks(product: Product, rows: Sequence[LabelSetback]) -> None:
    product.setbacks.all().delete()
    for row in rows:
        row.product = product
        row.full_clean()
        row.save()


def _write_lines(product: Product, lines: Sequence[LabelLine]) -> None:
    """Write the lines in place: a mix may use one, and then it cannot go."""
    kept = {line.position: line for line in product.lines.all()}
    for line in lines:
        row = kept.pop(line.position, None) or LabelLine(product=product, position=line.position)
        for name in ("target", "turf", "use", "rate_min", "rate_max"):
            setattr(row, name, getattr(line, name))
        row.full_clean()
        row.save()
    for line in kept.values():
        try:
            line.delete()
        except ProtectedError:
            part = line.mix_parts.select_related("mix").first()
            raise Refused(
                f"line_{line.position}_target",
                f"The mix {part.mix if part else ''} uses this line.",
                "Change the mix first, or keep the line.",
            ) from None


def _freeze(product: Product) -> None:
    # Read again: rows that were fetched before the change may still be at hand.
    facts = facts_of(Product.objects.get(pk=product.pk))
    newest = newest_version(product)
    if newest is not None and newest.facts == facts:
        return
    LabelVersion.objects.create(
        product=product,
        number=1 if newest is None else newest.number + 1,
        facts=facts,
        entered_by=product.entered_by,
        entered_at=product.entered_at,
    )
