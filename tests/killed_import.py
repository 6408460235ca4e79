"""A worker that is killed while it writes, in a process and a data folder of its own.

Run as a module with one word: ``ask`` founds a firm and asks for an import, ``kill`` lets a
worker die in the middle of writing it, ``again`` begins it again once it is silent. Each
prints what is in the database afterwards.
"""

import json
import os
import signal
import sys
from datetime import timedelta
from typing import Any

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "planner.settings")
django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection  # noqa: E402
from django.utils import timezone  # noqa: E402

from properties.models import Customer, Errand, Person, Property, StatedArea  # noqa: E402
from properties.selectors.errands import SILENT_AFTER, standing_of  # noqa: E402
from properties.services.errands import begin_again  # noqa: E402
from properties.services.firms import found_firm  # noqa: E402
from properties.services.imports import Choice, import_in_background  # noqa: E402
from tests.spreadsheets import ROWS, confirmed, listed, seen  # noqa: E402


def _die_while_writing(execute: Any, sql: str, *rest: Any) -> Any:
    if sql.startswith('INSERT INTO "properties_statedarea"'):
        assert Property.objects.count() == 2, "The properties should be written by now."
        os.kill(os.getpid(), signal.SIGKILL)
    return execute(sql, *rest)


def _work() -> None:
    call_command("db_worker", "--batch", "--no-startup-delay", verbosity=0)


def ask() -> None:
    """Found a firm and ask for an import, with no worker there."""
    firm = found_firm(name="Thistledown Turf Care", units="us", at=timezone.now())
    owner = Person.objects.create_user("olive@example.com", firm=firm, name="Olive", role="owner")
    sheet = confirmed(owner, listed(*ROWS))
    import_in_background(sheet, person=owner, choice=Choice(seen(sheet)), at=timezone.now())


def kill() -> None:
    """Work until the middle of writing, then die."""
    with connection.execute_wrapper(_die_while_writing):
        _work()


def again() -> None:
    """Begin again what broke off."""
    begin_again(Errand.objects.get(), at=timezone.now() + 2 * SILENT_AFTER)
    _work()


def tell() -> None:
    """Print what the database holds, and where the errand stands two minutes later."""
    later = timezone.now() + max(2 * SILENT_AFTER, timedelta(minutes=2))
    told = {
        "properties": Property.objects.count(),
        "customers": Customer.objects.count(),
        "areas": StatedArea.objects.count(),
        "standing": standing_of(Errand.objects.get(), now=later),
    }
    sys.stdout.write(json.dumps(told))


if __name__ == "__main__":
    for word in sys.argv[1:]:
        {"ask": ask, "kill": kill, "again": again, "tell": tell}[word]()
