"""Both engines that sweep, for tests that each must pass."""

from collections.abc import Iterator
from contextlib import contextmanager
from unittest.mock import patch

import pytest

from properties.core.sweep import rows
from properties.core.sweep.engines import Engine, swept_by_clipper, swept_by_geos

with_each_engine = pytest.mark.parametrize(
    "engine",
    [pytest.param(swept_by_clipper, id="Clipper2"), pytest.param(swept_by_geos, id="GEOS")],
)


@contextmanager
def sweeping_by(engine: Engine) -> Iterator[None]:
    """Let an engine do all sweeps."""
    with patch.object(rows, "quickest", lambda: engine):
        yield
