"""The demo firm, brought in once for all the tests of a file; what a test changes is taken back."""

import io
from collections.abc import Iterator

import pytest
from django.core.management import call_command
from django.db import transaction
from django.test import override_settings
from pytest_django.plugin import DjangoDbBlocker

from properties.models import Person
from tests.light import light_settings

SMALL_PX = 120


def run_demo() -> str:
    """Run the demo command with small pictures, and give what it printed."""
    printed = io.StringIO()
    call_command("demo", picture_px=SMALL_PX, stdout=printed)
    return printed.getvalue()


@pytest.fixture(scope="module")
def demo_rows(
    django_db_setup: None,
    django_db_blocker: DjangoDbBlocker,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[None]:
    """Keep the rows of the demo while the tests of a file run, each in a savepoint of its own."""
    light = override_settings(**light_settings(tmp_path_factory))
    with django_db_blocker.unblock(), light, transaction.atomic():
        run_demo()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def ada(demo_rows: None, db: None) -> Person:
    """The owner of the demo firm."""
    return Person.objects.get(email="ada@example.com")
