"""Practice: what can be practised, the tries that were kept, and an assessment walked in order and time.

A try is about nobody who is cared for; of a sound partner no reading is kept.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from store.care.care import Care
from store.care.dates import day_text
from store.care.in_words import many
from store.care.statements import Section, Statement
from store.knowledge.kinds import Measure
from store.knowledge.practice import PracticeBlock, PracticeStep, Sequence
from store.knowledge.tries import PracticeTry, TryKind
from store.record.tries import TRY, tries_of

PRACTISED = "It is practice: nothing here is kept of anybody who is cared for."
OWN_SCHOOL = "The order and the minutes are a habit of teaching: your own school's come first."
OFFER_GROUPS: Mapping[TryKind, str] = {
    TryKind.SEQUENCE: "an assessment in order and time",
    TryKind.CASE: "a person on paper: ask, test, decide",
    TryKind.DRILL: "your own error: the same ankles measured twice, blind",
}


class Offer(NamedTuple):
    """One thing to practise; `says` is what it is or how the last try went."""

    kind: TryKind
    ref: str
    name: str
    says: str
    names: tuple[str, ...] = ()


def offers(care: Care) -> list[Offer]:
    """All that can be practised: assessments, paper cases, and the measures whose own error can be told."""
    last: dict[tuple[TryKind, str], PracticeTry] = {}
    for one in reversed(tries_of(care.record, care.examiner)):
        last[one.kind, one.ref] = one
    known = care.knowledge.practice
    found = [
        Offer(TryKind.SEQUENCE, one.id, one.name, _said(last, TryKind.SEQUENCE, one.id, minutes(one.budget_s)))
        for one in known.sequences.values()
    ]
    found += [
        Offer(TryKind.CASE, one.id, one.name, _said(last, TryKind.CASE, one.id, "not tried yet"))
        for one in known.cases.values()
    ]
    return found + [
        Offer(
            TryKind.DRILL,
            one.id,
            one.name,
            _said(last, TryKind.DRILL, one.id, one.long_name),
            (one.id, *one.short_forms),
        )
        for one in care.knowledge.measures.values()
        if can_be_drilled(one)
    ]


def can_be_drilled(measure: Measure) -> bool:
    """Whether a measure is one that an examiner reads off twice: no answer, no grade, no yes or no."""
    return measure.paired and not (measure.asks or measure.ordinal or measure.made_of or measure.unit == "yes/no")


def _said(last: Mapping[tuple[TryKind, str], PracticeTry], kind: TryKind, ref: str, otherwise: str) -> str:
    one = last.get((kind, ref))
    if one is None:
        return otherwise
    return f"{'last' if one.ended else 'begun'} {day_text(one.began.on)}"


def minutes(seconds: float) -> str:
    """Seconds as `9:30`."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02}"


# keeping


def left_today(care: Care, kind: TryKind, ref: str) -> PracticeTry | None:
    """The try of this thing that was begun today and not ended; None where there is none."""
    last = next((one for one in tries_of(care.record, care.examiner) if (one.kind, one.ref) == (kind, ref)), None)
    return last if last is not None and last.ended is None and last.began.on == care.clock.now().on else None


def begin(care: Care, kind: TryKind, ref: str, data: Mapping[str, Any]) -> PracticeTry:
    """Keep that something is tried. Raises RecordFault."""
    new = PracticeTry("", kind, ref, care.clock.now(), examiner=care.examiner, data=data)
    with care.together():
        return TRY.add(care.record, new, by=care.examiner)


def keep(care: Care, one: PracticeTry, data: Mapping[str, Any], *, ended: bool = False) -> PracticeTry:
    """Keep how far a try has come; `ended` says that it is over. Raises RecordFault."""
    now = care.clock.now() if ended else None
    further = one._replace(data={**one.data, **data}, ended=now)
    with care.together():
        return TRY.revise(care.record, further, by=care.examiner, because="it went on")


# an assessment in order and time


class Walk(NamedTuple):
    """An assessment under way: `ended_s` are the seconds from its start at which each block was over."""

    sequence: Sequence
    ended_s: tuple[float, ...] = ()

    @property
    def block(self) -> PracticeBlock | None:
        """The block in hand; None once all are over."""
        at = len(self.ended_s)
        return self.sequence.blocks[at] if at < len(self.sequence.blocks) else None

    @property
    def taken_s(self) -> tuple[float, ...]:
        """Seconds of each block that is over."""
        return tuple(end - start for start, end in zip((0.0, *self.ended_s), self.ended_s, strict=False))

    def left_s(self, at_s: float) -> float:
        """Seconds left of the block in hand, below nought when it is over its time."""
        begun = self.ended_s[-1] if self.ended_s else 0.0
        return (self.block.budget_s if self.block else 0) - (at_s - begun)

    def on(self, at_s: float) -> Walk:
        """The next block; the clock never runs back."""
        return self if self.block is None else self._replace(ended_s=(*self.ended_s, max((at_s, *self.ended_s))))

    def back(self) -> Walk:
        """The block before, as if it had not been left."""
        return self._replace(ended_s=self.ended_s[:-1])


def left_out(sequence: Sequence, done: Mapping[str, bool]) -> list[PracticeStep]:
    """The steps that were not done, those that cost the station first."""
    missed = [step for step in sequence.steps if not done.get(step.id, False)]
    return sorted(missed, key=lambda step: not step.needed)


def walked(walk: Walk, done: Mapping[str, bool]) -> list[Section]:
    """How it went: what was left out, and the time of each block against its budget."""
    missed = left_out(walk.sequence, done)
    needed = [step for step in missed if step.needed]
    count = len(walk.sequence.steps)
    whole = f"{count - len(missed)} of {many(count, 'step')} done"
    told = [Statement("steps", f"{whole}, {len(needed)} left out that cost the station" if needed else whole)]
    told += [
        Statement("left out" if n == 0 else "", f"{step.asks}{' (needed)' if step.needed else ''}")
        for n, step in enumerate(missed)
    ]
    taken = sum(walk.taken_s)
    times = [Statement("in all", f"{minutes(taken)} of {minutes(walk.sequence.budget_s)}")]
    times += [
        Statement(block.word.lower(), f"{minutes(seconds)} of {minutes(block.budget_s)}{_over(seconds, block)}")
        for block, seconds in zip(walk.sequence.blocks, walk.taken_s, strict=False)
    ]
    order = [
        Statement(block.word.lower() if n == 0 else "", step.asks)
        for block in walk.sequence.blocks
        for n, step in enumerate(block.steps)
    ]
    known = f"{walk.sequence.says} ({walk.sequence.mark})"
    return [
        Section("how it went", tuple(told)),
        Section("the time", tuple(times)),
        Section("the order, to learn it", (*order, Statement("", OWN_SCHOOL, known))),
    ]


def _over(seconds: float, block: PracticeBlock) -> str:
    over = round(seconds) - block.budget_s
    return f", {minutes(over)} over" if over > 0 else ""
