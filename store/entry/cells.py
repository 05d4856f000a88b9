"""The cells of one row as one value of one measure, or every reason why they are none. Pure."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, tzinfo
from typing import TypeVar

from store.entry.entry import CONDITIONS, SideEntry, asks_of, status_of
from store.entry.errors import EntryError
from store.entry.grammar import FindMeasure, measures_near, one_word
from store.entry.local import day_of, is_day, stamp_of
from store.entry.numbers import is_unit
from store.entry.table import Row, undone
from store.entry.trials import is_value, values_in
from store.entry.words import SIDES, Word, words_of
from store.knowledge.kinds import Measure
from store.knowledge.time import Stamp
from store.knowledge.words import Grade, Moment, Side

T = TypeVar("T")

CELL_MOST = 1000
"""Characters of a cell that is read."""

_BARE_FIGURE = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_MOMENTS = {moment.value: moment for moment in Moment}
_GRADES = {"i": Grade.I, "1": Grade.I, "ii": Grade.II, "2": Grade.II, "iii": Grade.III, "3": Grade.III}


@dataclass(frozen=True, slots=True)
class Injury:
    """What a row says of an injury; None is not said."""

    side: Side
    grade: Grade | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True)
class TableLine:
    """One row, read. `only_day`: it has no time. `asks` are sentences on values outside the plausible range."""

    number: int
    person: str
    taken: Stamp
    measure: Measure
    entry: SideEntry
    moment: Moment | None = None
    examiner: str = ""
    injury: Injury | None = None
    only_day: bool = False
    conditions: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


class RowError(Exception):
    """A row that cannot be read: `whys` has a sentence for each cell at fault."""

    def __init__(self, whys: Iterable[str]) -> None:
        self.whys = tuple(whys)
        super().__init__("; ".join(self.whys))


@dataclass(slots=True)
class CellReader:
    """Reads rows. `names` are the measures' names, to suggest the nearest from; `zone` is that of naive times."""

    find_measure: FindMeasure
    names: tuple[str, ...]
    zone: tzinfo
    _known: dict[tuple[object, ...], object] = field(default_factory=dict)

    def read(self, row: Row) -> TableLine:
        """The row as one line. Raises RowError with all that is wrong in it."""
        cells = _Cells(row)
        measure = cells.needed("measure", self._measure)
        taken = cells.needed("taken_at", self._taken)
        person = cells.needed("person", undone)
        side = cells.get("side", lambda text: _side_for(text, measure))
        if measure and measure.paired and not cells.filled("side"):
            cells.whys.append(f"side: the cell is empty: {measure.name} needs left or right")
        moment = cells.get("moment", _moment_of)
        entry = cells.needed("value", lambda text: self._entry(text, measure, side)) if measure else None
        examiner = cells.get("examiner", undone) or ""
        conditions = cells.get("conditions", _conditions_of) or ()
        if measure is not None:
            cells.get("unit", lambda text: _unit_for(text, measure))
        if entry is not None:
            cells.get("status", lambda text: _status_for(text, entry))
        injury = _injury(cells)
        if cells.whys or measure is None or taken is None or person is None or entry is None:
            raise RowError(cells.whys)
        stamp, only_day = taken
        return TableLine(
            row.line,
            person,
            stamp,
            measure,
            entry,
            moment,
            examiner,
            injury,
            only_day,
            conditions,
            asks_of(entry, measure),
        )

    def _once(self, key: tuple[object, ...], read: Callable[[], T]) -> T:
        """What was read of the same text before; a list of a squad says the same words many times."""
        if key not in self._known:
            try:
                self._known[key] = read()
            except EntryError as error:
                self._known[key] = error
        found = self._known[key]
        if isinstance(found, EntryError):
            raise found
        return found  # type: ignore[return-value]  # what a key stands for is read by one function only

    def _measure(self, text: str) -> Measure:
        return self._once(("measure", text), lambda: self._find(text))

    def _find(self, text: str) -> Measure:
        word = Word(text, 0, len(text))
        found = self.find_measure(one_word(word.key))
        if found is None:
            near = measures_near(word.key, self.names, self.find_measure, "write one, such as lunge")
            raise word.error(f"no measure has this name{near}")
        if found.made_of:
            raise word.error(f"{found.name} is worked out: give {', '.join(found.made_of)}")
        return found

    def _taken(self, text: str) -> tuple[Stamp, bool]:
        return self._once(("taken", text), lambda: (stamp_of(text, self.zone), is_day(text)))

    def _entry(self, text: str, measure: Measure, side: Side | None) -> SideEntry:
        parts = text.split("|")
        if 1 < len(parts) <= measure.counted and all(_BARE_FIGURE.fullmatch(part) for part in parts):
            # figures without units are read each by itself, and the same ones come again and again
            trials = tuple(self._entry(part, measure, side).trials[0] for part in parts)
            return SideEntry(side, trials, status_of(trials, measure))
        return self._once((measure.id, side, text), lambda: _entry_of(text, measure, side))


@dataclass(slots=True)
class _Cells:
    """The cells of a row, and what was found wrong so far."""

    row: Row
    whys: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        if self.row.beyond:
            word = Word(self.row.beyond, 0, len(self.row.beyond))
            self.whys.append(str(word.error("more cells than headings: put a cell that holds a comma in quotes")))

    def filled(self, column: str) -> bool:
        """Whether anything stands in a cell."""
        return bool(self.row.cells.get(column, "").strip())

    def get(self, column: str, read: Callable[[str], T]) -> T | None:
        """What a cell says; None where it is empty or cannot be read."""
        text = self.row.cells.get(column, "").strip()
        try:
            if len(text) > CELL_MOST:
                why = f"the cell has {len(text)} characters and may have {CELL_MOST}: shorten it"
                raise EntryError(text, why, 0, len(text))
            return read(text) if text else None
        except EntryError as error:
            self.whys.append(f"{column}: {error}")
        return None

    def needed(self, column: str, read: Callable[[str], T]) -> T | None:
        """What a cell says that may not be empty."""
        if not self.filled(column):
            self.whys.append(f"{column}: the cell is empty: fill it")
        return self.get(column, read)


def _entry_of(text: str, measure: Measure, side: Side | None) -> SideEntry:
    """One side's trials, parted by strokes. Raises EntryError."""
    return values_in(" ".join(_trial(part, text) for part in text.split("|")), measure, side)


def _trial(part: str, text: str) -> str:
    """One trial between strokes: one value, which may have its unit behind a blank."""
    if not part.strip():
        raise EntryError(text, "a trial is missing: write them as 10.1|10.3", 0, len(text))
    several = any(char.isspace() for char in part.strip())
    if several and sum(is_value(word) and not is_unit(word) for word in words_of(part)) > 1:
        raise EntryError(text, "more than one value: part trials by strokes, such as 10.1|10.3", 0, len(text))
    return part


def _side_for(text: str, measure: Measure | None) -> Side:
    """The side of a value. Raises EntryError, also where the measure has none."""
    if measure is not None and not measure.paired:
        raise EntryError(text, f"{measure.name} has no sides: leave the cell empty", 0, len(text))
    return _side_of(text)


def _side_of(text: str) -> Side:
    return _one_of(text, SIDES, "write left or right")


def _moment_of(text: str) -> Moment:
    return _one_of(text, _MOMENTS, "write before or after, or leave the cell empty")


def _unit_for(text: str, measure: Measure) -> None:
    """Raises EntryError on a unit that is not the measure's own: one that may be typed stands behind the value."""
    if text != measure.unit:
        why = f"{measure.name} is kept in {measure.unit}: write another unit behind the value"
        raise EntryError(text, why, 0, len(text))


def _status_for(text: str, entry: SideEntry) -> None:
    """Raises EntryError where it is not what the value says."""
    if text.casefold() != entry.status:
        why = f"by its value this is {entry.status}: make them alike, or leave the cell empty"
        raise EntryError(text, why, 0, len(text))


def _conditions_of(text: str) -> tuple[str, ...]:
    """What a value was taken in or on, parted by strokes."""
    found = tuple(part.strip().casefold() for part in text.split("|"))
    for part in found:
        if part not in CONDITIONS:
            raise EntryError(text, f"write {', '.join(CONDITIONS)}, parted by strokes", 0, len(text))
    return found


def _grade_of(text: str) -> Grade:
    return _one_of(text, _GRADES, "write I, II or III, or leave the cell empty")


def _one_of(text: str, known: dict[str, T], why: str) -> T:
    try:
        return known[text.casefold()]
    except KeyError:
        raise EntryError(text, why, 0, len(text)) from None


def _injury(cells: _Cells) -> Injury | None:
    side = cells.get("injured_side", _side_of)
    grade = cells.get("grade", _grade_of)
    on = cells.get("injured_on", day_of)
    if side is not None:
        return Injury(side, grade, on)
    if (grade or on) and not cells.filled("injured_side"):
        cells.whys.append("injured_side: the cell is empty, and an injury is of one ankle: fill it")
    return None
