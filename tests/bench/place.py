"""Where a bench runs: its folder, its records, how often, and programs in pseudo-terminals."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from tests.bench.filled import LARGE, SMALL, Size, fill, utc_now
from tests.terminal.driver import Terminal

BARE = Path(__file__).with_name("bare")
BOTHFEET = Path(sys.executable).with_name("bothfeet")


@dataclass(frozen=True, slots=True)
class Place:
    """A folder on the disk under test, with a large and a small record in it."""

    folder: Path
    runs: int
    large: Path
    small: Path

    @classmethod
    def make(cls, folder: Path, runs: int) -> Place:
        """Fill the records."""
        return cls(folder, runs, _filled(folder, LARGE), _filled(folder, SMALL))

    def bothfeet(self, *words: str | Path, size: tuple[int, int] = (80, 24)) -> Terminal:
        """The installed program in a pseudo-terminal."""
        return Terminal([BOTHFEET, *words], home=self.folder / "home", size=size)

    def sounding(self, where: str, *words: str | Path) -> Terminal:
        """The same with its sound on; `where` says at which place a bell is rung for it."""
        script = Path(__file__).with_name("sounding.py")
        return Terminal([sys.executable, script, where, BOTHFEET, *words], home=self.folder / "home")

    def bare(self, name: str, *words: str, size: tuple[int, int] = (80, 24)) -> Terminal:
        """A peer in a pseudo-terminal of the same size, by the same interpreter."""
        return Terminal([sys.executable, BARE / f"{name}.py", *words], home=self.folder / "home", size=size)


def _filled(folder: Path, size: Size) -> Path:
    path = folder / f"{size.name}.sqlite"
    fill(path, size, utc_now())
    return path


def disk_of(folder: Path) -> str:
    """The file system a folder lies on, and its device, as the kernel names them."""
    try:
        mounts = [line.split() for line in Path("/proc/mounts").read_text().splitlines()]
    except OSError:
        return "unknown disk"
    at = folder.resolve()
    over = [mount for mount in mounts if at.is_relative_to(mount[1])]
    device, point, kind = max(over, key=lambda mount: len(mount[1]))[:3]
    return f"{kind} on {device}, mounted at {point}"
