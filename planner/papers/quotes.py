"""A quote on paper: the content that was frozen, set by typst as a tagged PDF.

The same content gives the same bytes: the moment that is written into the file is the
one of the content, and the fonts come with the package.
"""

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

import typst

FOLDER = Path(__file__).parent
#: What each size of paper is called by typst.
SIZES = {"letter": "us-letter", "a4": "a4"}


def quote_pdf(content: Mapping[str, Any], *, size: str, link: str = "") -> bytes:
    """Set a quote on paper of a size, with the address where it can be answered, if any."""
    return typst.compile(
        FOLDER / "quote.typ",
        root=FOLDER,
        sys_inputs={
            "content": json.dumps(content, ensure_ascii=False),
            "paper": SIZES[size],
            "link": link,
        },
        ignore_system_fonts=True,
        pdf_standards=["ua-1"],
        # A file tells its moment in whole seconds.
        timestamp=datetime.fromisoformat(content["written_at"]).replace(microsecond=0),
    )
