"""The customers that a list names: known ones are kept, others are added."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from properties.core.sheets.rows import ListedPlace
from properties.models import Customer

_BATCH = 500
_CONTACTS = ("phone", "email")


@dataclass(frozen=True)
class FoundCustomers:
    """Customers by name, and how many rows tell other contacts than those that were kept."""

    by_name: dict[str, Customer]
    other_contacts: int


def customers_for(firm_id: int, listed: Sequence[ListedPlace]) -> FoundCustomers:
    """Find or add the customer of each row. What a customer lacks is filled in, never replaced."""
    names = list(dict.fromkeys(row.customer for row in listed))
    known = {customer.name: customer for customer in _known(firm_id, names)}
    fresh = {name: Customer(firm_id=firm_id, name=name) for name in names if name not in known}
    by_name = known | fresh
    changed: dict[str, Customer] = {}
    other = 0
    for row in listed:
        customer = by_name[row.customer]
        told = {name: getattr(row, name) for name in _CONTACTS if getattr(row, name)}
        new = {name: words for name, words in told.items() if not getattr(customer, name)}
        for name, words in new.items():
            setattr(customer, name, words)
            changed[row.customer] = customer
        other += any(getattr(customer, name) != words for name, words in told.items())
    for customer in by_name.values():
        customer.clean_fields(exclude={"firm"})
    Customer.objects.bulk_create(fresh.values(), batch_size=_BATCH)
    Customer.objects.bulk_update(
        [customer for name, customer in changed.items() if name in known],
        _CONTACTS,
        batch_size=_BATCH,
    )
    return FoundCustomers(by_name, other)


def _known(firm_id: int, names: Sequence[str]) -> Iterator[Customer]:
    for start in range(0, len(names), _BATCH):
        wanted = names[start : start + _BATCH]
        yield from Customer.objects.filter(firm=firm_id, name__in=wanted)
