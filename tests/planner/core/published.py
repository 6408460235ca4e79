"""Published worked examples: one CSV per subject, its citations beside the numbers."""

import csv
from pathlib import Path

DATA = Path(__file__).parents[2] / "data"


def rows_of(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
