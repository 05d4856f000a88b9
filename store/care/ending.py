"""The end of a visit: what is foreseen then is kept with it, so that it can be held against what comes."""

from __future__ import annotations

from collections.abc import Collection

from store.care import visits
from store.care.care import Care
from store.care.faults import CareFault
from store.care.note_state import is_signed
from store.care.scoring import keep_forecasts
from store.knowledge.words import Visit
from store.record import forecasts, readings

BECAUSE = "the visit goes on"
"""Why forecasts kept at the end of a visit were taken back."""


def end_visit(care: Care, visit: Visit, measures: Collection[str] | None = None) -> Visit:
    """End a visit and keep its forecasts, both or neither; of these `measures` only, where they are named.

    Raises CareFault on a visit that has ended already, or RecordFault.
    """
    with care.together():
        ended = visits.end_visit(care, visit)
        keep_forecasts(care, ended, measures)
        return ended


def hidden_words(care: Care, visit: Visit) -> str:
    """The measures whose hidden before values the ending would show, by name; empty where nothing is hidden."""
    found = visits.hidden(care, visit, readings.readings_of_visit(care.record, visit.id))
    known = care.knowledge.measures
    return " and ".join(sorted(known[each].name if each in known else each for each in found))


def open_again(care: Care, visit: Visit) -> Visit:
    """Take back the ending of a visit, with the forecasts kept at it. Raises CareFault, or RecordFault."""
    if is_signed(care, visit.id):
        raise CareFault("the note is signed: this visit stays ended, and n then a adds to the note")
    with care.together():
        opened = visits.open_again(care, visit)
        for one in forecasts.forecasts_of_visit(care.record, visit.id):
            forecasts.FORECAST.retract(care.record, one, by=care.examiner, because=BECAUSE)
        return opened
