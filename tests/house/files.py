"""Which files are the project's own."""

from __future__ import annotations

import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@cache
def project_files() -> tuple[Path, ...]:
    """The project's files, relative to its top: those git keeps or would keep, else all but caches."""
    if (ROOT / ".git").exists():
        listed = subprocess.run(
            ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
            cwd=ROOT,
            check=True,
            capture_output=True,
        )
        named = (Path(name) for name in listed.stdout.decode().split("\0") if name)
        return tuple(sorted(path for path in named if (ROOT / path).is_file()))
    found = (path.relative_to(ROOT) for path in ROOT.rglob("*") if path.is_file())
    return tuple(sorted(path for path in found if not _kept_out(path)))


def _kept_out(path: Path) -> bool:
    hidden = (part.startswith(".") and part != ".ci" for part in path.parts[:-1])
    return any(hidden) or "__pycache__" in path.parts


def python_files() -> tuple[Path, ...]:
    """The Python files among them."""
    return tuple(path for path in project_files() if path.suffix == ".py")
