"""What a table has in common on its way in and on its way out: its columns, and how a formula is defused."""

from __future__ import annotations

from store.entry.table import COLUMNS, defused

__all__ = ["COLUMNS", "defused"]
