"""Readings as a table in CSV (RFC 4180): one reading a row, in the columns that an import reads.

A table brought into an empty record gives the same readings. A formula in a text is defused by a single quote,
which the import takes away again; a number is left alone.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from decimal import Decimal

from store.care.everything import Everything
from store.care.table_cells import COLUMNS, defused
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Reading, Status

_FIGURES = frozenset({"value"})
"""Columns of numbers, in which a leading minus is no formula."""


def csv_parts(people: Iterable[Everything]) -> Iterator[bytes]:
    """The table in UTF-8, a part a person: readings that stand, oldest first."""
    yield _lines([dict(zip(COLUMNS, COLUMNS, strict=True))])
    for held in people:
        own = {episode.id: episode for episode in held.episodes}
        yield _lines(
            _cells(held.person.label, reading, own.get(reading.episode or ""))
            for reading in held.standing_readings
        )


def _lines(rows: Iterable[dict[str, str]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    for row in rows:
        writer.writerow(_safe(column, row[column]) for column in COLUMNS)
    return text.getvalue().encode("utf-8", "backslashreplace")


def _safe(column: str, cell: str) -> str:
    return cell if column in _FIGURES else defused(cell)


def _cells(label: str, reading: Reading, episode: Episode | None) -> dict[str, str]:
    return {
        "person": label,
        "injured_side": episode.side if episode else "",
        "grade": (episode.grade or "") if episode else "",
        "injured_on": episode.injured_on.isoformat() if episode and episode.injured_on else "",
        "taken_at": _when(reading.taken),
        "measure": reading.measure,
        "side": reading.side or "",
        "value": _value(reading),
        "moment": reading.moment or "",
        "examiner": reading.examiner,
        "unit": reading.unit,
        "status": reading.status,
        "conditions": "|".join(reading.conditions),
    }


def _when(stamp: Stamp) -> str:
    """The local time with its offset, to the millisecond where it is no whole second."""
    return stamp.local_text("milliseconds" if stamp.at.microsecond else "seconds")


def _value(reading: Reading) -> str:
    """The trials parted by strokes, else the value: `unable` and `cap` as they are typed."""
    if reading.status is Status.UNABLE or reading.value is None:
        return "unable"
    if not reading.trials and reading.status is Status.CAP:
        return "cap"
    return "|".join(_plain(figure) for figure in reading.trials or (reading.value,))


def _plain(figure: float) -> str:
    """All figures that are kept, and no more: 4.5, 12."""
    return f"{Decimal(repr(figure)):f}".removesuffix(".0")
