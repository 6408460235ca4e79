"""What is typed about the stock: places, containers, purchases, what moved, what was counted."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.db.models import QuerySet

from planner.models import Container, Lot, Product, Store
from planner.services.stock import Shelf
from planner.web.forms.days import day_field
from properties.core.units import Quantity, dimension_of, quantity_of_si
from properties.web.forms.quantities import VOLUMES, PositiveQuantityField, QuantityField

WEIGHTS = ("lb", "oz wt", "kg", "g")
SIZES = (*VOLUMES, *WEIGHTS)
LONGEST_WHY = 300


def units_like(unit: str) -> tuple[str, ...]:
    """List a unit, and the others that measure the same."""
    kind = dimension_of(unit)
    return tuple(dict.fromkeys((unit, *(u for u in SIZES if dimension_of(u) is kind))))


def why_field(label: str = "Note", *, required: bool = False) -> forms.CharField:
    """Ask why something moved."""
    return forms.CharField(label=label, max_length=LONGEST_WHY, required=required)


class StoreForm(forms.ModelForm[Store]):
    """A place where products stand."""

    class Meta:
        model = Store
        fields = ("name", "kind")


class ContainerForm(forms.ModelForm[Container]):
    """A size in which a product can be bought."""

    size = PositiveQuantityField(units=SIZES, label="What one holds")

    class Meta:
        model = Container
        fields = ("product", "size", "price", "lead_days", "is_offered")
        labels = {
            "price": "What one costs",
            "lead_days": "Days from order to shelf",
            "is_offered": "It can still be bought",
        }

    def __init__(self, *args: Any, products: QuerySet[Product], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["product"].queryset = products  # type: ignore[attr-defined]


class LotForm(forms.ModelForm[Lot]):
    """What stands on the containers of a lot, and on its bill."""

    expires_on = day_field("Expires on", required=False, help_text="As the container says.")

    class Meta:
        model = Lot
        fields = ("number", "expires_on", "price_each")
        labels = {"number": "Lot number", "price_each": "What each cost"}


class PurchaseForm(forms.Form):
    """Containers that came in."""

    container = forms.ModelChoiceField(Container.objects.none(), empty_label="choose")
    count = forms.IntegerField(label="How many", min_value=1)
    number = forms.CharField(label="Lot number", max_length=60)
    expires_on = day_field("Expires on", required=False, help_text="As the container says.")
    price_each = forms.DecimalField(
        label="What each cost", required=False, min_value=0, max_digits=10, decimal_places=2
    )
    store = forms.ModelChoiceField(Store.objects.none(), label="Put where", empty_label=None)
    on = day_field("Day it came")
    why = why_field()

    def __init__(
        self,
        *args: Any,
        containers: QuerySet[Container],
        stores: QuerySet[Store],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["container"].queryset = containers  # type: ignore[attr-defined]
        self.fields["store"].queryset = stores  # type: ignore[attr-defined]


class MovedForm(forms.Form):
    """How much of a lot moved at which place."""

    store = forms.ModelChoiceField(Store.objects.none(), label="Where", empty_label=None)
    on = day_field("Which day")
    why = why_field()
    field_order = ("store", "to", "amount", "on", "why")

    def __init__(
        self, *args: Any, unit: str, stores: QuerySet[Store], needs_why: bool = False, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["store"].queryset = stores  # type: ignore[attr-defined]
        self.fields["amount"] = self.amount_field(unit)
        self.fields["why"].required = needs_why
        self.order_fields(self.field_order)

    def amount_field(self, unit: str) -> QuantityField:
        """Ask how much it was."""
        return PositiveQuantityField(units=units_like(unit), label="How much")


class CarriedForm(MovedForm):
    """What is carried to another place."""

    to = forms.ModelChoiceField(Store.objects.none(), label="Where to", empty_label=None)

    def __init__(self, *args: Any, stores: QuerySet[Store], **kwargs: Any) -> None:
        super().__init__(*args, stores=stores, **kwargs)
        self.fields["to"].queryset = stores  # type: ignore[attr-defined]


class _DifferenceField(QuantityField):
    may_be_negative = True


class CorrectedForm(MovedForm):
    """What the books had wrong; below zero takes from them."""

    def amount_field(self, unit: str) -> QuantityField:
        """Ask for the difference, either way."""
        return _DifferenceField(
            units=units_like(unit),
            label="Add to the books",
            help_text="With a minus, it is taken from them.",
        )


class CountForm(forms.Form):
    """What stands at one place, lot by lot. What is left empty was not counted."""

    why = why_field()

    def __init__(self, *args: Any, shelves: Iterable[Shelf], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shelves = list(shelves)
        for shelf in self.shelves:
            key = _key(shelf)
            if shelf.lot is not None:
                self.fields[f"full_{key}"] = forms.IntegerField(
                    label=f"Full containers of {shelf.lot.container.size}",
                    required=False,
                    min_value=0,
                    max_value=100_000,
                    widget=forms.NumberInput({"inputmode": "numeric"}),
                )
            self.fields[f"opened_{key}"] = QuantityField(
                units=units_like(shelf.unit), label="In opened ones, together", required=False
            )

    @property
    def rows(self) -> list[tuple[Shelf, list[forms.BoundField]]]:
        """Each shelf with its boxes."""
        return [
            (
                shelf,
                [self[name] for name in (f"full_{key}", f"opened_{key}") if name in self.fields],
            )
            for shelf, key in ((shelf, _key(shelf)) for shelf in self.shelves)
        ]

    def clean(self) -> dict[str, Any]:
        """Refuse an empty count."""
        if not self.errors and not self.found():
            self.add_error(None, "Nothing was counted. Enter what stands there; 0 if nothing does.")
        return self.cleaned_data

    def found(self) -> dict[Shelf, Quantity]:
        """Give what was found on each shelf that was counted."""
        told = {shelf: self._found(shelf) for shelf in self.shelves}
        return {shelf: amount for shelf, amount in told.items() if amount is not None}

    def _found(self, shelf: Shelf) -> Quantity | None:
        full = self.cleaned_data.get(f"full_{_key(shelf)}")
        opened: Quantity | None = self.cleaned_data.get(f"opened_{_key(shelf)}")
        if full is None and opened is None:
            return None
        size = 0.0 if shelf.lot is None else shelf.lot.container.size.si
        si = (full or 0) * size + (0.0 if opened is None else opened.si)
        return quantity_of_si(si, shelf.unit)


def _key(shelf: Shelf) -> str:
    return f"lot_{shelf.lot.pk}" if shelf.lot else f"product_{shelf.product.pk}"


class FurtherForm(forms.Form):
    """Whether loads stand beside those that were told before on the same day."""

    further = forms.BooleanField(label="These are further loads of the day", required=False)
