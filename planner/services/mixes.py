"""Keeping mixes."""

from collections.abc import Sequence

from django.db import transaction

from planner.core.label.facts import Use
from planner.core.mix.products import NutrientTarget
from planner.core.nutrient.nutrients import Fertilizer, Nutrient
from planner.core.request.fertilizer import TARGET_RATES, parse_grade, rate_for_target
from planner.core.request.rates import AMOUNTS_EACH, RATES
from planner.models import LabelLine, Mix, MixPart, Product
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity

_KNOWN = RATES | AMOUNTS_EACH


@transaction.atomic
def keep_mix(
    mix: Mix,
    *,
    parts: Sequence[tuple[Product, Quantity]],
    lines: Sequence[LabelLine | None] | None = None,
    nutrients: Sequence[str] = (),
) -> Mix:
    """Keep a mix with its products in the order given, each at its rate.

    ``lines`` are the lines of the labels that the rates belong to; ``nutrients`` name what
    each rate is of, a nutrient or nothing for the product itself. Refused where a rate
    cannot be right, or where one product is for plants and another for an area.
    """
    used = list(lines or [None] * len(parts))
    of = list(nutrients or [""] * len(parts))
    for position, ((product, rate), nutrient) in enumerate(zip(parts, of, strict=True), start=1):
        if nutrient:
            _check_nutrient(product, rate, nutrient, position)
        else:
            _KNOWN[rate.dimension].check(rate, field=f"rate_{position}")
    _check_plants(parts, used)
    _check_uses(used)
    mix.full_clean()
    mix.save()
    mix.parts.all().delete()
    told = zip(parts, used, of, strict=True)
    for position, ((product, rate), line, nutrient) in enumerate(told, start=1):
        part = MixPart(
            mix=mix, product=product, rate=rate, line=line, nutrient=nutrient, position=position
        )
        part.full_clean()
        part.save()
    return mix


def _check_nutrient(product: Product, rate: Quantity, nutrient: str, position: int) -> None:
    """Refuse a rate of a nutrient that no rate of the product can be worked out from."""
    field = f"rate_{position}"
    if not product.grade:
        raise Refused(
            f"of_{position}",
            f"Nobody copied how much of it {product} holds.",
            "Copy the grade of the fertilizer into its label first.",
        )
    if rate.dimension is not Dimension.MASS_PER_AREA:
        raise Refused(
            field,
            f"{rate} is a {rate.dimension}; a nutrient is a weight per area.",
            "Write it in lb/1000 sq ft, g/m2 or kg/ha.",
        )
    TARGET_RATES.check(rate, field=field)
    target = NutrientTarget(Nutrient(nutrient), rate)
    rate_for_target(target, Fertilizer(parse_grade(product.grade)), field=f"of_{position}")


def _check_plants(
    parts: Sequence[tuple[Product, Quantity]], lines: Sequence[LabelLine | None]
) -> None:
    """Refuse an amount without an area, but for plants, and an area in a mix for plants."""
    of_plants = [rate.dimension in AMOUNTS_EACH for _, rate in parts]
    for position, ((product, rate), line) in enumerate(zip(parts, lines, strict=True), start=1):
        each = rate.dimension in AMOUNTS_EACH
        if each and (line is None or line.use != Use.PER_PLANT):
            raise Refused(
                f"line_{position}",
                f"{rate} of {product} does not say what it is for.",
                "Choose the line of its label that is for each plant, or a rate for an area.",
            )
        if not each and line is not None and line.use == Use.PER_PLANT:
            raise Refused(
                f"line_{position}",
                f"“{line}” is an amount for each plant, and {rate} is none.",
                "Choose a line for turf, or write what each plant gets.",
            )
        by_area = rate.dimension in {Dimension.VOLUME_PER_AREA, Dimension.MASS_PER_AREA}
        if by_area and any(of_plants):
            raise Refused(
                f"rate_{position}",
                f"{rate} is for an area, and another product of this mix is for each plant.",
                "Mix what goes on turf and what goes on plants apart.",
            )


def _check_uses(lines: Sequence[LabelLine | None]) -> None:
    """Refuse a tank of which one part is for all the turf and another for spots."""
    first: LabelLine | None = None
    for position, line in enumerate(lines, start=1):
        if line is None:
            continue
        if first is not None and line.use != first.use:
            raise Refused(
                f"line_{position}",
                f"“{line}” and “{first}” cannot share a tank.",
                "Mix what goes over the whole turf and what goes on spots apart.",
            )
        first = first or line
