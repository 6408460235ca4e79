"""Keeping labels and mixes."""

from collections.abc import Mapping, Sequence

from django.db import transaction

from planner.core.request.distances import DISTANCES
from planner.core.request.machine import OUTPUTS
from planner.core.request.rates import RATES
from planner.core.request.wind import WINDS
from planner.models import LabelSetback, Mix, MixPart, Product
from properties.core.units import Quantity

#: What a plan request may say of a label; a row that says anything else could not be planned.
FIGURES = {"carrier_min": OUTPUTS, "carrier_max": OUTPUTS, "wind_max": WINDS}


def _check_rate(rate: Quantity | None, *, field: str) -> None:
    if rate is not None:
        RATES[rate.dimension].check(rate, field=field)


@transaction.atomic
def keep_label(product: Product, *, setbacks: Mapping[str, Quantity]) -> Product:
    """Keep what was copied from a label, with its distances by kind of feature.

    Refused where a figure cannot be right: no plan could be made with it.
    """
    # Cleaned first: a quantity may have come as text.
    product.full_clean()
    for name, believable in FIGURES.items():
        figure = getattr(product, name)
        if figure is not None:
            believable.check(figure, field=name)
    for name in ("rate_min", "rate_max"):
        _check_rate(getattr(product, name), field=name)
    for kind, distance in setbacks.items():
        DISTANCES.check(distance, field=f"from_{kind}")
    product.save()
    product.setbacks.all().delete()
    for kind, distance in setbacks.items():
        row = LabelSetback(product=product, kind=kind, distance=distance)
        row.full_clean()
        row.save()
    return product


@transaction.atomic
def keep_mix(mix: Mix, *, parts: Sequence[tuple[Product, Quantity]]) -> Mix:
    """Keep a mix with its products in the order given, each at its rate.

    Refused where a rate cannot be right.
    """
    for position, (_, rate) in enumerate(parts, start=1):
        _check_rate(rate, field=f"rate_{position}")
    mix.full_clean()
    mix.save()
    mix.parts.all().delete()
    for position, (product, rate) in enumerate(parts, start=1):
        part = MixPart(mix=mix, product=product, rate=rate, position=position)
        part.full_clean()
        part.save()
    return mix
