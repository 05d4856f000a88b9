"""The theatre over a filled record."""

from __future__ import annotations

from pathlib import Path

from tests.screens.made import opened, ward
from tests.screens.theatre import Theatre


class Ward(Theatre):
    """A filled record, its episodes by label."""

    def __init__(self, tmp_path: Path) -> None:
        care, self.set_clock = opened(tmp_path)
        self.episodes = ward(care, self.set_clock)
        super().__init__(care, self.set_clock, tmp_path)
