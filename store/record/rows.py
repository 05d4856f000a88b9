"""Rows of the file and the frozen objects they stand for, one pair of functions a table.

`..._of` turns the columns of `..._COLUMNS`, in that order, into the object; `..._values` turns the object into all
the columns of its row but those of the revision.
"""

from __future__ import annotations

import json
from datetime import date
from functools import lru_cache
from typing import Any

from store.knowledge.time import Stamp
from store.knowledge.words import (
    BoutEvent,
    BoutKind,
    BoutRow,
    Episode,
    Examiner,
    Grade,
    Moment,
    Person,
    Reading,
    Side,
    Status,
    Step,
    Visit,
    VisitKind,
)
from store.record.faults import FaultKind, RecordFault
from store.record.handle import Row

_decode = json.JSONDecoder().raw_decode  # json.loads without its look at what follows: a CHECK keeps it whole

SIDES: dict[str | None, Side | None] = {None: None, **{side.value: side for side in Side}}
_MOMENTS: dict[str | None, Moment | None] = {None: None, **{moment.value: moment for moment in Moment}}
_STATUSES = {status.value: status for status in Status}

PERSON_COLUMNS = "person.id, person.label, person.born, person.revision"
EXAMINER_COLUMNS = "examiner.id, examiner.name, examiner.revision"
EPISODE_COLUMNS = (
    "episode.id, episode.person, episode.side, episode.opened_at, episode.opened_offset_min, episode.structure, "
    "episode.grade, episode.injured_on, episode.goal, episode.goal_on, episode.sport, episode.level, "
    "episode.sprains_left, episode.sprains_right, episode.anticoagulant, episode.loss_of_feeling, "
    "episode.hypermobility, episode.brace, episode.main_measure, episode.linked_episode, episode.closed_at, "
    "episode.closed_offset_min, episode.letter_to, episode.revision"
)
VISIT_COLUMNS = (
    "id, person, episode, kind, started_at, started_offset_min, ended_at, ended_offset_min, examiner, gave_way, "
    "home_done, home_planned, said, consent_at, consent_offset_min, slot_min, plan, revision"
)
BOUT_COLUMNS = (
    "id, person, episode, visit, activity, kind, measure, moment, plan, started_at, started_offset_min, ended_at, "
    "ended_offset_min, examiner, retracted_at, retracted_offset_min, revision"
)
READING_COLUMNS = (
    "id, person, episode, visit, bout, measure, side, moment, value, unit, status, trials, conditions, taken_at, "
    "taken_offset_min, examiner, note, protocol, blind, retracted_at, retracted_offset_min, revision"
)
EVENT_COLUMNS = "bout, seq, kind, at_ms, wall_at, wall_offset_min, data"


@lru_cache(maxsize=1024)
def _stamp(text: str, offset_min: int) -> Stamp:
    return Stamp.read(text, offset_min)


@lru_cache(maxsize=256)
def _steps(text: str) -> tuple[Step, ...]:
    return tuple(Step(**step) for step in json.loads(text))


@lru_cache(maxsize=256)
def _conditions(text: str) -> tuple[str, ...]:
    return tuple(json.loads(text))


@lru_cache(maxsize=1024)
def _trials(text: str) -> tuple[float, ...]:
    return tuple(_decode(text.lstrip())[0])


def stamp_of(text: str | None, offset_min: int | None) -> Stamp | None:
    """An instant from its two columns; None where it has not come."""
    return None if text is None else _stamp(text, offset_min or 0)


def _date(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def _yes_no(number: int | None) -> bool | None:
    return None if number is None else bool(number)


_EMPTY: dict[type, str] = {dict: "{}", list: "[]", tuple: "[]"}  # most are, and the encoder takes its time
_JSON = json.JSONEncoder(allow_nan=False, ensure_ascii=False)


def as_json(value: object) -> str:
    """JSON as the file keeps it. Raises RecordFault on a number that is not finite."""
    if not value and type(value) in _EMPTY:
        return _EMPTY[type(value)]
    try:
        return _JSON.encode(value)
    except ValueError:
        raise RecordFault(FaultKind.REFUSED, "This was not saved: a number in it is not finite.") from None


def instant(name: str, stamp: Stamp | None, *, local_date: bool = True) -> dict[str, Any]:
    """The columns of an instant: UTC, offset, and the local date where the table has one."""
    columns: dict[str, Any] = {
        f"{name}_at": stamp.text if stamp else None,
        f"{name}_offset_min": stamp.offset_min if stamp else None,
    }
    if local_date:
        columns[f"{name}_on"] = stamp.on.isoformat() if stamp else None
    return columns


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def person_of(row: Row) -> Person:
    """A person from PERSON_COLUMNS."""
    return Person(*row)


def person_values(person: Person) -> dict[str, Any]:
    """The columns of a person."""
    return {"id": person.id, "label": person.label, "born": person.born}


def examiner_of(row: Row) -> Examiner:
    """An examiner from EXAMINER_COLUMNS."""
    return Examiner(*row)


def examiner_values(examiner: Examiner) -> dict[str, Any]:
    """The columns of an examiner."""
    return {"id": examiner.id, "name": examiner.name}


def episode_of(row: Row) -> Episode:
    """An episode from EPISODE_COLUMNS."""
    return Episode(
        id=row[0],
        person=row[1],
        side=Side(row[2]),
        opened=_stamp(row[3], row[4]),
        structure=row[5],
        grade=Grade(row[6]) if row[6] else None,
        injured_on=_date(row[7]),
        goal=row[8],
        goal_on=_date(row[9]),
        sport=row[10],
        level=row[11],
        sprains_left=row[12],
        sprains_right=row[13],
        anticoagulant=_yes_no(row[14]),
        loss_of_feeling=_yes_no(row[15]),
        hypermobility=_yes_no(row[16]),
        brace=row[17],
        main_measure=row[18],
        linked_episode=row[19],
        closed=stamp_of(row[20], row[21]),
        letter_to=row[22],
        revision=row[23],
    )


def episode_values(episode: Episode) -> dict[str, Any]:
    """The columns of an episode."""
    alike = (
        "id person side structure grade goal sport level sprains_left sprains_right anticoagulant loss_of_feeling "
        "hypermobility brace main_measure linked_episode letter_to"
    )
    return {
        **{name: getattr(episode, name) for name in alike.split()},
        **instant("opened", episode.opened),
        "injured_on": _iso(episode.injured_on),
        "goal_on": _iso(episode.goal_on),
        **instant("closed", episode.closed),
    }


def visit_of(row: Row) -> Visit:
    """A visit from VISIT_COLUMNS."""
    return Visit(
        id=row[0],
        person=row[1],
        episode=row[2],
        kind=VisitKind(row[3]),
        started=_stamp(row[4], row[5]),
        ended=stamp_of(row[6], row[7]),
        examiner=row[8],
        gave_way=row[9],
        home_done=row[10],
        home_planned=row[11],
        said=row[12],
        consent=stamp_of(row[13], row[14]),
        slot_min=row[15],
        plan=_steps(row[16]),
        revision=row[17],
    )


def visit_values(visit: Visit) -> dict[str, Any]:
    """The columns of a visit. The plan is a JSON array of its steps."""
    alike = "id person episode kind examiner gave_way home_done home_planned said slot_min"
    steps = [
        {"id": step.id, "kind": step.kind, "ref": step.ref, "minutes": step.minutes, "dropped": step.dropped}
        for step in visit.plan
    ]
    return {
        **{name: getattr(visit, name) for name in alike.split()},
        **instant("started", visit.started),
        **instant("ended", visit.ended),
        **instant("consent", visit.consent),
        "plan": as_json(steps),
    }


def bout_of(row: Row) -> BoutRow:
    """A bout from BOUT_COLUMNS."""
    return BoutRow(
        id=row[0],
        person=row[1],
        episode=row[2],
        visit=row[3],
        activity=row[4],
        kind=BoutKind(row[5]),
        measure=row[6],
        moment=_MOMENTS[row[7]],
        plan=json.loads(row[8]),
        started=_stamp(row[9], row[10]),
        ended=stamp_of(row[11], row[12]),
        examiner=row[13],
        retracted=stamp_of(row[14], row[15]),
        revision=row[16],
    )


def bout_values(bout: BoutRow) -> dict[str, Any]:
    """The columns of a bout."""
    alike = "id person episode visit activity kind measure moment examiner"
    return {
        **{name: getattr(bout, name) for name in alike.split()},
        "plan": as_json(bout.plan),
        **instant("started", bout.started),
        **instant("ended", bout.ended),
        **instant("retracted", bout.retracted, local_date=False),
    }


def event_of(row: Row) -> BoutEvent:
    """A bout's event from EVENT_COLUMNS."""
    return BoutEvent(row[0], row[1], row[2], row[3], Stamp.read(row[4], row[5]), json.loads(row[6]))


def event_row(event: BoutEvent) -> Row:
    """A bout's event as its EVENT_COLUMNS."""
    wall = event.wall_at
    return (event.bout, event.seq, str(event.kind), event.at_ms, wall.text, wall.offset_min, as_json(event.data))


def reading_of(row: Row) -> Reading:
    """A reading from READING_COLUMNS. Given by position, and equal parts shared: an episode has hundreds."""
    return Reading(
        row[0],
        row[1],
        row[5],  # measure
        row[9],  # unit
        _stamp(row[13], row[14]),
        SIDES[row[6]],
        row[8],  # value
        _STATUSES[row[10]],
        _MOMENTS[row[7]],
        _trials(row[11]),
        _conditions(row[12]),
        row[2],  # episode
        row[3],  # visit
        row[4],  # bout
        row[15],  # examiner
        row[16],  # note
        row[17],  # protocol
        row[18] == 1,  # blind
        None if row[19] is None else _stamp(row[19], row[20]),
        row[21],
    )


def reading_values(reading: Reading) -> dict[str, Any]:
    """The columns of a reading."""
    return {
        "id": reading.id,
        "person": reading.person,
        "episode": reading.episode,
        "visit": reading.visit,
        "bout": reading.bout,
        "measure": reading.measure,
        "side": reading.side,
        "moment": reading.moment,
        "value": reading.value,
        "unit": reading.unit,
        "status": reading.status,
        "examiner": reading.examiner,
        "note": reading.note,
        "protocol": reading.protocol,
        "blind": reading.blind,
        "trials": as_json(reading.trials),
        "conditions": as_json(reading.conditions),
        **instant("taken", reading.taken),
        **instant("retracted", reading.retracted, local_date=False),
    }
