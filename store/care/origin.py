"""Where a figure comes from: the rule, the figures with mark and source, date, examiner, trials and corrections.

While a blind re-test waits, nothing of the measure's values, gaps or changes is in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from store.care.ahead_origin import expected
from store.care.care import Care
from store.care.charted import BAR_SEM
from store.care.compared import HIDDEN, amount, no_figures, verdict_text
from store.care.corrections import corrections, earlier_versions
from store.care.dates import day_text, how_long, stamp_text
from store.care.in_words import rough, value_text, visible, with_unit, with_unit_text
from store.care.known import cautions, errors, how_measured, lines
from store.care.measured import UNINJURED, Course, MeasureStanding, Reference, Retest
from store.care.past_days import came_from
from store.care.standing import Standing, standing
from store.care.statements import Section, Statement
from store.entry.numbers import plain
from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO
from store.knowledge.words import Better, Reading
from store.reckon.change import Change
from store.reckon.error import error_for
from store.reckon.sides import written

__all__ = ["Origin", "Section", "Statement", "origin"]

DEFERS = "It supports, and does not replace, a licensed clinician's judgement and local protocol."


@dataclass(frozen=True, slots=True)
class Origin:
    """All that the page says, in the order in which it is read: of this person, then of the measure by itself."""

    standing: Standing
    measure: Measure
    hidden: bool
    of_person: tuple[Section, ...]
    of_measure: tuple[Section, ...]


def origin(care: Care, episode_id: str, measure_id: str) -> Origin:
    """Where the figures of one measure of an episode come from. Raises CareFault on an unknown measure."""
    held = standing(care, episode_id)
    one = held.of(measure_id)
    if one.hidden:
        nothing = Statement("now", f"{HIDDEN}: no value, gap or change is shown before it")
        of_person = [Section("what is shown", (nothing,)), _honest(held, one)]
    else:
        of_person = [
            _shown(care, held, one),
            _changed(one),
            expected(care, held, one),
            _honest(held, one),
            _readings(care, held, one),
        ]
    known = care.knowledge
    of_measure = (
        errors(known, one.measure),
        lines(known, one.measure),
        how_measured(known, one.measure),
        cautions(known, one.measure),
    )
    return Origin(held, one.measure, one.hidden, _said(of_person), _said(of_measure))


def _said(sections: Iterable[Section]) -> tuple[Section, ...]:
    return tuple(section for section in sections if section.statements)


# what is shown


def _shown(care: Care, held: Standing, one: MeasureStanding) -> Section:
    """The values on show with what each was before it was corrected, the gap and the LSI with their rules."""
    measure = one.measure
    found: list[Statement] = []
    for side in measure.sides:
        reading = one.of(side)
        found.append(Statement(side or "value", _reading_text(care, reading, measure, held)))
        found += earlier_versions(care, reading, measure) if reading else []
    return Section("what is shown", (*found, *_gap(care, held, one), *_lsi(one)))


def _reading_text(care: Care, reading: Reading | None, measure: Measure, held: Standing) -> str:
    """A reading in one line: value, trials, when, by whom, and under what."""
    if reading is None:
        return "not measured"
    parts = [with_unit_text(reading, measure)]
    if len(reading.trials) > 1:
        rule = {"mean": "mean of", "best": "best of"}.get(measure.aggregate, "from")
        parts[0] += f", {rule} {' '.join(_trial(trial, measure) for trial in reading.trials)}"
    parts.append(f"{stamp_text(reading.taken)}, {how_long(reading.taken.on, held.on)}")
    parts.append(f"examiner {reading.examiner}" if reading.examiner else "examiner not named")
    parts += [came] if (came := came_from(reading)) else []
    parts += [f"{reading.moment} treatment"] if reading.moment else []
    parts += [" and ".join(reading.conditions)] if reading.conditions else []
    made_of = "; ".join(care.knowledge.measures[each].name for each in measure.made_of)
    parts += [f"worked out from ({made_of})"] if made_of else []
    parts += ["timed here"] if reading.bout else []
    parts += ["taken blind"] if reading.blind else []
    parts += [f"note: {visible(reading.note)}"] if reading.note else []
    return "; ".join(parts)


def _trial(trial: float, measure: Measure) -> str:
    """A trial to the measure's step, or as finely as it was typed."""
    stepped = written(trial, measure)
    return stepped if abs(float(stepped) - trial) < 1e-9 else plain(trial)


def _gap(care: Care, held: Standing, one: MeasureStanding) -> tuple[Statement, ...]:
    measure, reference = one.measure, one.reference
    if not measure.paired:
        return (Statement("gap", "none: it has no sides"),)
    if held.both_injured and (reference is None or reference.kind == UNINJURED):
        return (Statement("gap", "none: both ankles are injured, so neither is the other's yardstick"),)
    if measure.unit == YES_NO:
        return (Statement("gap", "none: a yes and a no have no figure between them"),)
    latest = one.of(one.injured)
    if one.only_after:
        return (
            Statement("gap", "none: a value after treatment is not the ankle as it stands; measure before it"),
        )
    if one.gap is None or reference is None or latest is None or latest.value is None:
        return (Statement("gap", "none: there are no two values to hold against each other"),)
    own, other = written(latest.value, measure), written(reference.value, measure)
    rule = f"{own} - {other}: the {one.injured} less its reference, the {reference.kind}"
    found = [Statement("gap", f"{one.gap_words}; {rule}"), *(Statement("", but) for but in one.gap_warnings)]
    if one.gap_error is not None and one.multiples is not None:
        found.append(Statement("its size", _size(one, one.gap_error.mdc, one.multiples)))
    return (*found, Statement("reference", _reference_text(care, held, reference, measure)))


def _size(one: MeasureStanding, mdc: float, multiples: float) -> str:
    least = "at least " if one.gap_at_least else ""
    size = f"{least}{abs(multiples):.1f} times the MDC of a gap, {with_unit(rough(mdc), one.measure)}"
    if multiples < 0:
        return f"{size}, in favour of the injured side; the caseload goes by what is worse"
    return f"{size}; the caseload goes by this"


def _reference_text(care: Care, held: Standing, reference: Reference, measure: Measure) -> str:
    """What the gap is to. A baseline from the care of an earlier sprain of this ankle is said to be one."""
    if reference.kind == UNINJURED:
        return "the uninjured side, since nothing is known from before the injury"
    taken = reference.reading
    sprained = taken.episode is not None and care.episode(taken.episode).side is held.episode.side
    earlier = ", taken in the care of an earlier injury of it: perhaps no healthy value" if sprained else ""
    was = f"{with_unit_text(taken, measure)} of {day_text(taken.taken.on)}"
    return f"the ankle's own reading from before the injury, {was}{earlier}"


def _lsi(one: MeasureStanding) -> tuple[Statement, ...]:
    if not one.lsi_words:
        return ()
    higher = one.measure.better is Better.HIGHER
    rule = "injured / uninjured x 100" if higher else "uninjured / injured x 100, since less is better"
    return (Statement("LSI", f"{one.lsi_words.removeprefix('LSI ')}; {rule}"),)


# what changed


def _changed(one: MeasureStanding) -> Section:
    """Each change with the two values it is made of, and the rule behind its verdict."""
    course, measure = one.subject, one.measure
    found = [
        *_change("since last visit", course.previous, course.latest, one.change, measure),
        *_change("since the first", course.first, course.latest, one.since_first, measure),
        *_retest(one.retest, measure),
    ]
    if not found:
        return Section("what changed", (Statement("change", "none yet: it takes two visits"),))
    rule = "a change of the MDC or more is a clear gain or a clear loss; a smaller one is within measurement error"
    return Section("what changed", (*found, Statement("rule", rule), _matters(measure)))


def _change(
    about: str, earlier: Reading | None, later: Reading | None, change: Change | None, measure: Measure
) -> Iterable[Statement]:
    if earlier is None or later is None or change is None:
        return
    yield Statement(about, _change_text(earlier, later, change, measure, "between visits"))
    for warning in change.warnings if change.value is not None else ():
        yield Statement("", warning)


def _retest(retest: Retest | None, measure: Measure) -> Iterable[Statement]:
    if retest is None:
        return
    change = retest.change
    yield Statement("re-test", _change_text(retest.before, retest.after, change, measure, "within a visit"))
    for warning in change.warnings if change.value is not None else ():
        yield Statement("", warning)


def _change_text(earlier: Reading, later: Reading, change: Change, measure: Measure, span: str) -> str:
    if change.value is None:
        return no_figures(change)
    was, now = value_text(earlier, measure), value_text(later, measure)
    error = f"; MDC {with_unit(rough(change.mdc), measure)} {span}" if change.mdc is not None else ""
    return f"{was}, then {now}: {amount(change, measure)}, {verdict_text(change)}{error}{_important(change)}"


def _important(change: Change) -> str:
    if change.important is None:
        return ""
    return "; as large as what matters to people" if change.important else "; less than what matters to people"


def _matters(measure: Measure) -> Statement:
    if measure.importance is None:
        return Statement("importance", "what change matters to people (MCID) is not known for this measure")
    return Statement(
        "importance", "what matters to people (MCID) stands beside the verdict and is never part of it"
    )


# readings and corrections


def _readings(care: Care, held: Standing, one: MeasureStanding) -> Section:
    """The other readings that the figures rest on, with what each was before, and what was taken back."""
    found: list[Statement] = []
    for side, course in sorted(one.courses.items(), key=lambda item: str(item[0])):
        for reading in _others(course):
            about = f"{side or ''} {day_text(reading.taken.on)}".strip()
            found.append(Statement(about, _reading_text(care, reading, one.measure, held)))
            found += earlier_versions(care, reading, one.measure)
    found += corrections(care, held, one.measure)
    return Section("earlier readings and corrections", tuple(found))


def _others(course: Course) -> Sequence[Reading]:
    """The readings of a side, beside the one on show, that a figure rests on; the newest first."""
    used = (course.previous, course.first, course.before, course.after)
    shown = course.latest.id if course.latest else ""
    others = {one.id: one for one in used if one is not None and one.id != shown}
    return sorted(others.values(), key=lambda one: (one.taken, one.id), reverse=True)


# what to keep in mind


def _honest(held: Standing, one: MeasureStanding) -> Section:
    measure = one.measure
    if measure.id == held.episode.main_measure:
        rank = f"{measure.name} is the one main measure of this episode; the others are secondary"
    else:
        rank = f"{measure.name} is secondary here: the one main measure of this episode is {held.main_name}"
    found = [
        Statement("rank", rank),
        Statement(
            "many verdicts",
            "six verdicts at 95 % are not six proofs: where nothing changed, at least one of six still looks "
            "clear in about 26 of 100 tables",
            "derived: 1 - 0.95^6, were the six independent",
        ),
    ]
    if measure.paired:
        found.append(
            Statement("uninjured side", "no clean yardstick after a sprain, least of all one sprained before")
        )
    error = error_for(measure, "between")
    bar = "none: the error is not known"
    if error is not None:
        half = with_unit(rough(BAR_SEM * error.sem), measure)
        bar = f"the value plus and minus {half}, which is {BAR_SEM} x SEM between visits"
    return Section("keep in mind", (*found, Statement("bar on the chart", bar), Statement("this program", DEFERS)))
