"""Putting right what was measured, also in an earlier visit or before the injury: typed anew, or taken out.

What stood before is kept as an amendment, whose words the source page tells.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import value_text
from store.care.note_state import is_signed
from store.care.past_days import came_from
from store.care.taking import value_of_side
from store.entry.entry import Entry
from store.entry.grammar import parse
from store.entry.numbers import spelled
from store.entry.words import SIDES, words_of
from store.knowledge.kinds import Measure
from store.knowledge.words import Reading, Side, Status, Visit
from store.record import readings

PUT_RIGHT, TAKEN_OUT, PUT_BACK = "put right", "taken out", "put back by undo"
"""Why a reading was amended."""

SIGNED = "the note of that visit is signed: add to it what changed"


@dataclass(frozen=True, slots=True)
class Righted:
    """One reading put right or taken out: as it was, as it stands now, and what is said of it."""

    was: Reading
    now: Reading
    says: str


def of_measure(care: Care, person: str, measure: Measure) -> list[Reading]:
    """A person's readings of one measure that stand, the newest first, and of one instant left before right.

    What a blind re-test hides is left out.
    """
    return _shown(care, readings.readings_of_person(care.record, person, measure.id))


def of_person(care: Care, person: str) -> list[Reading]:
    """The same of every measure that this copy knows."""
    found = readings.readings_of_person(care.record, person)
    return _shown(care, [one for one in found if one.measure in care.knowledge.measures])


def _shown(care: Care, found: Sequence[Reading]) -> list[Reading]:
    blind = {
        (visit, measure)
        for visit, measure in {(one.visit, one.measure) for one in found if one.visit is not None}
        if visiting.awaits(care, _going_on(care, visit), measure)
    }
    shown = [one for one in found if (one.visit, one.measure) not in blind]
    shown.sort(key=lambda one: one.side is Side.RIGHT)
    return sorted(shown, key=lambda one: one.taken.at, reverse=True)


def _going_on(care: Care, visit_id: str) -> Visit | None:
    visit = care.visit(visit_id)
    return visit if visit.ended is None else None


def says_of(reading: Reading, measure: Measure) -> str:
    """One of them in a line, without its day and moment: `left 4.8 from 4.9 4.8 4.7, tape, AB`."""
    words = [f"{reading.side or ''} {value_text(reading, measure)}".strip()]
    if len(reading.trials) > 1:
        words[0] += f" from {typed(reading, measure)}"
    words += ["timed"] if reading.bout else []
    words += [came] if (came := came_from(reading)) else []
    return ", ".join([*words, *reading.conditions, *([reading.examiner] if reading.examiner else [])])


def typed(reading: Reading, measure: Measure) -> str:
    """What would be typed for it: its trials, or that the side was unable."""
    if reading.status is Status.UNABLE or reading.value is None:
        return "unable"
    return " ".join(spelled(trial, measure) for trial in reading.trials or (reading.value,))


def anew(care: Care, reading: Reading, measure: Measure, text: str) -> Entry:
    """What is typed in place of it. Raises EntryError, or CareFault where it is not one side's values only."""
    if reading.bout is not None:
        raise CareFault("this value was timed: it can be taken out, and timed or measured anew")
    line = f"{measure.id} {reading.side or ''} {text}"
    if any(word.key in SIDES for word in words_of(text, "8.4 8.6, or unable")):
        raise CareFault("type the values of this one side only; another side is put right in its own line")
    entry = parse(line, care.knowledge.find_measure)
    if entry.moment or entry.conditions or entry.note:
        raise CareFault("type the values only: when it was taken, and in what, stays as it is")
    return entry


def put_right(care: Care, reading: Reading, entry: Entry) -> Righted:
    """Keep what was typed in place of a reading. Raises CareFault; RecordFault where it was changed."""
    side = entry.sides[0]
    new = reading._replace(value=value_of_side(side, entry.measure), trials=side.trials, status=side.status)
    if (new.value, new.trials, new.status) == (reading.value, reading.trials, reading.status):
        raise CareFault("nothing was changed")
    kept = readings.revise_reading(care.record, new, by=care.examiner, because=PUT_RIGHT)
    was, now = (value_text(one, entry.measure) for one in (reading, kept))
    return Righted(reading, kept, f"{_name(kept, entry.measure)}: was {was}, now {now}{_signed(care, kept)}")


def take_out(care: Care, reading: Reading, measure: Measure) -> Righted:
    """Take a reading out: it stays in the file, marked. Raises RecordFault."""
    gone = reading._replace(retracted=care.clock.now())
    kept = readings.revise_reading(care.record, gone, by=care.examiner, because=TAKEN_OUT)
    says = f"took out {_name(kept, measure)} {value_text(reading, measure)}{_signed(care, kept)}"
    return Righted(reading, kept, says)


def put_back(care: Care, act: Righted, measure: Measure) -> str:
    """Undo either, and say what stands again. Raises CareFault where it was changed since."""
    now = readings.reading(care.record, act.now.id)
    if now is None or now._replace(revision="") != act.now._replace(revision=""):
        raise CareFault("this reading was changed since: look at how it stands now")
    back = act.was._replace(revision=now.revision)
    readings.revise_reading(care.record, back, by=care.examiner, because=PUT_BACK)
    return f"{_name(back, measure)} is {value_text(back, measure)} again"


def _name(reading: Reading, measure: Measure) -> str:
    return f"{measure.name} {reading.side or ''}".strip()


def _signed(care: Care, reading: Reading) -> str:
    return f"; {SIGNED}" if reading.visit is not None and is_signed(care, reading.visit) else ""
