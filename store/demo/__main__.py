"""`python -m store.demo FILE [DATE]` builds the invented record, as of a date or of today."""

from __future__ import annotations

import argparse
from datetime import date, datetime
from pathlib import Path

from store.demo import build
from store.knowledge.time import Stamp
from store.record.faults import RecordFault


def main() -> None:
    """Build the file that is named on the command line."""
    parser = argparse.ArgumentParser(prog="python -m store.demo", description="Build a record of invented people.")
    parser.add_argument("file", metavar="FILE", type=Path, help="a new file")
    parser.add_argument("date", metavar="DATE", nargs="?", type=date.fromisoformat, help="such as 2026-11-23")
    options = parser.parse_args()
    try:
        build(options.file, options.date or Stamp.of(datetime.now().astimezone()))
    except RecordFault as found:
        parser.error(str(found))


if __name__ == "__main__":
    main()
