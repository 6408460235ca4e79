"""What every test starts with: a plain static storage, a fast hasher, the standing cast."""

import os
import shutil

import pytest
from django.db import connections
from hypothesis import HealthCheck
from hypothesis import settings as hypothesis_settings

from tests.light import light_settings

# Playwright runs an event loop in the main thread; the page tests still use the database there.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

hypothesis_settings.register_profile("dev", max_examples=100, deadline=None)
hypothesis_settings.register_profile(
    "ci", max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
hypothesis_settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "dev"))

CHROMIUM = (
    os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip the browser tests where there is no browser; in CI that is a failure."""
    if CHROMIUM:
        return
    browser_tests = [item for item in items if item.get_closest_marker("browser")]
    if os.environ.get("CI") and browser_tests:
        raise pytest.UsageError("No Chromium here, and in CI a skipped browser test is a failure.")
    for item in browser_tests:
        item.add_marker(pytest.mark.skip(reason="NO CHROMIUM HERE"))


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, object]:
    """Start Debian's Chromium, quietly and without a sandbox where tests run as root."""
    return {
        "executable_path": CHROMIUM,
        "headless": True,
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ],
    }


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> None:
    """Let a page be read while a test writes.

    The browser's server and its test share one database in memory, where a reader is refused
    at once while another thread writes; a database in a file lets it read what was before.
    """
    options = connections["default"].settings_dict.get("OPTIONS", {})
    if "init_command" in options:
        options["init_command"] += " PRAGMA read_uncommitted=ON;"


@pytest.fixture(autouse=True)
def _light_settings(settings: object, tmp_path_factory: pytest.TempPathFactory) -> None:
    for name, value in light_settings(tmp_path_factory).items():
        setattr(settings, name, value)


pytest_plugins = [
    "tests.people",
    "tests.places",
    "tests.work",
    "tests.pennywhistle",
    "tests.season",
    "tests.prices",
    "tests.errands",
    "tests.stock",
    "tests.spreadsheets",
    "tests.portfolios",
    "tests.quotes",
    "tests.demo_firm",
]
