"""Sources and cautions from their tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.knowledge.fields import Row
from store.knowledge.figures import provenance
from store.knowledge.kinds import Caution, Source

SOURCES_FILE = "sources.toml"
FILE = "cautions.toml"


def sources(data: Mapping[str, Any]) -> dict[str, Source]:
    """All sources by id: the table is one line a source. Raises KnowledgeError."""
    row = Row(SOURCES_FILE, "sources", data)
    return {key: Source(key, row.text(key)) for key in data}


def cautions(data: Mapping[str, Any]) -> dict[str, Caution]:
    """All cautions by id. Raises KnowledgeError."""
    return {key: _caution(key, Row(FILE, key, value)) for key, value in data.items()}


def _caution(key: str, row: Row) -> Caution:
    mark, source = provenance(row)
    caution = Caution(key, row.text("says"), mark, source, row.text("short", ""))
    row.done()
    return caution
