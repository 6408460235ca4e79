"""Plan from a request in a file: the whole job without a browser, and nothing saved."""

import json
import os
import sys
from argparse import ArgumentParser
from io import TextIOWrapper
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from planner.selectors.typed_plans import plan_of_text
from properties.core.errors import FaultsFound, Refused

NOT_VALID = 2
REFUSED = 3

LARGEST_REQUEST_BYTES = 20_000_000


class Command(BaseCommand):
    """Read a plan request, write its plan as JSON."""

    help = (
        "Work out a plan from a request in JSON (see docs/plan-request.md) and write it as JSON. "
        "Exit status: 0 a plan, 2 the request is not valid, 3 the plan is refused."
    )
    requires_system_checks: tuple[str, ...] = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("request", help="a file with one plan request, or - for standard input")

    def handle(self, *, request: str, **_options: Any) -> None:
        try:
            plan = plan_of_text(_text_of(request))
        except FaultsFound as found:
            self._say(found)
        self._write(json.dumps(plan, indent=2, ensure_ascii=False, allow_nan=False))
        if plan["refusals"]:
            sys.exit(REFUSED)

    def _say(self, found: FaultsFound) -> NoReturn:
        for fault in found.faults:
            self.stderr.write(_one_line(f"{fault.field}: {fault}"))
        sys.exit(NOT_VALID)

    def _write(self, text: str) -> None:
        """Write UTF-8, whatever the terminal speaks."""
        if isinstance(sys.stdout, TextIOWrapper):
            sys.stdout.reconfigure(encoding="utf-8")
        try:
            self.stdout.write(text)
            self.stdout.flush()
        except BrokenPipeError:
            # Whoever reads has read enough. Nothing more may be flushed when Python ends.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _text_of(request: str) -> str:
    try:
        encoded = _bytes_of(request)
        if len(encoded) > LARGEST_REQUEST_BYTES:
            problem = f"The request is larger than {LARGEST_REQUEST_BYTES // 1_000_000} MB."
            raise _unreadable(request, problem, "A request holds one property; check the file.")
        return encoded.decode("utf-8")
    except OSError as error:
        problem = f"The file cannot be read ({error.strerror})."
        raise _unreadable(request, problem, "Check its name and who may read it.") from None
    except UnicodeDecodeError as error:
        problem = f"The file is not text in UTF-8 (byte {error.start + 1})."
        raise _unreadable(request, problem, "Save it as UTF-8.") from None


def _bytes_of(request: str) -> bytes:
    if request == "-":
        return sys.stdin.buffer.read(LARGEST_REQUEST_BYTES + 1)
    with Path(request).open("rb") as file:
        return file.read(LARGEST_REQUEST_BYTES + 1)


def _unreadable(request: str, problem: str, remedy: str) -> FaultsFound:
    return FaultsFound([Refused(request, problem, remedy)])


def _one_line(text: str) -> str:
    return "".join(letter if letter.isprintable() else ascii(letter)[1:-1] for letter in text)
