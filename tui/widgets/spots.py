"""Where the parts of a widget begin: what a jump puts its letters on."""

from __future__ import annotations

from collections.abc import Callable

from textual.geometry import Offset

Spot = tuple[Offset, Callable[[], object]]
"""A place in a widget's content, and what going there does."""
