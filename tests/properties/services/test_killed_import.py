"""A worker that is killed while it writes leaves nothing, and its work can be begun again."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[3]


@pytest.fixture
def run(tmp_path: Path) -> Any:
    """Run Python in the project with a data folder of its own."""

    def ran(*words: str) -> subprocess.CompletedProcess[str]:
        environment = os.environ | {"SWARDLINE_DATA": str(tmp_path)}
        return subprocess.run(  # noqa: S603
            [sys.executable, *words],
            cwd=ROOT,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )

    return ran


def test_an_import_that_is_killed_while_it_writes_leaves_nothing_and_is_begun_again(
    run: Any,
) -> None:
    assert run("manage.py", "migrate", "-v0").returncode == 0
    assert run("-m", "tests.killed_import", "ask").returncode == 0

    killed = run("-m", "tests.killed_import", "kill")
    left = run("-m", "tests.killed_import", "tell")
    done = run("-m", "tests.killed_import", "again", "tell")

    assert killed.returncode == -signal.SIGKILL, killed.stderr
    assert json.loads(left.stdout) == {
        "properties": 0,
        "customers": 0,
        "areas": 0,
        "standing": "broken_off",
    }
    assert json.loads(done.stdout) == {
        "properties": 2,
        "customers": 2,
        "areas": 2,
        "standing": "done",
    }, done.stderr
