"""A table of readings brought into the record: all of it or nothing, unless bad lines are left out on purpose."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path

from store.care.bringing import Found, Said, look
from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import many
from store.care.people import keep_episode
from store.entry.cells import CellReader, RowError, TableLine
from store.entry.table import Table, TableError, table_of
from store.record import people, readings

MOST_BYTES = 200_000_000
"""Of a file; a million lines have about half of it."""

AT_ONCE = 500
"""Lines between two words on how far it is."""

Progress = Callable[[str, int, int], None]
"""Is told what is done, how far it is, and of how much."""


class BadLines(CareFault):
    """Lines that cannot be brought in. Its text lists every one of them."""

    def __init__(self, bad: list[Said], lines: int, *, skip: bool) -> None:
        some = "is" if len(bad) == 1 else "are"
        what = f"{len(bad)} of {many(lines, 'line')} {some} bad, and nothing was imported"
        do = "put them right" if skip else "put them right, or add --skip-bad to leave them out"
        super().__init__("\n".join((f"{what}: {do}", *listed(bad))))


def listed(said: list[Said]) -> list[str]:
    """Sentences on lines of the file, one a line, in the order of the file."""
    return [f"  line {one.line}: {one.says}" for one in sorted(said, key=lambda one: one.line)]


def _nothing(what: str, done: int, of: int) -> None:
    del what, done, of


def bring_in(
    care: Care,
    path: Path,
    *,
    dry_run: bool = False,
    skip_bad: bool = False,
    examiner: str = "",
    progress: Progress = _nothing,
) -> Found:
    """Bring in the table of a file, in one transaction, and tell what came of it. A dry run writes nothing.

    `examiner` is of readings whose line names none. Raises CareFault on a file that is no such table, BadLines
    where lines are bad and are not to be skipped, or all are bad, and RecordFault; then nothing is kept.
    """
    table = _read(path)
    lines, bad = _lines(care, table, progress)
    with nullcontext() if dry_run else care.together():
        found = _looked(care, lines, bad, examiner, progress)
        found.unread = table.unread
        if found.bad and (not skip_bad or len(found.bad) == len(table.rows)):
            raise BadLines(found.bad, len(table.rows), skip=skip_bad)
        if not dry_run:
            _keep(care, found, progress)
    return found


def _read(path: Path) -> Table:
    """The table of a file. Raises CareFault."""
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise CareFault(f"there is no file {path}: check the name") from None
    except IsADirectoryError:
        raise CareFault(f"{path} is a folder: name the file in it") from None
    except (OSError, ValueError):
        raise CareFault(f"{path} cannot be read: check that you may, and that its disk is there") from None
    if len(data) > MOST_BYTES:
        raise CareFault(f"{path} has more than {MOST_BYTES // 1_000_000} MB: part it into several files")
    try:
        table = table_of(data)
    except TableError as error:
        raise CareFault(f"{path}: {error}; nothing was imported") from None
    if not table.rows:
        raise CareFault(f"{path} has a heading and no line below it: there is nothing to import")
    return table


def _lines(care: Care, table: Table, progress: Progress) -> tuple[list[TableLine], list[Said]]:
    """The rows that can be read, and what is wrong with the others."""
    known = care.knowledge
    names = tuple(name for each in known.measures for name in (each, *known.measures[each].short_forms))
    reader = CellReader(known.find_measure, names, care.clock.zone)
    lines: list[TableLine] = []
    bad: list[Said] = []
    for done, row in enumerate(table.rows):
        if done % AT_ONCE == 0:
            progress("reading", done, len(table.rows))
        try:
            lines.append(reader.read(row))
        except RowError as error:
            bad.append(Said(row.line, str(error)))
    return lines, bad


def _looked(care: Care, lines: list[TableLine], bad: list[Said], examiner: str, progress: Progress) -> Found:
    """What comes of the lines, one person after another."""
    found = Found(bad=list(bad))
    labels: dict[str, list[TableLine]] = defaultdict(list)
    for line in lines:
        labels[" ".join(line.person.split())].append(line)
    done = 0
    for label, own in labels.items():
        progress("comparing", done, len(lines))
        look(care, label, own, found, examiner)
        done += len(own)
    return found


def _keep(care: Care, found: Found, progress: Progress) -> None:
    for person in found.people:
        people.add_person(care.record, person, by=care.examiner)
    for _, episode in found.episodes:
        keep_episode(care, episode)
    for at in range(0, len(found.readings), AT_ONCE):
        progress("saving", at, len(found.readings))
        readings.add_readings(care.record, found.readings[at : at + AT_ONCE], by=care.examiner)
