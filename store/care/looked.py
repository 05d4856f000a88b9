"""The last looks at a person at the sideline: what they came to, in words and as data.

By side, and until that ankle is looked at again: who was to be seen by others yesterday is not forgotten
overnight, nor behind a look at the other ankle.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Any

from store.care.care import Care
from store.care.dates import day_text, short_day, stamp_text, time_text
from store.care.in_words import visible
from store.care.statements import Section, Statement
from store.knowledge.rechecks import Recheck
from store.knowledge.sideline import SIGNS, BenchOutcome
from store.knowledge.time import Stamp
from store.knowledge.words import Side
from store.record import rechecks

SAME_MATCH = timedelta(hours=12)
"""Within it a look counts as of now, past midnight too: a choice of ours, no source."""

_GRAVEST = list(BenchOutcome)
_SHORT = {
    BenchOutcome.EMERGENCY: "emerg.",
    BenchOutcome.TODAY: "refer",
    BenchOutcome.REMOVE: "remove",
    BenchOutcome.RECHECK: "again",
}
"""The outcome of a look of another day, beside its day."""


def last_looks(care: Care, person_id: str) -> tuple[Recheck, ...]:
    """The last look of each side that was looked at, the gravest first."""
    return gravest_first(rechecks.rechecks_of(care.record, person_id))


def gravest_first(looks: Iterable[Recheck]) -> tuple[Recheck, ...]:
    """The same, of looks that were read already."""
    return tuple(sorted(_last_by_side(looks), key=lambda one: _GRAVEST.index(one.outcome)))


def _last_by_side(looks: Iterable[Recheck]) -> list[Recheck]:
    """The one of each side that was kept last: a clock that was set back meanwhile does not hide it."""
    return list({one.side: one for one in sorted(looks, key=lambda one: one.id)}.values())


def hurt_on(looks: Iterable[Recheck], side: Side | None, day: date) -> bool:
    """Whether the last look until a day, at one side or at either where it is None, found a sign.

    What is measured then is no baseline: a later loss would be held against the hurt ankle.
    """
    last = _last_by_side(one for one in looks if one.looked.on <= day)
    return any(one.outcome in SIGNS for one in last if side is None or one.side is side)


def of_now(one: Recheck, now: Stamp) -> bool:
    """Whether a look is of today, or of a match that goes on past midnight."""
    return one.looked.on == now.on or abs(now.at - one.looked.at) < SAME_MATCH


def is_due(one: Recheck, now: Stamp) -> bool:
    """Whether the next look is due."""
    return one.due is not None and of_now(one, now) and one.due.at <= now.at


def any_due(looks: Iterable[Recheck], now: Stamp) -> bool:
    """Whether the next look at an ankle is due."""
    return any(is_due(one, now) for one in looks)


def last_words(looks: Sequence[Recheck], now: Stamp) -> str:
    """The gravest last look in at most fourteen letters: `remove 14:25`, with when the next one is due.

    Of another day it is told with that day, unless no stop sign was found then.
    """
    told = [one for one in looks if of_now(one, now) or one.outcome is not BenchOutcome.NONE]
    if not told:
        return ""
    one = told[0]
    if not of_now(one, now):
        return f"{short_day(one.looked.on)} {_SHORT[one.outcome]}"
    word = "no sign" if one.outcome is BenchOutcome.NONE else str(one.outcome)
    if one.due is None:
        return word
    return f"{word} {'now' if is_due(one, now) else time_text(one.due)}"


def kept_words(one: Recheck) -> str:
    """What was kept, with when to look again: `remove; look again at 14:25`."""
    return f"{one.outcome}{f'; look again at {time_text(one.due)}' if one.due else ''}"


def reason(care: Care, one: Recheck) -> str:
    """The signs that made the outcome, as they are asked in this copy."""
    signs = care.knowledge.sideline.signs
    return "; ".join(sign.asks for sign in signs if one.answers.get(sign.id) and sign.comes_to is one.outcome)


def look_lines(care: Care, person_id: str) -> list[str]:
    """The last looks, a line each: `sideline 28 Nov 2026 14:05, left ankle: refer today (why), by AB`."""
    return [
        f"sideline {stamp_text(one.looked)}, {one.side} ankle: {_outcome(care, one)}{_by(one, ', by ')}"
        for one in last_looks(care, person_id)
    ]


def look_section(care: Care, person_id: str) -> tuple[Section, ...]:
    """The same for a page; no section where nobody looked."""
    told = tuple(
        Statement(
            f"{one.side} ankle",
            _outcome(care, one),
            f"{day_text(one.looked.on)} {time_text(one.looked)}{_by(one, ', ')}",
        )
        for one in last_looks(care, person_id)
    )
    return (Section("last look at the sideline", told),) if told else ()


def _outcome(care: Care, one: Recheck) -> str:
    why = reason(care, one)
    return f"{one.outcome} ({why})" if why else str(one.outcome)


def _by(one: Recheck, before: str) -> str:
    return f"{before}{visible(one.examiner)}" if one.examiner else ""


def looks_data(care: Care, person_id: str) -> list[dict[str, Any]]:
    """The last looks as data: `answers` by the ids of the signs, true where it was there."""
    return [
        {
            "side": one.side,
            "looked_at": one.looked.text,
            "looked_on": one.looked.on.isoformat(),
            "looked_offset_min": one.looked.offset_min,
            "outcome": one.outcome,
            "answers": dict(one.answers),
            "due_at": one.due.text if one.due else None,
            "examiner": one.examiner,
        }
        for one in last_looks(care, person_id)
    ]
