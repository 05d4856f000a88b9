"""Measuring: what a line or a set of trials would save, saving it, and taking the last thing back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from store.care import plan as planning
from store.care import visits as visiting
from store.care.care import Care
from store.care.compared import against, but, change_text
from store.care.history import all_of_measure, versions
from store.care.in_words import readings_text, typed_text
from store.care.measured import BASELINE, MeasureStanding, course_of
from store.care.plan import moment_of
from store.care.standing import Standing, standing
from store.care.taking import new_readings, value_of_side
from store.care.trials import Trials, begin
from store.entry.entry import Entry, line_of
from store.entry.grammar import named, parse
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Person, Reading, Side, Visit
from store.reckon.change import change
from store.reckon.error import Span, error_for
from store.reckon.sides import perhaps_swapped
from store.record import readings

__all__ = ["Preview", "Saved", "Subject", "keep", "preview", "read_line", "save", "save_side", "saved_words"]


class Preview(NamedTuple):
    """What would be saved, in words. `asks` want a yes first; `swapped`: perhaps typed the wrong way round."""

    entry: Entry
    saves: str
    says: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    swapped: bool = False


class Saved(NamedTuple):
    """What was saved, in words, with the rows. The words hold back what is blind."""

    says: str
    readings: tuple[Reading, ...]


class Subject(NamedTuple):
    """Whose readings are taken: a person, and the visit and episode they belong to where there are any."""

    person: Person
    visit: Visit | None = None
    standing: Standing | None = None

    @property
    def injured(self) -> Side | None:
        """The injured side, where an episode says one."""
        return self.standing.episode.side if self.standing else None


def subject_of(care: Care, visit: Visit) -> Subject:
    """The subject of a visit."""
    held = standing(care, visit.episode) if visit.episode else None
    return Subject(care.person(visit.person), visit, held)


def read_line(care: Care, subject: Subject, line: str) -> Entry:
    """A typed line as an entry; without a moment it takes the plan's. Raises EntryError."""
    every = care.knowledge.measures
    names = (name for each in every for name in (each, *every[each].short_forms))  # read only to suggest one
    entry = parse(line, care.knowledge.find_measure, names=names)
    return entry if entry.moment else entry._replace(moment=planned_moment(care, subject.visit, entry.measure))


def measure_named(care: Care, line: str) -> Measure | None:
    """The measure that a line begins with, by its id, a short form or its name; None where it names none."""
    return named(line, care.knowledge.find_measure)


def planned_moment(care: Care, visit: Visit | None, measure: Measure) -> Moment | None:
    """The moment that the plan's next open step of this measure gives; None where the plan names none."""
    if visit is None or not any(step.ref == measure.id and moment_of(step.kind) for step in visit.plan):
        return None
    taken = readings.readings_of_visit(care.record, visit.id, measure.id)
    own = tuple(step for step in visit.plan if step.ref == measure.id and moment_of(step.kind) is not None)
    # What was timed, asked and handed out says nothing of a measure's step.
    steps = list(planning.lines(visit._replace(plan=own), taken, (), () if measure.paired else (measure.id,)))
    steps = [line for line in steps if not line.step.dropped] or steps
    waiting = next((line for line in steps if line.open), None)
    chosen = waiting or (steps[-1] if steps else None)
    return moment_of(chosen.step.kind) if chosen else None


def preview(care: Care, subject: Subject, entry: Entry) -> Preview:
    """What an entry would save: the values, the gap in words, the LSI, the change since last time.

    While a blind re-test is to come, nothing but what was typed is said.
    """
    measure = entry.measure
    saves = f"{measure.name}: " + ", ".join(typed_text(side, measure) for side in entry.sides)
    saves += f" ({entry.moment})" if entry.moment else ""
    says = list(entry.says)
    held = subject.standing
    if visiting.awaits(care, subject.visit, measure.id):
        says.append("nothing is compared until the re-test is in")
    elif held is not None:
        says += _compared(held, measure, _readings(care, subject, entry))
    return Preview(entry, saves, tuple(says), entry.asks, swapped=_swapped(subject, entry))


def _compared(held: Standing, measure: Measure, new: Sequence[Reading]) -> list[str]:
    """The gap and the LSI as they would be, and the injured side's change since last time."""
    if measure.id not in held.known:
        return []
    known = held.of(measure.id)
    courses = dict(known.courses)
    for reading in new:  # among themselves, whatever the moment: it stands beside them
        courses[reading.side] = course_of([reading._replace(moment=None)])
    then = known._replace(courses=courses)
    says = [_gap_text(then)] if then.gap is not None else []
    says += [then.lsi_words] if then.lsi_words else []
    side = held.episode.side if measure.paired else None
    now = next((reading for reading in new if reading.side is side), None)
    since = _since_text(known, now) if now is not None else ""
    return [*says, since] if since else says


def _since_text(known: MeasureStanding, now: Reading) -> str:
    """The change that a new value of the injured side is, with the side by its name; empty for a first value.

    A value after treatment is held against the one before it in this visit, by the error within a visit; any other
    against the last visit, by the error between visits, or, in a first visit, against the value that stood.
    """
    course = known.subject
    earlier = [one for one in (course.latest, course.previous) if one is not None]
    here = [one for one in earlier if now.visit is not None and one.visit == now.visit]
    before = [one for one in here if one.moment is not Moment.AFTER]
    elsewhere = [one for one in earlier if one not in here]
    span: Span = "within"
    if now.moment is Moment.AFTER and before:
        since, last = "before treatment", before[0]
    elif elsewhere:
        since, last, span = "last time", elsewhere[0], "between"
    elif here:
        since, last = "earlier in this visit", here[0]
    else:
        return ""
    said = change_text(change(last, now, known.measure, span=span), known.measure)
    return f"{now.side or ''} since {since} {said}".strip()


def _gap_text(then: MeasureStanding) -> str:
    """The gap in few words: only a baseline is named."""
    words = "both sides equal" if then.gap_words == "equal" else f"{then.injured} {then.gap_words}"
    named = f" against {against(then)}" if then.reference is not None and then.reference.kind == BASELINE else ""
    return f"{words}{named}{but(then.gap_warnings)}"


def _swapped(subject: Subject, entry: Entry) -> bool:
    values = {side.side: value_of_side(side, entry.measure) for side in entry.sides}
    injured = subject.injured
    if injured is None or subject.standing is None or subject.standing.both_injured:
        return False
    own, other = values.get(injured), values.get(injured.other)
    if own is None or other is None:
        return False
    error = error_for(entry.measure, "between")
    return perhaps_swapped(own, other, entry.measure, error.mdc if error else None)


def swap_sides(entry: Entry) -> Entry:
    """The entry with left and right exchanged."""
    sides = [side._replace(side=side.side.other if side.side else None) for side in entry.sides]
    return entry._replace(sides=tuple(sorted(sides, key=lambda side: side.side is Side.RIGHT)))


def swapped_line(entry: Entry) -> str:
    """The line that says the entry with left and right exchanged."""
    return line_of(swap_sides(entry))


def save(care: Care, subject: Subject, entry: Entry) -> Saved:
    """Keep an entry's readings, all or none. Raises RecordFault, or CareFault when the visit has ended.

    What is asked before and after is asked in the same transaction, so that no other window comes between.
    """
    with care.together():
        subject = _now(care, subject)
        kept = _add(care, subject, entry)
        return Saved(_words(care, subject, kept, entry.measure), kept)


def keep(care: Care, subject: Subject, entry: Entry) -> tuple[Reading, ...]:
    """The same, without its words: where nobody reads them, nothing is worked out for them."""
    with care.together():
        return _add(care, _now(care, subject), entry)


def _add(care: Care, subject: Subject, entry: Entry) -> tuple[Reading, ...]:
    """Keep the readings of a subject whose visit was just read."""
    _must_go_on(subject)
    return tuple(readings.add_readings(care.record, _readings(care, subject, entry), by=care.examiner))


def _now(care: Care, subject: Subject) -> Subject:
    """The subject with its visit as it stands in the record."""
    if subject.visit is None:
        return subject
    visit = care.visit_now(subject.visit)
    return subject if visit is subject.visit else subject._replace(visit=visit)


def _must_go_on(subject: Subject) -> None:
    if subject.visit is not None:
        visiting.must_be_open(subject.visit)


def _readings(care: Care, subject: Subject, entry: Entry) -> list[Reading]:
    held = subject.standing
    episode = held.episode.id if held else None
    blind = entry.moment is Moment.AFTER and _is_blind(care, subject.visit, entry.measure)
    return new_readings(care, subject.person.id, entry, subject.visit, episode=episode, blind=blind)


def _is_blind(care: Care, visit: Visit | None, measure: Measure) -> bool:
    """Whether the before values are hidden now and were so all the time: only then was the re-test blind."""
    if visit is None:
        return False
    if measure.id not in visiting.hidden(care, visit, readings.readings_of_visit(care.record, visit.id)):
        return False
    return not planning.was_shown(measure.id, all_of_measure(care, visit, measure.id), versions(care, visit))


def saved_words(care: Care, subject: Subject, kept: Sequence[Reading], measure: Measure) -> str:
    """What was saved; without its values while a blind re-test waits, and with what came of it once it is in."""
    return _words(care, _now(care, subject), kept, measure)


def _words(care: Care, subject: Subject, kept: Sequence[Reading], measure: Measure) -> str:
    """The words of what was saved, for a subject whose visit was just read."""
    if visiting.awaits(care, subject.visit, measure.id):
        sides = " and ".join(reading.side for reading in kept if reading.side)
        return f"saved {measure.name} {sides}".strip() + ", hidden until the re-test is in"
    said = f"saved {readings_text(kept, measure)}"
    if subject.visit is None or subject.visit.episode is None or kept[0].moment is not Moment.AFTER:
        return said
    retest = standing(care, subject.visit.episode).of(measure.id).retest
    return f"{said}: {_whose(subject, measure)}{change_text(retest.change, measure)}" if retest else said


def _whose(subject: Subject, measure: Measure) -> str:
    return f"{subject.injured} " if measure.paired and subject.injured else ""


# trial by trial


def start_trials(
    care: Care, subject: Subject, measure: Measure, moment: Moment | None
) -> tuple[Trials, list[Reading]]:
    """A measure about to be taken trial by trial, with the readings that it goes on from.

    Where a side of this pass is in and another waits, or has fewer trials than are wanted, it goes on there; a
    pass that is whole begins anew, and what it saved before stands beside it.
    """
    taken = readings.readings_of_visit(care.record, subject.visit.id) if subject.visit else []
    own = [
        one for one in taken
        if one.measure == measure.id and one.moment is moment and one.bout is None and not one.conditions
    ]  # fmt: skip
    last = {one.side: one for one in own}
    trials = begin(
        measure, subject.injured, moment, {side: (one.trials, one.status) for side, one in last.items()}
    )
    return (begin(measure, subject.injured, moment), []) if trials.done else (trials, list(last.values()))


def save_side(
    care: Care, subject: Subject, trials: Trials, side: Side | None, instead: Sequence[Reading] = ()
) -> Saved:
    """Keep one side of a measure taken trial by trial, in place of what was saved of it before, all or none.

    A side from which every trial was taken back is only taken back.
    """
    subject = _now(care, subject)
    _must_go_on(subject)
    taken = trials.of(side)
    with care.together():
        readings.retract_readings(
            care.record, [one.id for one in instead], by=care.examiner, because="a trial was changed"
        )
        if not taken.begun:
            return Saved(f"took back {trials.measure.name} {side or ''}".strip(), ())
        entry = Entry(trials.measure, (taken.entry(trials.measure),), trials.moment)
        new = _readings(care, subject, entry)
        if instead:  # a slip of the hand put right: what was measured blind stays so
            new = [one._replace(blind=instead[0].blind) for one in new]
        kept = readings.add_readings(care.record, new, by=care.examiner)
        return Saved(_words(care, subject, kept, entry.measure), tuple(kept))


def swapped_trials(subject: Subject, trials: Trials) -> bool:
    """Whether the sides were perhaps taken the wrong way round: the injured one comes out clearly better."""
    sides = tuple(side.entry(trials.measure) for side in trials.sides if side.begun)
    return trials.measure.paired and _swapped(subject, Entry(trials.measure, sides))
