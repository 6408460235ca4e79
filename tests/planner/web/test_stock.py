"""The stock on its pages: what is typed, what is refused, what is said."""

from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Container, Lot, Movement, Product, StockEntry, Store
from properties.models import Person


def _purchase(jug: Container, shop: Store, **other: str) -> dict[str, str]:
    told = {"container": jug.pk, "count": "3", "number": "B-2", "store": shop.pk}
    dates = {"expires_on": "2027-06-30", "on": "2026-04-01", "price_each": "47.25"}
    return {name: str(value) for name, value in (told | dates | other).items()}


@pytest.mark.usefixtures("lot")
def test_what_is_in_stock_is_listed_with_its_worth(client: Client, owner: Person) -> None:
    client.force_login(owner)

    page = client.get(reverse("stock")).content.decode()

    assert "1 gal" in page
    assert "$91.00" in page


@pytest.mark.usefixtures("lot")
def test_the_crew_counts_and_sees_no_prices(client: Client, crew: Person, product: Product) -> None:
    client.force_login(crew)

    pages = [client.get(reverse("stock")), client.get(reverse("product_stock", args=[product.pk]))]

    assert all("$" not in page.content.decode() for page in pages)


def test_what_was_bought_comes_into_the_books(
    client: Client, office: Person, jug: Container, shop: Store
) -> None:
    client.force_login(office)

    answer = client.post(reverse("new_purchase"), _purchase(jug, shop), follow=True)

    assert "It is in the books." in answer.content.decode()
    assert Lot.objects.get().number == "B-2"
    assert "1.5 gal" in answer.content.decode()


def test_a_purchase_that_had_expired_is_refused_beside_its_day(
    client: Client, office: Person, jug: Container, shop: Store
) -> None:
    client.force_login(office)

    answer = client.post(reverse("new_purchase"), _purchase(jug, shop, expires_on="2026-03-31"))

    assert answer.status_code == 422
    assert "had expired" in answer.context["form"].errors["expires_on"][0]
    assert b'value="B-2"' in answer.content
    assert not Lot.objects.exists()


def test_a_count_is_blind_and_books_the_difference(
    client: Client, crew: Person, lot: Lot, shop: Store
) -> None:
    client.force_login(crew)
    address = reverse("count_store", args=[shop.pk])
    assert "128" not in client.get(address).content.decode()

    boxes = {f"full_lot_{lot.pk}": "1", f"opened_lot_{lot.pk}_0": "50"}
    answer = client.post(address, boxes | {f"opened_lot_{lot.pk}_1": "fl oz"}, follow=True)

    assert "1 differ from the books" in answer.content.decode()
    line = Movement.objects.get(entry__kind="counted")
    assert round(line.amount.value, 6) == -14
    assert line.entry.entered_by == crew


def test_an_empty_count_is_refused_and_zero_is_a_count(
    client: Client, crew: Person, lot: Lot, shop: Store
) -> None:
    client.force_login(crew)
    address, opened = reverse("count_store", args=[shop.pk]), f"opened_lot_{lot.pk}"

    empty = client.post(address, {f"{opened}_0": "", f"{opened}_1": "fl oz"})
    zero = client.post(address, {f"full_lot_{lot.pk}": "0", f"{opened}_1": "fl oz"})

    assert empty.status_code == 422
    assert "0 if nothing does" in empty.content.decode()
    assert zero.status_code == 302
    assert StockEntry.objects.filter(kind="counted").count() == 1


@pytest.mark.parametrize(
    ("way", "typed", "said"),
    [
        ("lot_returned", {}, "back in the books"),
        ("lot_loaded", {}, "out of the books"),
        ("lot_disposed", {"why": "County collection day"}, "Keep the receipt"),
        ("lot_corrected", {"why": "Typed twice", "amount_0": "-6"}, "stays to be read"),
    ],
)
def test_what_moved_is_entered_on_the_page_of_its_lot(
    client: Client, owner: Person, lot: Lot, way: str, typed: dict[str, str], said: str
) -> None:
    client.force_login(owner)
    store = Store.objects.get()
    told = {"store": store.pk, "amount_0": "6", "amount_1": "fl oz", "on": "2026-04-02"}

    answer = client.post(reverse(way, args=[lot.pk]), told | typed, follow=True)

    assert said in answer.content.decode()
    assert abs(Movement.objects.exclude(entry__kind="bought").get().amount.value) == 6


def test_a_disposal_without_a_word_is_refused(client: Client, owner: Person, lot: Lot) -> None:
    client.force_login(owner)
    told = {"store": Store.objects.get().pk, "amount_0": "6", "amount_1": "fl oz"}

    answer = client.post(reverse("lot_disposed", args=[lot.pk]), told | {"on": "2026-04-02"})

    assert answer.status_code == 422
    assert "why" in answer.context["form"].errors


def test_more_than_stands_there_is_not_carried_away(
    client: Client, crew: Person, lot: Lot, truck: Store
) -> None:
    client.force_login(crew)
    shed = Store.objects.get(kind="shop")
    told = {"store": shed.pk, "to": truck.pk, "amount_0": "2", "amount_1": "gal"}

    answer = client.post(reverse("lot_carried", args=[lot.pk]), told | {"on": "2026-04-02"})

    assert answer.status_code == 422
    assert "The books have 1 gal there" in answer.context["form"].errors["amount"][0]


def test_an_entry_is_taken_back_and_stays_to_be_read(
    client: Client, owner: Person, stock_entry: StockEntry
) -> None:
    client.force_login(owner)

    client.post(reverse("undo_entry", args=[stock_entry.pk]), {"why": "The wrong product"})
    page = client.get(reverse("lot", args=[Lot.objects.get().pk])).content.decode()

    assert "taken back" in page
    assert "The wrong product" in page


def test_a_container_by_weight_of_what_is_poured_is_refused(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)

    answer = client.post(
        reverse("new_container"), {"product": product.pk, "size_0": "10", "size_1": "lb"}
    )

    assert answer.status_code == 422
    assert "measured by volume" in answer.context["form"].errors["size"][0]
    assert not Container.objects.exists()


def test_the_expiry_is_copied_later_and_never_before_the_purchase(
    client: Client, owner: Person, lot: Lot
) -> None:
    client.force_login(owner)
    address, told = reverse("edit_lot", args=[lot.pk]), {"number": "A-17", "price_each": ""}

    wrong = client.post(address, told | {"expires_on": "2026-01-31"})
    right = client.post(address, told | {"expires_on": "2028-01-31"})

    assert wrong.status_code == 422
    assert "had expired" in wrong.context["form"].errors["expires_on"][0]
    assert right.status_code == 302
    lot.refresh_from_db()
    assert (lot.expires_on, lot.price_each) == (date(2028, 1, 31), None)
