"""The home programme in a visit's plan: whether one was handed out in it, and in which words the line tells it.

Read with each look at a visit, so it asks for no more than the last programme.
"""

from __future__ import annotations

from store.care.care import Care
from store.care.dates import short_day
from store.care.in_words import many
from store.knowledge.papers import Programme
from store.knowledge.words import Visit
from store.record import programmes


def handed_out_in(care: Care, visit: Visit) -> list[Programme]:
    """The programmes that were handed out in a visit."""
    if visit.episode is None:
        return []
    return programmes.programmes_of_visit(care.record, visit.episode, visit.id)


def home_step_says(care: Care, visit: Visit) -> str:
    """What the step came to, or what there is to carry over: "3 exercises, from 18 Nov"."""
    handed = handed_out_in(care, visit)
    if handed:
        return f"{many(len(handed[-1].items), 'exercise')}, {handed[-1].words}"
    last = programmes.last_programme(care.record, visit.episode) if visit.episode is not None else None
    if last is None:
        return "none yet"
    return f"{many(len(last.items), 'exercise')}, from {short_day(last.issued.on)}"
