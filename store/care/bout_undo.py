"""Taking back a bout in two steps: its ending first, so that it can go on; asked again at once, all of it."""

from __future__ import annotations

from store.bout import keys
from store.bout.events import Event, Kind
from store.bout.fold import advance
from store.bout.plan import BoutPlan
from store.bout.state import Mode, State
from store.care import visits as visiting
from store.care.bout_kept import results_text
from store.care.care import Care
from store.care.faults import CareFault
from store.care.timing import bout_state
from store.knowledge.words import BoutEvent, BoutRow, Visit
from store.record import bouts, readings

BECAUSE = "taken back by undo"
ENDING_BECAUSE = "ending taken back by undo"


def next_undone(care: Care, visit: Visit) -> BoutRow | None:
    """The bout of a visit that ended last, or whose ending was taken back last and which has stood still since."""
    rows = bouts.bouts_of_visit(care.record, visit.id)
    found = [row for row in rows if row.ended is not None or _just_opened(care, row)]
    return max(found, key=lambda row: row.revision, default=None)


def undo_bout(care: Care, row: BoutRow) -> str:
    """Take back the ending of a bout, or all of one that was opened again; says which, and of what."""
    try:
        plan, state = bout_state(care, row)
    except CareFault:  # what this copy cannot read cannot go on either
        return _all_of_it(care, row, _name(care, row))
    if row.ended is None or not state.ended:
        return _all_of_it(care, row, _told(care, row, plan, state))
    return _opened_again(care, row, plan, state)


def _opened_again(care: Care, row: BoutRow, plan: BoutPlan, state: State) -> str:
    event = keys.undo_end(plan, state, state.known_ms)
    assert isinstance(event, Event)
    after = advance(plan, state, event)
    with care.together():
        kept = BoutEvent(row.id, event.seq, event.kind, event.at_ms, care.clock.now(), event.data)
        bouts.add_event(care.record, kept)
        bouts.revise_bout(care.record, row._replace(ended=None), by=care.examiner, because=ENDING_BECAUSE)
        _retract_readings(care, row, ENDING_BECAUSE)
    stands = "opened again" if after.mode is Mode.DONE else "opened again, paused"
    return f"{stands}: {_told(care, row, plan, state)}. u again takes back all of this bout"


def _all_of_it(care: Care, row: BoutRow, what: str) -> str:
    with care.together():
        retracted = row._replace(retracted=care.clock.now())
        bouts.revise_bout(care.record, retracted, by=care.examiner, because=BECAUSE)
        _retract_readings(care, row, BECAUSE)
    return f"took back this bout, {what}"


def _retract_readings(care: Care, row: BoutRow, because: str) -> None:
    made = [reading.id for reading in readings.readings_of_bout(care.record, row.id)]
    readings.retract_readings(care.record, made, by=care.examiner, because=because)


def _just_opened(care: Care, row: BoutRow) -> bool:
    """Whether the last thing that happened in a bout is that its ending was taken back."""
    events = bouts.events_of(care.record, row.id)
    if not events or events[-1].kind != Kind.UNDO:
        return False
    of = events[-1].data.get("of")
    return any(event.seq == of and event.kind == Kind.END for event in events)


def _told(care: Care, row: BoutRow, plan: BoutPlan, state: State) -> str:
    """Its name and what it comes to, with the set under way as far as that went; no figure that is blind now."""
    visit = care.visit(row.visit) if row.visit else None
    if row.measure and visiting.awaits(care, visit, row.measure):
        return plan.name
    end = Event(state.seq + 1, Kind.END, state.known_ms)
    return f"{plan.name}, {results_text(plan, advance(plan, state, end).done)}"


def _name(care: Care, row: BoutRow) -> str:
    activity = care.knowledge.activities.get(row.activity)
    return activity.name if activity else row.activity
