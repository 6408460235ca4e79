"""Every address, walked as the owner, a colleague, a stranger and nobody.

A new address fails here until it is put on the list, with who may see it.
"""

from collections.abc import Iterator

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from properties.models import Person, Property, SetbackRule, TileLayer

EVERYBODY = frozenset({"owner", "office", "crew"})
OFFICE = frozenset({"owner", "office"})
OWNER = frozenset({"owner"})

#: Who of the firm may open a page, and which row its number names.
PAGES: dict[str, tuple[frozenset[str], str | None]] = {
    "properties": (EVERYBODY, None),
    "new_property": (OFFICE, None),
    "import_properties": (OFFICE, None),
    "import_columns": (OFFICE, "spreadsheet"),
    "import_preview": (OFFICE, "confirmed_spreadsheet"),
    "import_report": (OFFICE, "imported_spreadsheet"),
    "import_left_out": (OFFICE, "imported_spreadsheet"),
    "property": (EVERYBODY, "place"),
    "edit_property": (OFFICE, "place"),
    "export_drawing": (EVERYBODY, "place"),
    "history": (EVERYBODY, "place"),
    "plan": (EVERYBODY, "place"),
    "kept_plans": (EVERYBODY, "place"),
    "kept_plan": (EVERYBODY, "kept_plan"),
    "season": (EVERYBODY, None),
    "place_season": (EVERYBODY, "place"),
    "job": (EVERYBODY, "job"),
    "temperatures": (EVERYBODY, None),
    "new_station": (OFFICE, None),
    "station": (EVERYBODY, "station"),
    "edit_station": (OFFICE, "station"),
    "new_programme": (OFFICE, None),
    "programme": (EVERYBODY, "programme"),
    "edit_programme": (OFFICE, "programme"),
    "check_programme": (EVERYBODY, "programme"),
    "loads": (EVERYBODY, None),
    "plants": (EVERYBODY, None),
    "portfolios": (OFFICE, None),
    "portfolio": (OFFICE, "portfolio"),
    "portfolio_quote": (OFFICE, "portfolio_quote"),
    "portfolio_csv": (OFFICE, "portfolio_quote"),
    "quotes": (OFFICE, None),
    "new_quote": (OFFICE, "place"),
    "quote": (OFFICE, "quote"),
    "edit_quote": (OFFICE, "quote"),
    "quote_history": (OFFICE, "quote"),
    "quote_margin": (OWNER, "quote"),
    "notices": (EVERYBODY, None),
    "new_notice": (OFFICE, None),
    "new_notice_at": (OFFICE, "place"),
    "edit_notice": (OFFICE, "notice"),
    "plan_sprayed": (EVERYBODY, "kept_plan"),
    "ground": (EVERYBODY, "place"),
    "new_application": (EVERYBODY, "place"),
    "new_seeding": (EVERYBODY, "place"),
    "history_known": (EVERYBODY, "place"),
    "strike_application": (OFFICE, "application"),
    "strike_seeding": (OFFICE, "seeding"),
    "blackouts": (EVERYBODY, None),
    "new_blackout": (OFFICE, None),
    "new_blackout_at": (OFFICE, "place"),
    "edit_blackout": (OFFICE, "blackout"),
    "price": (OFFICE, "place"),
    "prices": (OFFICE, None),
    "new_price_book": (OFFICE, None),
    "price_book": (OFFICE, "price_book"),
    "edit_price_book": (OFFICE, "price_book"),
    "new_tax_rule": (OFFICE, None),
    "new_tax_rule_at": (OFFICE, "place"),
    "edit_tax_rule": (OFFICE, "tax_rule"),
    "rules": (EVERYBODY, None),
    "new_rule": (OFFICE, None),
    "new_rule_at": (OFFICE, "place"),
    "edit_rule": (OFFICE, "rule"),
    "edit_wind_rule": (OFFICE, None),
    "edit_stated_area_rule": (OFFICE, None),
    "edit_position_error": (OFFICE, "placing"),
    "firm": (OWNER, None),
    "edit_firm": (OWNER, None),
    "new_person": (OWNER, None),
    "edit_person": (OWNER, "crew"),
    "new_tile_layer": (OWNER, None),
    "own_facts": (EVERYBODY, None),
    "errands": (EVERYBODY, None),
    "errand": (EVERYBODY, "errand"),
    "machines": (EVERYBODY, None),
    "new_machine": (OFFICE, None),
    "machine": (EVERYBODY, "machine"),
    "edit_machine": (OFFICE, "machine"),
    "measures": (OFFICE, None),
    "calibration_rule": (OFFICE, None),
    "fittings": (OFFICE, "machine"),
    "workshop": (EVERYBODY, "machine"),
    "calibrate": (EVERYBODY, "machine"),
    "new_spreader": (OFFICE, None),
    "edit_spreader": (OFFICE, "spreader"),
    "catch_test": (EVERYBODY, "spreader"),
    "nutrients": (EVERYBODY, None),
    "new_nutrient_limit": (OFFICE, None),
    "edit_nutrient_limit": (OFFICE, "nutrient_limit"),
    "new_nutrient_limit_at": (OFFICE, "place"),
    "new_soil_test": (OFFICE, "place"),
    "calibrate_timed_catch": (EVERYBODY, "machine"),
    "calibrate_hand_gun_course": (EVERYBODY, "machine"),
    "calibrate_small_plot": (EVERYBODY, "machine"),
    "calibration": (EVERYBODY, "calibration"),
    "tank_history": (EVERYBODY, "machine"),
    "what_if": (EVERYBODY, "machine"),
    "new_pattern": (EVERYBODY, "machine"),
    "pattern": (EVERYBODY, "pattern_test"),
    "labels": (EVERYBODY, None),
    "new_label": (OFFICE, None),
    "label": (EVERYBODY, "product"),
    "edit_label": (OFFICE, "product"),
    "mixing": (EVERYBODY, None),
    "new_pair": (OFFICE, None),
    "new_jar_test": (EVERYBODY, None),
    "edit_water_test": (OFFICE, None),
    "new_mix": (OFFICE, None),
    "stock": (EVERYBODY, None),
    "product_stock": (EVERYBODY, "product"),
    "lot": (EVERYBODY, "lot"),
    "new_store": (OFFICE, None),
    "count_store": (EVERYBODY, "shop"),
    "new_container": (OFFICE, None),
    "edit_container": (OFFICE, "jug"),
    "new_purchase": (OFFICE, None),
    "edit_lot": (OFFICE, "lot"),
    "lot_corrected": (OFFICE, "lot"),
    "lot_carried": (EVERYBODY, "lot"),
    "lot_loaded": (EVERYBODY, "lot"),
    "lot_returned": (EVERYBODY, "lot"),
    "lot_disposed": (EVERYBODY, "lot"),
    "undo_entry": (OFFICE, "stock_entry"),
    "buying": (OFFICE, None),
    "leaks": (OFFICE, None),
    "job_work": (EVERYBODY, "due_job"),
    "mix": (EVERYBODY, "mix"),
    "edit_mix": (OFFICE, "mix"),
}
#: Addresses that are tested in their own files: they take a body, or need a file.
ELSEWHERE = {
    "buying_csv",
    "refresh_buying",
    "take_loads",
    "send_quote",
    "revise_quote",
    "take_answer",
    "reply_to_question",
    "quote_paper",
    "customer_quote",
    "customer_accept",
    "customer_decline",
    "customer_ask",
    "customer_paper",
    "make_season",
    "choose_station",
    "remove_pair",
    "check_label",
    "start",
    "save_drawing",
    "measure_drawing",
    "property_picture",
    "export_request",
    "export_loads",
    "export_plants",
    "ground_done",
    "slope_speeds",
    "rinse_tank",
    "keep_plan",
    "remove_tile_layer",
    "new_link",
    "errand_part",
    "portfolio_line",
    "quote_portfolio",
    "read_spreadsheet_again",
    "throw_spreadsheet_away",
    "stop_errand",
    "begin_errand_again",
    "do_errand_here",
}


def _names(patterns: list[URLPattern | URLResolver]) -> Iterator[str]:
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            if not str(pattern.pattern).startswith("account/"):
                yield from _names(pattern.url_patterns)
        else:
            yield str(pattern.name)


def test_every_address_is_on_the_list() -> None:
    assert set(_names(get_resolver().url_patterns)) == PAGES.keys() | ELSEWHERE


#: What the numbers of addresses name, by the fixture that makes it.
ROWS = {
    "programme": "programme",
    "job": "job",
    "station": "station",
    "errand": "errand",
    "portfolio": "portfolio",
    "portfolio_quote": "portfolio_quote",
    "spreadsheet": "spreadsheet",
    "confirmed_spreadsheet": "confirmed_spreadsheet",
    "imported_spreadsheet": "imported_spreadsheet",
    "place": "place",
    "machine": "machine",
    "product": "product",
    "mix": "mix",
    "spreader": "spreader",
    "nutrient_limit": "nutrient_limit",
    "kept_plan": "kept_plan",
    "crew": "crew",
    "application": "application",
    "seeding": "seeding",
    "blackout": "blackout",
    "pattern_test": "pattern_test",
    "lot": "lot",
    "shop": "shop",
    "jug": "jug",
    "stock_entry": "stock_entry",
    "due_job": "due_job",
    "price_book": "price_book",
    "tax_rule": "tax_rule",
    "quote": "quote",
    "notice": "notice",
}


#: Rows that take long to make: made for their own pages alone.
COSTLY = {"portfolio_quote"}


class Rows(dict[str, int]):
    """The keys of rows, each made when somebody asks for it."""

    def __init__(self, request: pytest.FixtureRequest) -> None:
        super().__init__()
        self._request = request

    def __missing__(self, name: str) -> int:
        """Make a row and remember its key."""
        self[name] = self._made(name)
        return self[name]

    def _made(self, name: str) -> int:
        fixture = self._request.getfixturevalue
        if name in ROWS:
            return int(fixture(ROWS[name]).pk)
        if name == "calibration":
            return int(fixture("machine").calibrations.all()[0].pk)
        firm = fixture("place").firm
        of_firm = {"rule": SetbackRule.objects.filter(firm=firm), "placing": firm.position_errors}
        return int(of_firm[name].first().pk)


@pytest.fixture
def rows(request: pytest.FixtureRequest, place: Property) -> Rows:
    """The rows that addresses name, made as they are asked for."""
    return Rows(request)


@pytest.fixture
def all_rows(rows: Rows) -> Rows:
    """The same with every row made that is not costly, so that pages have something to show."""
    for name in (*(ROWS.keys() - COSTLY), "rule", "placing", "calibration"):
        rows[name]
    return rows


def _address(name: str, rows: dict[str, int]) -> str:
    row = PAGES[name][1]
    return reverse(name) if row is None else reverse(name, args=[rows[row]])


@pytest.mark.parametrize("name", sorted(PAGES))
@pytest.mark.parametrize("role", ["owner", "office", "crew"])
def test_a_colleague_sees_what_their_role_allows(
    request: pytest.FixtureRequest, client: Client, rows: dict[str, int], name: str, role: str
) -> None:
    client.force_login(request.getfixturevalue(role))

    status = client.get(_address(name, rows)).status_code

    assert status == (200 if role in PAGES[name][0] else 403)


@pytest.mark.parametrize("name", sorted(name for name, (_, row) in PAGES.items() if row))
def test_a_strangers_row_does_not_exist(
    client: Client, rows: dict[str, int], stranger: Person, name: str
) -> None:
    client.force_login(stranger)

    assert client.get(_address(name, rows)).status_code == 404


@pytest.mark.parametrize("name", sorted(PAGES))
def test_nobody_is_sent_to_the_sign_in(client: Client, rows: dict[str, int], name: str) -> None:
    address = _address(name, rows)

    answer = client.get(address)

    assert answer.status_code == 302
    assert answer["Location"] == f"/account/login/?next={address}"


def test_the_start_leads_to_the_properties(client: Client, owner: Person) -> None:
    client.force_login(owner)

    assert client.get("/", follow=True).redirect_chain == [("/properties/", 302)]


@pytest.mark.parametrize("name", ["save_drawing", "measure_drawing"])
def test_a_stranger_cannot_touch_a_drawing(
    client: Client, place: Property, stranger: Person, name: str
) -> None:
    client.force_login(stranger)

    answer = client.post(
        reverse(name, args=[place.pk]), {"base": 1}, content_type="application/json"
    )

    assert answer.status_code == 404


@pytest.mark.parametrize("name", ["property_picture", "export_request"])
def test_a_stranger_cannot_fetch_a_file(
    client: Client, place: Property, stranger: Person, name: str
) -> None:
    client.force_login(stranger)

    assert client.get(reverse(name, args=[place.pk])).status_code == 404


def test_a_stranger_cannot_remove_a_map_layer(
    client: Client, owner: Person, stranger: Person
) -> None:
    layer = TileLayer.objects.create(
        firm=owner.firm, name="County", url="https://tiles.example/{z}/{x}/{y}.png"
    )
    client.force_login(stranger)

    answer = client.post(reverse("remove_tile_layer", args=[layer.pk]))

    assert answer.status_code == 404
    assert TileLayer.objects.filter(pk=layer.pk).exists()
