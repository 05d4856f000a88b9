"""`python -m tests.bench`: every figure against its peer, in one run. It reports, and fails nothing."""

from __future__ import annotations

import argparse
import json
import os
import platform
import sqlite3
import sys
import tempfile
import traceback
from collections.abc import Callable, Sequence
from dataclasses import asdict
from pathlib import Path

from tests.bench import cues, demo, forecast, keys, memory, save, search, standing, start
from tests.bench.filled import LARGE, SMALL
from tests.bench.lines import Line, Waits, table
from tests.bench.place import Place, disk_of

ARMS: dict[str, Callable[[Place], Sequence[Line | Waits]]] = {
    "start": start.lines,
    "keys": keys.lines,
    "cues": cues.lines,
    "standing": standing.lines,
    "save": save.lines,
    "search": search.lines,
    "memory": memory.lines,
    "forecast": forecast.lines,
    "demo": demo.lines,
}


def main() -> None:
    """Run the arms that were asked for and print the table."""
    options = _options()
    with tempfile.TemporaryDirectory(prefix="bench-", dir=options.folder) as folder:
        print(f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}")
        print(f"{os.cpu_count()} cores, {_busy()}")
        print(f"disk: {disk_of(Path(folder))}; medians of {options.runs}")
        print(f"{LARGE.in_words}\n{SMALL.in_words}", flush=True)
        place = Place.make(Path(folder), options.runs)
        found: list[Line | Waits] = []
        for name in options.only or ARMS:
            print(f"{name} ...", file=sys.stderr, flush=True)
            found += _measured(name, place)
    print(f"\n{table(found)}\nat the end {_busy()}")
    if options.json:
        options.json.write_text(json.dumps([_plain(line) for line in found], indent=1))


def _busy() -> str:
    """How busy the machine is: the figures of a busy one say little."""
    return f"load {os.getloadavg()[0]:.2f}" if hasattr(os, "getloadavg") else "load unknown"


def _measured(name: str, place: Place) -> Sequence[Line | Waits]:
    """The lines of one arm; what goes wrong in it is told in its line, and the others still run."""
    try:
        return ARMS[name](place)
    except Exception as error:
        traceback.print_exc()
        return [Waits(name, f"failed: {type(error).__name__}")]


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--runs", type=int, default=15, help="of how many the median is taken (15)")
    parser.add_argument("--only", nargs="+", choices=ARMS, help="these arms only")
    parser.add_argument("--folder", type=Path, help="where to work: names the disk under test")
    parser.add_argument("--json", type=Path, metavar="FILE", help="keep the figures too")
    return parser.parse_args()


def _plain(line: Line | Waits) -> dict[str, object]:
    return {**asdict(line), **({"figure": line.figure, "met": line.met} if isinstance(line, Line) else {})}


if __name__ == "__main__":
    main()
