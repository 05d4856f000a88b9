"""Measuring: what a line or a set of trials would save, saving it, and taking the last thing back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.in_words import change_text, readings_text, typed_text
from store.care.measured import MeasureStanding, course_of, stand
from store.care.plan import moment_of
from store.care.standing import Standing, standing
from store.care.taking import new_readings, value_of_side
from store.care.trials import Trials
from store.entry.entry import Entry
from store.entry.grammar import parse
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Person, Reading, Side, Visit
from store.reckon.change import change
from store.reckon.error import error_for
from store.reckon.sides import perhaps_swapped
from store.record import readings


@dataclass(frozen=True, slots=True)
class Preview:
    """What would be saved, in words. `asks` want a yes first; `swapped`: perhaps typed the wrong way round."""

    entry: Entry
    saves: str
    says: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    swapped: bool = False


@dataclass(frozen=True, slots=True)
class Saved:
    """What was saved, in words, with the rows."""

    says: str
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Subject:
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
    names = [name for measure in care.knowledge.measures.values() for name in (measure.id, *measure.short_forms)]
    entry = parse(line, care.knowledge.find_measure, names=names)
    return entry if entry.moment else replace(entry, moment=planned_moment(care, subject.visit, entry.measure))


def planned_moment(care: Care, visit: Visit | None, measure: Measure) -> Moment | None:
    """The moment that the plan's next open step of this measure gives; None where the plan names none."""
    if visit is None:
        return None
    steps = [line for line in visiting.view(care, visit.id).plan if line.step.ref == measure.id and not line.later]
    waiting = next((line for line in steps if line.open), None)
    chosen = waiting or (steps[-1] if steps else None)
    return moment_of(chosen.step.kind) if chosen else None


def preview(care: Care, subject: Subject, entry: Entry) -> Preview:
    """What an entry would save: the values, the gap in words, the LSI, the change since last time.

    While a blind re-test waits for its after values, nothing but what was typed is said.
    """
    measure = entry.measure
    saves = f"{measure.name}: " + ", ".join(typed_text(side, measure) for side in entry.sides)
    saves += f" ({entry.moment})" if entry.moment else ""
    says = list(entry.says)
    held = subject.standing
    if held is not None and not _hidden(held, measure):
        says += _compared(held, measure, _readings(care, subject, entry))
    return Preview(entry, saves, tuple(says), entry.asks, swapped=_swapped(subject, entry))


def _compared(held: Standing, measure: Measure, new: Sequence[Reading]) -> list[str]:
    """The gap and the LSI as they would be, and the injured side's change since last time."""
    if measure.id not in {one.measure.id for one in held.measures}:
        return []
    known = held.of(measure.id)
    courses = dict(known.courses)
    for reading in new:
        courses[reading.side] = course_of([reading])
    then = stand(measure, held.episode.side, courses, baseline=_baseline(known), both_injured=held.both_injured)
    says = [f"{then.injured} {then.gap_words}" if then.gap else "both sides equal"] if then.gap is not None else []
    if then.lsi is not None:
        says.append(f"LSI {then.lsi:.0f} %")
    side = held.episode.side if measure.paired else None
    now = next((reading for reading in new if reading.side is side), None)
    last = known.of(side)
    if now is not None and last is not None:
        says.append(f"since last time {change_text(change(last, now, measure), measure)}")
    return says


def _baseline(known: MeasureStanding) -> Reading | None:
    reference = known.reference
    return reference.reading if reference is not None and reference.kind == "own baseline" else None


def _hidden(held: Standing, measure: Measure) -> bool:
    return any(one.hidden for one in held.measures if one.measure.id == measure.id)


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
    sides = [replace(side, side=side.side.other if side.side else None) for side in entry.sides]
    return replace(entry, sides=tuple(sorted(sides, key=lambda side: side.side is Side.RIGHT)))


def save(care: Care, subject: Subject, entry: Entry) -> Saved:
    """Keep an entry's readings, all or none. Raises RecordFault, or CareFault when the visit has ended."""
    if subject.visit is not None and subject.visit.ended is not None:
        raise CareFault("this visit has ended: start a new one (v)")
    kept = readings.add_readings(care.record, _readings(care, subject, entry), by=care.examiner)
    return Saved(_saved_text(care, subject, kept, entry.measure), tuple(kept))


def save_side(care: Care, subject: Subject, trials: Trials, side: Side | None) -> Saved:
    """Keep one side of a measure taken trial by trial."""
    taken = trials.of(side)
    return save(care, subject, Entry(trials.measure, (taken.entry(trials.measure),), trials.moment))


def undo(care: Care, visit: Visit) -> str:
    """Take back what was saved last in this visit; it stays in the file, marked. CareFault when there is none."""
    last = readings.last_saved(care.record, visit.id)
    if not last:
        raise CareFault("nothing to undo in this visit")
    readings.retract_readings(
        care.record, [reading.id for reading in last], by=care.examiner, because="taken back by undo"
    )
    measure = care.knowledge.measures.get(last[0].measure)
    if measure is None or measure.id in visiting.view(care, visit.id).hidden:
        return f"took back {measure.name if measure else last[0].measure}"
    return f"took back {readings_text(last, measure)}"


def take_back(care: Care, saved: Sequence[Reading]) -> None:
    """Retract readings that trial-by-trial entry saved and now changes."""
    readings.retract_readings(
        care.record, [reading.id for reading in saved], by=care.examiner, because="a trial was taken back"
    )


def _readings(care: Care, subject: Subject, entry: Entry) -> list[Reading]:
    held = subject.standing
    blind = entry.moment is Moment.AFTER and held is not None and _hidden(held, entry.measure)
    episode = held.episode.id if held else None
    return new_readings(care, subject.person.id, entry, subject.visit, episode=episode, blind=blind)


def _saved_text(care: Care, subject: Subject, kept: Sequence[Reading], measure: Measure) -> str:
    """What was saved; without its values while a blind re-test waits."""
    if subject.visit is not None and measure.id in visiting.view(care, subject.visit.id).hidden:
        sides = " and ".join(reading.side for reading in kept if reading.side)
        return f"saved {measure.name} {sides}: hidden until the re-test is in".replace(" :", ":")
    return f"saved {readings_text(kept, measure)}"
