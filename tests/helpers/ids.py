"""Which ids of sources and cautions stand in a text: none should, where people read it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]
_TABLES = ROOT / "store/knowledge"


def _ids(table: str) -> set[str]:
    found = tomllib.loads((_TABLES / table).read_text("utf-8"))
    return {each for each in found if "_" in each}


SOURCES = _ids("sources.toml")
CAUTIONS = _ids("cautions.toml")
_WORD = re.compile(r"[a-z]\w*_\w+")


def told_ids(text: str) -> set[str]:
    """The ids of sources and cautions in a text."""
    return set(_WORD.findall(text)) & (SOURCES | CAUTIONS)
