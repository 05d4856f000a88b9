"""What a note tells of safety: what was asked in the visit and what changed, and what is still to be settled."""

from __future__ import annotations

from collections.abc import Sequence

from store.care.care import Care
from store.care.dates import short_day
from store.care.in_words import many, visible
from store.care.safety_state import AS_A_GROUP, FULL, NO_CHANGE, STANDS, bearing_on
from store.care.safety_words import finding_names, question_words, screen_words, why
from store.knowledge.papers import SafetyScreen
from store.knowledge.words import Visit
from store.record import safety

YES_NO = frozenset({"yes", "no"})
MOST = 4
"""Answers that are told one by one."""


def visit_lines(care: Care, visit: Visit) -> list[str]:
    """One line on what was asked in a visit or just before it, one on what had stood and is not settled, or was
    then.
    """
    if visit.episode is None:
        return []
    every = safety.screens_of(care.record, visit.episode)
    asked = bearing_on(care, visit)
    told = "; ".join(_asked(care, one, every) for one in asked)
    here = {one.id for one in asked}
    before = [one for one in every if one.id not in here and one.kind == FULL and one.asked < visit.started]
    stood = "; ".join(line for one in before if (line := _stood(care, one, visit)))
    return [line for line in (told, stood) if line]


def _asked(care: Care, one: SafetyScreen, every: Sequence[SafetyScreen]) -> str:
    if one.kind == AS_A_GROUP:
        return f"safety {NO_CHANGE}, {many(len(one.shown), 'sign')} on show"
    says = [f"safety screen: {screen_words(one)}", f"{many(len(one.answers), 'question')} answered"]
    earlier = [other for other in every if other.kind == FULL and other.asked < one.asked and other.id != one.id]
    return "; ".join([*says, *why(care, one), *(_changed(care, earlier[-1], one) if earlier else ())])


def _changed(care: Care, was: SafetyScreen, now: SafetyScreen) -> tuple[str, ...]:
    """The answers that were another way in the screen before: "since 18 Nov: foot cold, right: no, now yes"."""
    known = question_words(care)
    both = [key for key, word in now.answers.items() if {word, was.answers.get(key)} == YES_NO]
    told = [f"{known.get(key, key)}: {was.answers[key]}, now {now.answers[key]}" for key in both[:MOST]]
    more = f"; and {len(both) - MOST} more" if len(both) > MOST else ""
    return (f"since {short_day(was.asked.on)}: {'; '.join(told)}{more}",) if told else ()


def _stood(care: Care, one: SafetyScreen, visit: Visit) -> str:
    """A referral of an earlier day that still stands, or that was settled on the day of this visit."""
    if one.outcome not in STANDS:
        return ""
    because = ", ".join(finding_names(care, one))
    when = f"{one.outcome} of {short_day(one.asked.on)}{f' ({because})' if because else ''}"
    if one.settled is None:
        return f"{when} stands, not settled"
    settled_here = one.settled.on == visit.started.on
    return f"{when} settled today: {visible(one.settled_because)}" if settled_here else ""
