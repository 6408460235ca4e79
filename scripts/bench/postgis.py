"""The same question put to PostGIS, in a server of its own that is thrown away.

Needs Debian's postgresql and postgis packages; nothing is installed from here. The
properties lie ready in a table before the clock starts. Of the ways to ask, a function
for each row that is marked safe to run in parallel was the quickest: a grouped query
and a plain subquery keep to one core.
"""

import os
import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from properties.core.features import Role
from scripts.bench.clock import Took
from scripts.bench.lots import Place

_PROGRAMS = Path("/usr/lib/postgresql")
_EXTENSION = "/usr/share/postgresql/{}/extension/postgis.control"
#: A plane of equal areas in the middle of the lots; 30 km from there a length is true to 1e-5.
_PLANE = 990_001
_READY = f"""
CREATE EXTENSION postgis;
INSERT INTO spatial_ref_sys (srid, proj4text)
VALUES ({_PLANE}, '+proj=laea +lat_0=40 +lon_0=-90 +ellps=WGS84 +units=m +no_defs');
CREATE TABLE lots (turf geometry[], covers geometry[], kept geometry[], distances_m float8[]);
ALTER TABLE lots ALTER turf SET STORAGE EXTERNAL, ALTER covers SET STORAGE EXTERNAL,
  ALTER kept SET STORAGE EXTERNAL;
CREATE FUNCTION treatable_m2(
  turf geometry[], covers geometry[], kept geometry[], distances_m float8[]
) RETURNS float8 LANGUAGE plpgsql IMMUTABLE PARALLEL SAFE AS $$
BEGIN
  RETURN (
    SELECT ST_Area(ST_Difference(
      ST_Union(ARRAY(SELECT ST_Transform(g, {_PLANE}) FROM unnest(turf) g)),
      ST_Union(
        ARRAY(SELECT ST_Transform(g, {_PLANE}) FROM unnest(covers) g)
        || ARRAY(SELECT ST_Buffer(ST_Transform(g, {_PLANE}), d)
                 FROM unnest(kept, distances_m) u(g, d))
      )
    ))
  );
END $$;
"""  # noqa: S608
_ASK = """
SET jit = off; SET parallel_setup_cost = 0; SET parallel_tuple_cost = 0;
SET min_parallel_table_scan_size = 0; SET max_parallel_workers_per_gather = {workers};
ALTER TABLE lots SET (parallel_workers = {workers});
EXPLAIN (ANALYZE, TIMING OFF, SUMMARY ON)
SELECT sum(treatable_m2(turf, covers, kept, distances_m)) FROM lots;
"""
#: A session that was left is counted as soon as it has ended.
_TO_END_S = 0.3
_TOTAL = "SELECT sum(treatable_m2(turf, covers, kept, distances_m)) FROM lots;"


@dataclass(frozen=True)
class Server:
    """A running server, reached through a socket in a folder of its own."""

    programs: Path
    folder: Path

    def told(self, statements: str) -> str:
        """What the server says to some statements."""
        return _run(
            [
                *(str(self.programs / "psql"), "-qAtX", "-v", "ON_ERROR_STOP=1"),
                *("-h", str(self.folder), "-d", "postgres", "-c", statements),
            ]
        )

    def load(self, places: Iterable[Place]) -> None:
        """Put properties into the table."""
        rows = self.folder / "rows"
        with rows.open("w") as file:
            file.writelines(_row(place) for place in places)
        rows.chmod(0o644)
        self.told(_READY)
        self.told(f"COPY lots FROM '{rows}';")
        self.told("VACUUM ANALYZE lots;")
        rows.unlink()

    def took(self, workers: int) -> Took:
        """How long all properties take with so many workers beside the leader."""
        before_s = self._cpu_s()
        said = self.told(_ASK.format(workers=workers))
        found = re.search(r"Execution Time: ([\d.]+) ms", said)
        if found is None:
            raise RuntimeError(f"The server told no time: {said[:200]}")
        return Took(float(found[1]) / 1000, self._cpu_s() - before_s)

    def _cpu_s(self) -> float:
        """Processor time of all sessions and workers that have ended."""
        time.sleep(_TO_END_S)
        pid = (self.folder / "data" / "postmaster.pid").read_text().split()[0]
        # After the name in brackets, the 14th and 15th member: children in user and kernel mode.
        members = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        return (int(members[13]) + int(members[14])) / os.sysconf("SC_CLK_TCK")

    def total_m2(self) -> float:
        """The treatable area of all properties."""
        return float(self.told(_TOTAL))


def programs() -> Path | None:
    """Where the server's programs are, if PostGIS is installed beside them."""
    found = sorted(_PROGRAMS.glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    ready = [path.parent for path in found if Path(_EXTENSION.format(path.parts[-3])).exists()]
    return ready[-1] if ready else None


@contextmanager
def server(programs: Path) -> Iterator[Server]:
    """Start a server with nothing in it; stop it and forget it afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="bench-"))
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres")
    control = [str(programs / "pg_ctl"), "-s", "-w", "-D", str(folder / "data")]
    try:
        _run([str(programs / "initdb"), "-D", str(folder / "data"), "-A", "trust", "--no-sync"])
        quick = (
            f"-c listen_addresses= -k {folder} -c shared_buffers=1GB -c fsync=off -c autovacuum=off"
        )
        _run([*control, "-o", quick, "-l", str(folder / "log"), "start"])
        yield Server(programs, folder)
    finally:
        _run([*control, "-m", "immediate", "stop"], must=False)
        shutil.rmtree(folder)


def _run(command: Sequence[str], *, must: bool = True) -> str:
    """Run a program; the server's refuse to be run by root."""
    as_user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    return subprocess.run(
        [*as_user, *command], check=must, capture_output=True, text=True, cwd="/"
    ).stdout


def _row(place: Place) -> str:
    drawing, setbacks = place
    turf = [shape.geometry for shape in drawing.of_role(Role.TURF)]
    covers = [shape.geometry for shape in drawing.of_role(Role.OBSTACLE)]
    kept = drawing.of_role(Role.PROTECTED)
    distances = ",".join(repr(setbacks[shape.ref].distance_m) for shape in kept)
    areas = (_array(turf), _array(covers), _array([shape.geometry for shape in kept]))
    return "\t".join((*areas, f"{{{distances}}}")) + "\n"


def _array(geometries: Sequence[BaseGeometry]) -> str:
    marked = shapely.set_srid(np.array(geometries, dtype=object), 4326)
    return "{" + ":".join(shapely.to_wkb(marked, hex=True, include_srid=True)) + "}"
