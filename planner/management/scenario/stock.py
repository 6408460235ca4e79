"""The stock of the demo: places, containers, lots, what moved, what visits took. All invented."""

import json
from collections.abc import Mapping
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from planner.management.scenario.scene import FOLDER
from planner.models import Container, Job, Lot, Store
from planner.selectors.equipment import machines_of
from planner.selectors.jobs import jobs_of
from planner.selectors.products import mixes_of, products_of
from planner.selectors.stock import containers_of, entries_of, lots_of, stores_of
from planner.services.job_work import Took, record_job_work
from planner.services.stock import (
    Act,
    Purchase,
    Shelf,
    buy,
    count,
    keep_container,
    keep_store,
    load,
    move,
)
from properties.core.units import parse_quantity
from properties.models import Person
from properties.selectors.people import people_of
from properties.selectors.places import properties_of

Json = dict[str, Any]

_EVENING = time(18, 30)
_ZONE = ZoneInfo("America/Chicago")


def load_stock(owner: Person) -> None:
    """Begin the books once; where there are any, they stay as they are."""
    written = json.loads((FOLDER / "stock.json").read_text(encoding="utf-8"))
    for told in written["stores"]:
        if not stores_of(owner).filter(name=told["name"]).exists():
            keep_store(Store(firm=owner.firm, **told))
    for told in written["containers"]:
        _container(told, owner)
    if not entries_of(owner).exists():
        _Books(written, owner).write()


def _container(told: Json, owner: Person) -> None:
    """Enter a size, and of one that is there already what is not known yet."""
    size = parse_quantity(told["size"])
    row = containers_of(owner).filter(product__name=told["product"], size=size).first()
    if row is None:
        row = Container(product=products_of(owner).get(name=told["product"]), size=size)
    if row.price is None and "price" in told:
        row.price = Decimal(told["price"])
    row.lead_days = told["lead_days"] if row.lead_days is None else row.lead_days
    keep_container(row)


class _Books:
    """Writes the ledger of a year, in the order in which it happened."""

    def __init__(self, written: Mapping[str, Any], owner: Person) -> None:
        self._written = written
        self._owner = owner
        self._people = {person.email: person for person in people_of(owner)}
        self._stores = {store.name: store for store in stores_of(owner)}

    def write(self) -> None:
        """Write what was bought, carried, used and counted."""
        for told in self._written["purchases"]:
            self._bought(told)
        for told in self._written["carried"]:
            shelf = self._shelf(told["number"], told["from"])
            to = self._stores[told["to"]]
            move(shelf, parse_quantity(told["amount"]), to=to, act=self._act(told))
        for told in self._written["loaded"]:
            shelf = self._shelf(told["number"], told["from"])
            load(shelf, parse_quantity(told["amount"]), act=self._act(told))
        for told in self._written["visits"]:
            self._visited(told)
        for told in self._written["counts"]:
            found = {
                self._shelf(number, told["store"]): parse_quantity(amount)
                for number, amount in told["found"].items()
            }
            count(found, act=self._act(told))

    def _bought(self, told: Json) -> None:
        container = containers_of(self._owner).get(
            product__name=told["product"], size=parse_quantity(told["size"])
        )
        expires = told.get("expires_on")
        purchase = Purchase(
            container,
            told["count"],
            told["number"],
            None if expires is None else date.fromisoformat(expires),
            None if "price_each" not in told else Decimal(told["price_each"]),
        )
        buy(purchase, store=self._stores["Shop"], act=self._act(told))

    def _visited(self, told: Json) -> None:
        act = self._act(told)
        used = {
            products_of(self._owner).get(name=name): parse_quantity(amount)
            for name, amount in told.get("used", {}).items()
        }
        took = Took(act.person, act.on, told.get("minutes"), used)
        record_job_work(self._job(told, act), took, person=act.person, at=act.at)

    def _job(self, told: Json, act: Act) -> Job:
        """A single visit that nobody had quoted."""
        facts = self._written["visit"]
        job = Job(
            firm=self._owner.firm,
            place=properties_of(self._owner).get(name=told["place"]),
            year=act.on.year,
            name=facts["name"],
            mix=mixes_of(self._owner).get(name=facts["mix"]),
            machine=machines_of(self._owner).get(name=facts["machine"]),
            hand_tool=machines_of(self._owner).get(name=facts["hand_tool"]),
            from_on=act.on,
            to_on=act.on,
            made_by=self._owner,
            made_at=act.at,
        )
        job.full_clean()
        job.save()
        return jobs_of(self._owner).get(pk=job.pk)

    def _shelf(self, number: str, store: str) -> Shelf:
        lot: Lot = lots_of(self._owner).get(number=number)
        return Shelf(lot.product, self._stores[store], lot)

    def _act(self, told: Json) -> Act:
        on = date.fromisoformat(told["on"])
        at = datetime.combine(on, _EVENING, tzinfo=_ZONE)
        return Act(self._people[told["by"]], on, at, told.get("why", ""))
