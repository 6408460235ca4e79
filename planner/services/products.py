"""Keeping labels and mixes."""

from collections.abc import Mapping, Sequence

from django.db import transaction

from planner.models import LabelSetback, Mix, MixPart, Product
from properties.core.units import Quantity


@transaction.atomic
def keep_label(product: Product, *, setbacks: Mapping[str, Quantity]) -> Product:
    """Keep what was copied from a label, with its distances by kind of feature."""
    product.full_clean()
    product.save()
    product.setbacks.all().delete()
    for kind, distance in setbacks.items():
        row = LabelSetback(product=product, kind=kind, distance=distance)
        row.full_clean()
        row.save()
    return product


@transaction.atomic
def keep_mix(mix: Mix, *, parts: Sequence[tuple[Product, Quantity]]) -> Mix:
    """Keep a mix with its products in the order given, each at its rate."""
    mix.full_clean()
    mix.save()
    mix.parts.all().delete()
    for position, (product, rate) in enumerate(parts, start=1):
        part = MixPart(mix=mix, product=product, rate=rate, position=position)
        part.full_clean()
        part.save()
    return mix
