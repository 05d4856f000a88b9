"""All that is held on a person as JSON: each row by the words of the record, with what it came to."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from typing import Any

from store.care.everything import Everything, HeldVisit
from store.care.past_data import visit_data
from store.knowledge.time import Stamp

_HALF = re.compile("[\ud800-\udfff]")


def json_parts(people: Iterable[Everything], made: Stamp) -> Iterator[bytes]:
    """One JSON text in UTF-8, a part a person. `made` is when it is written."""
    yield f'{{\n"exported_at": "{made.text}",\n"people": ['.encode()
    between = "\n"
    for held in people:
        text = json.dumps(person_data(held), ensure_ascii=False, indent=2, allow_nan=False)
        # half of a pair is no character that UTF-8 has: JSON can name it
        yield (between + _HALF.sub(lambda found: f"\\u{ord(found[0]):04x}", text)).encode("utf-8")
        between = ",\n"
    yield b"\n]\n}\n"


def person_data(held: Everything) -> dict[str, Any]:
    """One person; `hidden` names the measures whose values a blind re-test keeps out of it."""
    came_of = {bout["id"]: bout for visit in held.visits for bout in _told(visit).get("bouts", [])}
    return {
        "person": row_data(held.person),
        "invented": held.invented,
        "hidden": sorted(frozenset[str]().union(*held.hidden.values())),
        "squads": [row_data(one) for one in held.squads],
        "episodes": [_episode(row_data(one)) for one in held.episodes],
        "visits": [_visit(one) for one in held.visits],
        "readings": [row_data(one) for one in held.readings],
        "bouts": [
            row_data(one)
            | {
                "came_of": _result(came_of.get(one.id)),
                "events": [row_data(event) for event in held.events[one.id]],
            }
            for one in held.bouts
        ],
        "decisions": [row_data(one) for one in held.decisions],
        "programmes": [row_data(one) for one in held.programmes],
        "programme_days": [row_data(one) for one in held.days],
        "safety_screens": [row_data(one) for one in held.screens],
        "resprains": [row_data(one) for one in held.resprains],
        "rechecks": [row_data(one) for one in held.rechecks],
        "run_plans": [row_data(one) for one in held.run_plans],
        "run_sessions": [row_data(one) | {"rung_words": held.rungs.get(one.id)} for one in held.run_sessions],
        "notes": [row_data(one) for one in held.notes],
        "appointments": [row_data(one) for one in held.appointments],
        "forecasts": [row_data(one) for one in held.forecasts],
        "amendments": [row_data(one) for one in held.amendments],
        "rules": {name: dict(data) for name, data in held.rules.items()},
    }


def row_data(row: object) -> dict[str, Any]:
    """A row by the columns of the record: an instant is `_at`, `_on` and `_offset_min`, a day ends in `_on`."""
    found: dict[str, Any] = {}
    for name in _names(row):
        value = getattr(row, name)
        if isinstance(value, Stamp):
            at = name.removesuffix("_at")
            found |= {
                f"{at}_at": value.text,
                f"{at}_on": value.on.isoformat(),
                f"{at}_offset_min": value.offset_min,
            }
        else:
            day = isinstance(value, date) and not name.endswith("_on")
            found[f"{name}_on" if day else name] = _plain(value)
    return found


def _names(row: object) -> tuple[str, ...]:
    if is_dataclass(row):
        return tuple(field.name for field in fields(row))
    names: tuple[str, ...] = getattr(row, "_fields", ())
    return names


def _plain(value: object) -> object:
    """A value as JSON has it."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(name): _plain(each) for name, each in value.items()}
    if _names(value):
        return row_data(value)
    if isinstance(value, tuple | list | frozenset):
        return [_plain(each) for each in value]
    return value


def _told(held: HeldVisit) -> dict[str, Any]:
    return visit_data(held.told) if held.told is not None else {}


def _episode(data: dict[str, Any]) -> dict[str, Any]:
    """The side under the name that it has wherever a person is told."""
    return {"injured_side" if name == "side" else name: value for name, value in data.items()}


def _visit(held: HeldVisit) -> dict[str, Any]:
    """The row, the line that was said as `said_line`, and what was made of it; its readings stand beside."""
    row = row_data(held.visit)
    told = {name: value for name, value in _told(held).items() if name not in ("readings", "bouts")}
    return row | {"said_line": row["said"]} | {"said": None} | told


def _result(bout: dict[str, Any] | None) -> dict[str, Any] | None:
    wanted = ("name", "sides", "planned", "done", "sets", "pain", "faults", "pauses", "ended_early", "trouble")
    return None if bout is None else {name: bout[name] for name in wanted}
