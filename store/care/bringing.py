"""The lines of one person in a table, held against the record: what of them is new, and what cannot be.

Nothing here writes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from store.care.care import Care, clean_examiner
from store.care.dates import day_text
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.people import EpisodeForm, check_episode, clean_label
from store.care.standing import belongs
from store.care.taking import value_of_side
from store.entry.cells import Injury, TableLine
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Moment, Person, Reading, Side
from store.record import episodes, people, readings

Key = tuple[str, Side | None, str, Moment | None]
"""Measure, side, instant and moment: of one person the same twice is one reading."""


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence on a line of the file."""

    line: int
    says: str


@dataclass(slots=True)
class Found:
    """What would come of lines: new rows, what is here already, and the lines that are bad or worth a look.

    Counts are of readings, but `twice` of lines and `unread` of cells.
    """

    people: list[Person] = field(default_factory=list)
    episodes: list[tuple[Person, Episode]] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    bad: list[Said] = field(default_factory=list)
    notes: list[Said] = field(default_factory=list)
    here: int = 0
    twice: int = 0
    taken_back: int = 0
    only_days: int = 0
    unread: int = 0


@dataclass(slots=True)
class _Told:
    """What the lines said so far of one injury: on which line first, what, and when the readings were taken."""

    line: int
    injury: Injury
    taken: list[Stamp] = field(default_factory=list)


@dataclass(slots=True)
class _Whose:
    """One person of the file: their episodes and readings as they are kept, and what the lines said so far."""

    person: Person
    now: Stamp
    episodes: list[Episode]
    kept: Mapping[Key, Reading]
    retracted: Mapping[Key, Reading]
    injuries: dict[Side, _Told] = field(default_factory=dict)
    new: dict[Key, tuple[TableLine, Reading]] = field(default_factory=dict)


def look(care: Care, label: str, lines: Sequence[TableLine], found: Found, examiner: str) -> None:
    """Add to what was found what comes of the lines under one label. `examiner` is of those that name none."""
    try:
        known = people.people_labelled(care.record, clean_label(label))
        if len(known) > 1:
            raise CareFault(f"{len(known)} people have the label {visible(label)}: give one another label")
    except CareFault as fault:
        found.bad += [Said(line.number, f"person: {fault}") for line in lines]
        return
    whose = _whose(care, known[0] if known else Person(care.new_id(), clean_label(label)), is_new=not known)
    for line in lines:
        try:
            _take(whose, line, found, examiner)
        except CareFault as fault:
            found.bad.append(Said(line.number, str(fault)))
    _settle(care, whose, found, is_new=not known)


def _whose(care: Care, person: Person, *, is_new: bool) -> _Whose:
    every = [] if is_new else readings.every_of_person(care.record, person.id)
    return _Whose(
        person,
        care.clock.now(),
        [] if is_new else episodes.episodes_of_person(care.record, person.id),
        {_key(one): one for one in every if one.retracted is None},
        {_key(one): one for one in every if one.retracted is not None},
    )


def _key(reading: Reading) -> Key:
    return reading.measure, reading.side, reading.taken.text, reading.moment


# line by line


def _take(whose: _Whose, line: TableLine, found: Found, examiner: str) -> None:
    """Take one line in. Raises CareFault with what is wrong in it."""
    _check_day(whose, line)
    injury = _agreed(whose, line)
    reading = _reading(whose.person, line, examiner)
    if _is_new(whose, reading, found):
        whose.new[_key(reading)] = line, reading
        found.notes += [Said(line.number, asks) for asks in line.asks]
        found.only_days += line.only_day
    if injury is not None:
        told = whose.injuries.setdefault(injury.side, _Told(line.number, injury))
        told.injury = injury
        told.taken.append(line.taken)


def _check_day(whose: _Whose, line: TableLine) -> None:
    born = whose.person.born
    if line.taken > whose.now:
        raise CareFault(f"taken_at: {line.taken.local:%Y-%m-%d %H:%M} lies in the future: put it right")
    if born is not None and line.taken.on.isoformat() < born:
        raise CareFault(f"taken_at: {line.taken.on} is before birth ({born}): put it right")


def _agreed(whose: _Whose, line: TableLine) -> Injury | None:
    """The injury that a line and those before it tell together. Raises CareFault where they differ."""
    told = line.injury
    if told is None:
        return None
    form = EpisodeForm(told.side, grade=told.grade, injured_on=told.on)
    check_episode(form, whose.person.born, whose.now.on)
    if told.side in whose.injuries:
        first = whose.injuries[told.side]
        before = first.injury
        for column, one, other in (("injured_on", told.on, before.on), ("grade", told.grade, before.grade)):
            if one and other and one != other:
                raise CareFault(
                    f"{column}: {one}, and line {first.line} says {other} of this ankle: make them alike"
                )
        told = Injury(told.side, told.grade or before.grade, told.on or before.on)
    kept = _kept_episode(whose, told, line.taken)
    if kept is not None and told.on and kept.injured_on and told.on != kept.injured_on:
        raise CareFault(
            f"injured_on: {told.on}, but the open episode of the {told.side} ankle is of an injury on "
            f"{day_text(kept.injured_on)}: close that first, or put the day right"
        )
    return told


def _kept_episode(whose: _Whose, injury: Injury, taken: Stamp) -> Episode | None:
    """The episode in the record that an injury is: of its day, else the open one, else one that was open then."""
    own = [episode for episode in whose.episodes if episode.side is injury.side]
    same_day = [episode for episode in own if injury.on and episode.injured_on == injury.on]
    still_open = [episode for episode in own if episode.closed is None]
    then = [
        episode for episode in own
        if injury.on is None and episode.closed is not None and episode.opened <= taken <= episode.closed
    ]  # fmt: skip
    return next(iter([*same_day, *still_open, *then]), None)


def _reading(person: Person, line: TableLine, examiner: str) -> Reading:
    measure = line.measure
    return Reading(
        id="",
        person=person.id,
        measure=measure.id,
        unit=measure.unit,
        taken=line.taken,
        side=line.entry.side,
        value=value_of_side(line.entry, measure),
        status=line.entry.status,
        moment=line.moment,
        trials=line.entry.trials,
        conditions=line.conditions,
        examiner=_examiner(line.examiner) if line.examiner else examiner,
        protocol=measure.protocol,
    )


def _examiner(name: str) -> str:
    try:
        return clean_examiner(name)
    except CareFault as fault:
        raise CareFault(f"examiner: {fault}") from None


def _is_new(whose: _Whose, reading: Reading, found: Found) -> bool:
    """Whether a reading is not kept yet, nor told before. Raises CareFault where another value is."""
    key = _key(reading)
    if key in whose.kept:
        if not _same(whose.kept[key], reading):
            raise CareFault("value: the record has another for the same time, which stands: leave this line out")
        found.here += 1
        return False
    if key in whose.new:
        earlier, before = whose.new[key]
        if not _same(before, reading):
            raise CareFault(f"value: line {earlier.number} gives another for the same time: leave one of them out")
        found.twice += 1
        return False
    if key in whose.retracted and _same(whose.retracted[key], reading):
        found.taken_back += 1
        return False
    return True


def _same(one: Reading, other: Reading) -> bool:
    return (one.value, one.status, one.trials) == (other.value, other.status, other.trials)


# all of them together


def _settle(care: Care, whose: _Whose, found: Found, *, is_new: bool) -> None:
    """Put the readings into their episodes, and note who and what is new."""
    told = _episodes_told(care, whose, found)
    if is_new and (whose.new or told):
        found.people.append(whose.person)
    every = sorted([*whose.episodes, *told.values()], key=lambda episode: (episode.opened, episode.id))
    for line, reading in whose.new.values():
        own = told.get(line.injury.side) if line.injury else None
        episode = _episode_of(reading, [own] if own else every)
        found.readings.append(reading._replace(episode=episode.id if episode else None))


def _episodes_told(care: Care, whose: _Whose, found: Found) -> dict[Side, Episode]:
    """The episode of each injury that the lines told of: one that is kept, else a new one."""
    told: dict[Side, Episode] = {}
    for side, said in whose.injuries.items():
        kept = _kept_episode(whose, said.injury, min(said.taken))
        told[side] = kept or _new_episode(care, whose.person, said.injury, said.taken)
        if kept is None:
            found.episodes.append((whose.person, told[side]))
        elif _differs(kept, said.injury):
            found.notes.append(
                Said(said.line, f"the episode of the {side} ankle keeps its own grade and day of injury")
            )
    return told


def _differs(kept: Episode, injury: Injury) -> bool:
    return bool((injury.grade and injury.grade is not kept.grade) or (injury.on and injury.on != kept.injured_on))


def _new_episode(care: Care, person: Person, injury: Injury, taken: Sequence[Stamp]) -> Episode:
    """An episode opened with the first reading since the injury, else now."""
    since = [stamp for stamp in taken if injury.on is None or stamp.on >= injury.on]
    opened = min(since, default=care.clock.now())
    blank = Episode(care.new_id(), person.id, injury.side, opened)
    return blank._replace(grade=injury.grade, injured_on=injury.on)


def _episode_of(reading: Reading, possible: Sequence[Episode]) -> Episode | None:
    """The episode that a reading falls into by its date: of two that of its side, else the one opened first."""
    then = [episode for episode in possible if belongs(reading, episode)]
    return next((episode for episode in then if episode.side is reading.side), then[0] if then else None)
