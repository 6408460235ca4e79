"""Both cores can be imported and used by someone who has never seen Django."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
CORES = {
    name: sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for path in (ROOT / name / "core").rglob("*.py")
    )
    for name in ("properties", "planner")
}
WITHOUT_DJANGO = """
import importlib, sys
sys.modules["django"] = None
for name in sys.argv[1:]:
    importlib.import_module(name)
print(len(sys.argv) - 1)
"""


@pytest.mark.parametrize("core", sorted(CORES))
def test_every_module_of_a_core_is_imported_without_django_and_without_settings(core: str) -> None:
    # A fresh process: here Django has been imported long ago.
    bare = {key: value for key, value in os.environ.items() if not key.startswith("DJANGO")}

    run = subprocess.run(  # noqa: S603
        [sys.executable, "-W", "error", "-c", WITHOUT_DJANGO, *CORES[core]],
        cwd=ROOT,
        env=bare,
        capture_output=True,
        text=True,
        check=False,
    )

    assert run.stderr == ""
    assert run.stdout.split() == [str(len(CORES[core]))]


def test_each_core_has_modules_to_import() -> None:
    assert all(len(modules) > 5 for modules in CORES.values())
