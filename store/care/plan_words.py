"""The lines of a visit's plan in words: what each is called, what came of it, or what it asks for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from store.care import safety_state
from store.care.care import Care
from store.care.compared import change_text
from store.care.dose_words import dose_words
from store.care.faults import CareFault
from store.care.home_words import home_step_says
from store.care.in_words import many, value_text
from store.care.note_state import state_words
from store.care.plan import KNOWN_KINDS, PlanLine, before_and_after
from store.care.timing import NOTHING_DONE, bout_text
from store.care.worked import asked_sides, worked
from store.entry.numbers import plain
from store.entry.said import MEASURES
from store.knowledge.kinds import Measure
from store.knowledge.words import BoutRow, Moment, Reading, Side, Step, Visit
from store.reckon.change import change

NAMES = {
    "said": "what has changed",
    "safety": "safety re-asked",
    "home": "home programme",
    "note": "note",
}
_WORDS = {"said": "ask", "safety": "safety", "home": "home", "note": "note"}
_REFUSED = re.compile(r"\bconsent\s+no?\b", re.IGNORECASE)
LATER = "not in this version"
LATER_LONG = "This copy does not know this step, a later version may: d leaves it out today."


def step_name(care: Care, step: Step) -> str:
    """What a step is called. One that this copy does not know is called by its id."""
    if step.kind in NAMES or step.kind not in KNOWN_KINDS:
        return NAMES.get(step.kind, step.id)
    if step.kind == "activity":
        return activity_name(care, step.ref)
    measure = care.knowledge.measures.get(step.ref)
    name = measure.name if measure else step.ref
    return f"{name}, re-test" if step.kind == "retest" else name


def step_says(
    care: Care,
    visit: Visit,
    line: PlanLine,
    taken: Sequence[Reading],
    bouts: Sequence[BoutRow],
    injured: Side | None,
) -> str:
    """What came of a step, or what it asks for. No value of a measure that is blind now."""
    step = line.step
    if line.later:
        return LATER
    if step.dropped:
        return "skipped today"
    if step.kind == "said":
        return said_words(visit, taken) if line.done else "pain, consent"
    if step.kind == "safety":
        return safety_state.step_says(care, visit)
    if step.kind == "home":
        return home_step_says(care, visit)
    if step.kind == "note":
        return state_words(care, visit.id)[1]
    if step.kind == "activity":
        return _activity_says(care, line, bouts, injured)
    measure = care.knowledge.measures.get(step.ref)
    return _measure_says(measure, line, taken, injured) if measure else "not known to this copy"


def step_word(care: Care, step: Step) -> str:
    """A step as one short word, to be read from afar; empty for one that is done by hand."""
    if step.kind in _WORDS:
        return _WORDS[step.kind]
    if step.kind == "activity":
        return activity_word(care, step.ref)
    measure = care.knowledge.measures.get(step.ref)
    return measure.name.split(",")[0] if measure else ""


def activity_name(care: Care, activity_id: str) -> str:
    """What an activity is called; one that this copy does not know, by its id."""
    activity = care.knowledge.activities.get(activity_id)
    return activity.name if activity else activity_id


def activity_word(care: Care, activity_id: str) -> str:
    """An activity as its first short form, which is what people call it."""
    activity = care.knowledge.activities.get(activity_id)
    return activity.short_forms[0] if activity and activity.short_forms else ""


# what the person said


def said_now(visit: Visit, taken: Iterable[Reading]) -> dict[str, str]:
    """What was said in this visit, by the words of its line: {"pain": "2", "home": "5/7", "consent": "y"}."""
    values = {reading.measure: reading for reading in taken if was_said(reading)}
    found = {
        word: plain(reading.value)
        for word, measure in MEASURES.items()
        if (reading := values.get(measure)) is not None and reading.value is not None
    }
    if visit.gave_way is not None:
        found["gaveway"] = str(visit.gave_way)
    if visit.home_done is not None and visit.home_planned is not None:
        found["home"] = f"{visit.home_done}/{visit.home_planned}"
    if visit.consent is not None:
        found["consent"] = "y"
    elif consent_refused(visit):
        found["consent"] = "n"
    return found


def consent_refused(visit: Visit) -> bool:
    """Whether the person said no to today's visit, and nothing else since."""
    return visit.consent is None and bool(_REFUSED.search(visit.said or ""))


def said_hints(care: Care) -> dict[str, str]:
    """What is asked of the person, by the words of the line."""
    known = care.knowledge.measures
    return {word: known[measure].asks for word, measure in MEASURES.items() if measure in known}


def was_said(reading: Reading) -> bool:
    """Whether a reading is one that the person reports, not one that was measured."""
    return reading.measure in MEASURES.values() and reading.moment is not Moment.AFTER and reading.bout is None


def said_words(visit: Visit, taken: Iterable[Reading]) -> str:
    """That the person told something and agreed; what they told stands beside the plan: "told, consent given"."""
    found = said_now(visit, taken)
    told = "told" if any(word != "consent" for word in found) else ""
    consent = {"y": "consent given", "n": "no consent"}.get(found.get("consent", ""), "consent not asked")
    return f"{told}, {consent}".removeprefix(", ") if found else "nothing said"


# what is measured and done


def _measure_says(measure: Measure, line: PlanLine, taken: Sequence[Reading], injured: Side | None) -> str:
    retest = line.step.kind == "retest"
    own = [one for one in taken if one.measure == measure.id and (one.moment is Moment.AFTER) is retest]
    last = {one.side: one for one in own}
    if line.begun:
        return f"{' and '.join(side for side in last if side)} in, the other side waits"
    if not line.done:
        a_side = " a side" if measure.paired else ""
        return many(measure.counted, "trial") + a_side
    if line.blind:
        return "done"
    if retest:
        return _retest_says(measure, taken, injured)
    values = (f"{side or ''} {value_text(last[side], measure)}" for side in measure.sides if side in last)
    return ", ".join(value.strip() for value in values)


def _retest_says(measure: Measure, taken: Sequence[Reading], injured: Side | None) -> str:
    """What the hands-on part did to the injured side, against the error within a visit."""
    side = injured if measure.paired else None
    before, after = before_and_after(measure, side, taken)
    if before is None or after is None:
        return "done"
    return f"{side or ''} {change_text(change(before, after, measure, span='within'), measure)}".strip()


def _activity_says(care: Care, line: PlanLine, bouts: Sequence[BoutRow], injured: Side | None) -> str:
    """What its bouts came to by side, with the side that is still to go; else its dose."""
    ref = line.step.ref
    own = [bout for bout in bouts if bout.activity == ref]
    ended = [bout_says(care, bout) for bout in own if bout.ended is not None]
    did = [says for says in ended if says != NOTHING_DONE]
    if line.done:
        return "; ".join(did)
    if any(bout.ended is None for bout in own):
        return "kept paused"
    activity = care.knowledge.activities.get(ref)
    if activity is None:
        return "not known to this copy"
    if line.begun:
        return "; ".join([*did, f"{_to_go(care, ref, own, injured)} to go"])
    dose = dose_words(activity, injured)
    return f"{NOTHING_DONE} yet: {dose}" if ended else dose


def _to_go(care: Care, activity: str, own: Sequence[BoutRow], injured: Side | None) -> str:
    """The sides that an activity is asked on and was not done on."""
    did = [side for bout in worked(care, own) for side in bout.sides or ()]
    lacking = asked_sides(care, injured).get(activity, frozenset()).difference(did)
    return " and ".join(side for side in Side if side in lacking)


def bout_says(care: Care, bout: BoutRow) -> str:
    """What an ended bout came to, in a few words."""
    try:
        return bout_text(care, bout)
    except CareFault:
        return "done, cannot be read"
