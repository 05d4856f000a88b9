"""That a technique or exercise was stopped for pain when it was last done: told wherever it is offered again."""

from __future__ import annotations

from collections.abc import Sequence

from store.bout.plan import BoutPlan
from store.bout.result import cut_short, pain_that_ends
from store.bout.state import SetResult
from store.care.care import Care
from store.care.dates import short_day
from store.care.faults import CareFault
from store.care.timing import bout_state
from store.record import bouts


def stopped_words(plan: BoutPlan, done: Sequence[SetResult]) -> str:
    """Of a bout that ended: "stopped, pain 3", or "told to stop, pain 3" where it went on; else empty."""
    pain = pain_that_ends(plan, done)
    if pain is None:
        return ""
    return f"{'stopped' if cut_short(plan, done) else 'told to stop'}, pain {pain}"


def last_time(care: Care, episode: str, activity: str) -> str:
    """The same of the newest bout of an activity on this ankle: "last time, 25 Nov: stopped, pain 3"."""
    row = bouts.last_ended(care.record, episode, activity)
    if row is None:
        return ""
    try:
        plan, state = bout_state(care, row)
    except CareFault:  # a bout that this copy cannot read says so among the earlier visits
        return ""
    says = stopped_words(plan, state.done)
    return f"last time, {short_day(row.started.on)}: {says}" if says else ""
