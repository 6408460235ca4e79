"""How far the memory of this process rises while something is done (Linux)."""

import gc
import re
from collections.abc import Callable
from pathlib import Path

_SELF = Path("/proc/self")


def rise_mb(work: Callable[[], object]) -> float | None:
    """The highest memory during some work over that before it, in MB, if it can be told."""
    gc.collect()
    try:
        (_SELF / "clear_refs").write_text("5")
    except OSError:
        return None
    before = _kilobytes("VmRSS")
    work()
    return (_kilobytes("VmHWM") - before) / 1000


def _kilobytes(name: str) -> int:
    found = re.search(rf"{name}:\s+(\d+)", (_SELF / "status").read_text())
    return int(found[1]) if found else 0
