"""What is expected, and what a stage still wants, in plain words: the same on screen, on paper and on the command
line."""

from __future__ import annotations

from datetime import date

from store.care.dates import age_words, day_text, short_day
from store.care.foreseeing import Foreseen, LineAhead
from store.care.in_words import rough, visible, with_unit
from store.care.stages import CriterionStanding, StageStanding
from store.entry.numbers import spelled
from store.knowledge.kinds import Measure
from store.knowledge.planned import StageDecision
from store.knowledge.units import YES_NO
from store.knowledge.words import Mark
from store.reckon.forecast import Band, Dates
from store.reckon.sides import written
from store.reckon.threshold import LineVerdict

ADVICE = "advice only: no set of criteria is validated for this ankle, and the decision is the clinician's"


def band_text(band: Band, measure: Measure) -> str:
    """A value with its 80 % band: `about 8.1 cm, 80 % between 7.0 and 9.2`."""
    return (
        f"about {with_unit(written(band.value, measure), measure)}, "
        f"80 % between {written(band.low80, measure)} and {written(band.high80, measure)}"
    )


def dates_text(dates: Dates, today: date) -> str:
    """When a line is expected to be reached: the middle day with the early and the late one."""
    if dates.median is None:
        early = f"; 10 % from {_day(dates.low, today)}" if dates.low else ""
        return f"not expected within a year{early}"
    late = _day(dates.high, today) if dates.high else "over a year"
    return f"expected {_day(dates.median, today)} ({_day(dates.low, today)} to {late})"


NEAR_DAYS = 300
"""A day no farther ahead is told without its year: it can be no other."""


def _day(day: date | None, today: date) -> str:
    if day is None:
        return "no day"
    if day <= today:
        return "now"
    return short_day(day) if (day - today).days <= NEAR_DAYS else day_text(day)


def chance_text(chance: float) -> str:
    """A probability in words that claim no more than is known."""
    percent = round(100 * chance)
    if percent < 1:
        return "under 1 %"
    return "over 99 %" if percent > 99 else f"{percent} %"


def chance_now(chance: float, age_days: int) -> str:
    """The chance that a value is past a line, by the day it was measured on: an old value tells of then, not of
    today.
    """
    return f"chance {'then' if age_days else 'now'} {chance_text(chance)}"


def reached_text(decided: StageDecision) -> str:
    """That the last stage was decided on, so that nothing is wanted for any: "ready for sport, decided 12 Nov"."""
    by = f" by {visible(decided.examiner)}" if decided.examiner else ""
    return f"ready for {decided.stage}, decided {day_text(decided.decided.on)}{by}: it is the last stage"


def line_text(ahead: LineAhead, measure: Measure, today: date) -> str:
    """A line, how the value stands to it and when it is expected: `jog 9.0: short, close, chance now 22 %,
    ...`."""
    said = [f"{ahead.word} {written(ahead.line.value, measure)}"]
    if ahead.past is not None:
        old = f" {age_words(ahead.age_days)}" if ahead.age_days else ""
        said[0] += f": {ahead.past.verdict}{old}"
        if ahead.past.probability is not None:
            said.append(chance_now(ahead.past.probability, ahead.age_days))
    if ahead.dates and not (ahead.past and ahead.past.verdict.met):
        said.append(dates_text(ahead.dates, today))
    return ", ".join(said)


def flat_text(told: Foreseen, measure: Measure) -> str:
    """That a course has come to a stand, and what to do about it; empty where that is not proven."""
    flat = told.plateau
    if flat is None or not flat.flat:
        return ""
    rate = f"{rough(abs(flat.rate_a_week))} {measure.unit} a week"
    return f"flat: {rate} over {int(flat.days)} days, re-examine"


RE_EXAMINE = (
    "a joint that stays short: front pinch, joint surface, stiff glide",
    "pain or swelling that stays: joint surface, tendon behind the ankle, upper ankle ligaments",
    "a home programme that is not done, or a dose that is too small",
)
"""What is looked at again where a course is flat: common practice."""

RE_EXAMINE_SHORT = "look again: front pinch, joint surface, glide, tendons; home days and dose (i)"
"""The same in a line, which names the key that tells all of it."""


def count_text(stage: StageStanding) -> str:
    """How a stage's criteria stand, in a line: `jog: 5 of 9 met; 1 short; 3 not measured`."""
    parts = [f"{stage.met} of {len(stage.criteria)} met"]
    groups = {
        "short": {
            LineVerdict.CLEARLY_SHORT,
            LineVerdict.SHORT_CLOSE,
            LineVerdict.SHORT,
            LineVerdict.SHORT_UNKNOWN,
        },
        "not measured": {LineVerdict.NOT_MEASURED},
        "stale": {LineVerdict.STALE},
    }
    for word, verdicts in groups.items():
        count = sum(one.answer.verdict in verdicts for one in stage.criteria)
        parts += [f"{count} {word}"] if count else []
    left_out = len(stage.wanted.left_out)
    parts += [f"{left_out} left out by this clinic"] if left_out else []
    return f"{stage.stage}: {'; '.join(parts)}"


def next_text(stage: StageStanding) -> str:
    """What to measure next, or why that would change nothing today."""
    if stage.in_the_way:
        names = " and ".join(one.measure for one in stage.in_the_way[:2])
        return f"nothing more changes today's answer: {names} short"
    if stage.next is None:
        return "all was answered today"
    return f"measure next: {stage.next.measure}"


def criterion_text(one: CriterionStanding, measure: Measure, today: date) -> str:
    """One criterion in a line: what is wanted, the verdict, value, line, age and the expected days."""
    answer = one.answer
    whose = f" ({Mark.CLINIC})" if answer.criterion.mark is Mark.CLINIC else ""
    parts = [f"{answer.criterion.says}{whose}: {answer.verdict}"]
    if answer.value is not None:
        parts.append(f"value {_value(answer.value, measure)}")
    if answer.line is not None:
        parts.append(f"line {written(answer.line, measure)}")
    if answer.chance is not None:
        parts.append(chance_now(answer.chance, answer.age_days or 0))
    if answer.age_days is not None:
        parts.append(age_words(answer.age_days))
    if one.dates is not None:
        parts.append(dates_text(one.dates, today))
    if answer.why:
        parts.append(answer.why)
    return ", ".join(parts)


def _value(value: float, measure: Measure) -> str:
    return spelled(value, measure) if measure.unit == YES_NO else written(value, measure)
