"""A squad at the sideline: one row a person against their own baseline, entry at speed, and what a look comes to.

What is measured here stands with the person alone, as a baseline does. Whose ankle is in care is looked at here,
and measured in their visits: there a re-test may be blind, and no injured ankle is a baseline.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import NamedTuple

from store.care import measuring
from store.care.adding import visit_without_episode
from store.care.care import Care
from store.care.compared import signed, verdict_text
from store.care.faults import CareFault
from store.care.in_cells import CAP, value_cell
from store.care.in_words import visible
from store.care.looked import any_due, gravest_first, hurt_on
from store.care.measuring import Saved, Subject
from store.care.people import age
from store.knowledge.kinds import Measure
from store.knowledge.rechecks import Recheck
from store.knowledge.sideline import BenchOutcome
from store.knowledge.time import Stamp
from store.knowledge.words import Moment, Person, Reading, Side, Verdict, VisitKind
from store.reckon.change import Change, change
from store.reckon.sideline import Look, look
from store.record import episodes, readings, rechecks, squads

DEFERS = "It supports licensed judgement and local protocol, and replaces neither."
YOUNG = "Under 18: growth plates, and a guardian decides too."
PAIRED, SINGLE = "left right, as 10.2 9.8", "one value"
ANOTHER = "or another measure, as girth"
NAMED, NAMED_BESIDE = 3, 1
"""Things not looked at that are named, alone and beside a reason; the others, and further reasons, are counted."""

LEFT_TO_OTHERS = (BenchOutcome.EMERGENCY, BenchOutcome.TODAY)
"""What others look at next: no re-check of ours is due."""


class BenchRow(NamedTuple):
    """One person: own baseline and today by side, as they are written; what today is against the baseline.

    What was measured in the care of an injured ankle is no baseline, and none of it is here; `says` names
    the ankle then. Nor is what was measured of an ankle in which a look had found a sign.
    `worse`: a side is clearly worse than its own baseline. `looks` are the last ones, by side.
    """

    person: Person
    baseline: Mapping[Side | None, str]
    today: Mapping[Side | None, str]
    says: str
    worse: bool
    looks: tuple[Recheck, ...]


def bench(care: Care, squad_id: str, measure: Measure) -> list[BenchRow]:
    """The people of a squad by label. Raises RecordFault."""
    return [_row(care, person, measure) for person in squads.people_of(care.record, squad_id)]


def _row(care: Care, person: Person, measure: Measure) -> BenchRow:
    day = care.clock.now().on
    looks = rechecks.rechecks_of(care.record, person.id)
    before: dict[Side | None, Reading] = {}
    today: dict[Side | None, Reading] = {}
    for one in readings.readings_of_person(care.record, person.id, measure.id):
        if one.episode is not None or one.moment is Moment.AFTER or one.taken.on > day:
            continue
        if one.taken.on == day:
            today[one.side] = one
        elif not hurt_on(looks, one.side, one.taken.on):
            before[one.side] = one
    changes = {
        side: change(before[side], one, measure, span="between") for side, one in today.items() if side in before
    }
    in_care = _in_care(care, person)
    return BenchRow(
        person,
        {side: _cell(one, measure) for side, one in before.items()},
        {side: _cell(one, measure) for side, one in today.items()},
        _care_words(in_care) if in_care else _against_own(changes, measure, measured=bool(today)),
        any(one.verdict is Verdict.LOSS for one in changes.values()),
        gravest_first(looks),
    )


def _in_care(care: Care, person: Person) -> str:
    """Which ankle is in care, "left" or "left and right"; empty where none is."""
    own = episodes.episodes_of_person(care.record, person.id)
    return " and ".join(sorted({one.side for one in own if one.closed is None}))


def _care_words(in_care: str) -> str:
    return "in care: both ankles" if " " in in_care else f"in care, {in_care} ankle"


def _cell(reading: Reading, measure: Measure) -> str:
    """A value in at most seven cells; what reached its cap is that or more."""
    text = value_cell(reading, measure) or ""
    return f"≥{text.removesuffix(CAP)}" if text.endswith(CAP) else text


def _against_own(changes: Mapping[Side | None, Change], measure: Measure, *, measured: bool) -> str:
    """What today is against the baseline, of the worse side: "right -2.6 clear loss"."""
    if not changes:
        return "none before today" if measured else ""
    order = [None, Verdict.LOSS, Verdict.UNKNOWN, Verdict.GAIN, Verdict.WITHIN]  # None: unable is graver than less
    side, one = min(changes.items(), key=lambda item: (order.index(item[1].verdict), -abs(item[1].value or 0.0)))
    if one.verdict is Verdict.WITHIN:
        return "within error"
    if one.value is None:
        return f"{side or ''} {one.warnings[0]}".strip()
    return f"{side or ''} {signed(one.value, measure)} {verdict_text(one)}".strip()


# measuring


def how(measure: Measure) -> str:
    """What is typed of a person."""
    return f"{PAIRED if measure.paired else SINGLE}; {ANOTHER}"


def take(care: Care, person: Person, measure: Measure, text: str, *, sure: bool = False) -> Saved:
    """Keep what was typed of a person today: `10.2 9.8`, left then right. Raises EntryError or CareFault.

    An odd value is asked about, by a CareFault that says how to keep it, unless `sure`.
    """
    in_care = _in_care(care, person)
    if in_care:
        raise CareFault(f"the {in_care} ankle of {visible(person.label)} is in care: measure it in the visit")
    entry = measuring.read_line(care, Subject(person), f"{measure.id} {text}")
    if entry.asks and not sure:
        raise CareFault(f"{entry.asks[0]} Enter again keeps it.")
    with care.together():
        subject = Subject(person, visit_without_episode(care, person, VisitKind.SIDELINE))
        saved = measuring.save(care, subject, entry)
    few = (each.removeprefix(f"{measure.name} ") for each in entry.says)  # such as that trials are missing
    return saved._replace(says="; ".join((saved.says, *few)))


def take_back(care: Care, saved: Saved) -> str:
    """Take back what was kept of a person, and say so. Raises RecordFault where it was taken back meanwhile."""
    readings.retract_readings(
        care.record, [one.id for one in saved.readings], by=care.examiner, because="taken back by undo"
    )
    return f"took back: {saved.says.partition('; ')[0]}"


# looking


def looked_at(care: Care, answers: Mapping[str, bool]) -> Look:
    """What the answers come to."""
    table = care.knowledge.sideline
    return look(table.signs, answers, table.ladder)


def keep(
    care: Care, person: Person, side: Side | None, answers: Mapping[str, bool], before: Recheck | None = None
) -> Recheck:
    """Keep a look with what it came to, and when the next one is due.

    `before` is the same look as it was kept already: it is amended then, and what stood before stays in the file.
    Raises CareFault without a side, RecordFault where it was changed meanwhile.
    """
    if side is None:
        raise CareFault("left or right ankle? the arrows say which")
    if not answers:
        raise CareFault("nothing was looked at yet: y is there, n is not")
    outcome = looked_at(care, answers).outcome
    now = care.clock.now()
    due = None if outcome in LEFT_TO_OTHERS else _later(now, care.knowledge.sideline.recheck_min.value)
    new = Recheck("", person.id, side, now, outcome, dict(answers), due, care.examiner)
    with care.together():
        if before is None:
            return rechecks.RECHECK.add(care.record, new, by=care.examiner)
        same = new._replace(id=before.id, revision=before.revision)
        return rechecks.RECHECK.revise(care.record, same, by=care.examiner, because="looked at further")


def take_back_look(care: Care, one: Recheck, before: Recheck | None = None) -> Recheck:
    """Take a look back; it stays in the file, marked. What stood before it, if anything, stands again.

    Raises RecordFault where it was taken back meanwhile.
    """
    with care.together():
        return rechecks.RECHECK.take_back(care.record, before, one, by=care.examiner)


def _later(now: Stamp, minutes: float) -> Stamp:
    return Stamp(now.at + timedelta(minutes=minutes), now.offset_min)


# in words


def outcome_word(outcome: BenchOutcome) -> str:
    """The outcome as it is read from afar."""
    return "YOUR DECISION" if outcome is BenchOutcome.NONE else outcome.upper()


def reasons(care: Care, found: Look) -> list[str]:
    """Why it comes to this, what is done then, and what was not looked at."""
    says = ["No stop sign found"] if found.outcome is BenchOutcome.NONE else []
    says += [f"{sign.asks}{_more(len(found.because) - 1)}" for sign in found.because[:1]]
    says.append(care.knowledge.sideline.after[found.outcome])
    if found.open:
        count = NAMED_BESIDE if found.because else NAMED
        named = "; ".join(sign.asks for sign in found.open[:count])
        says.append(f"Not looked at: {named}{_more(len(found.open) - count)}")
    return says


def _more(count: int) -> str:
    return f"; and {count} more" if count > 0 else ""


def warns(care: Care, person: Person) -> str:
    """What a young person wants minded; empty for others, and where the age is not known that is said."""
    years, adult = age(person.born, care.clock.now().on), care.knowledge.safety.lines["adult_years"].value
    if years is None:
        return "age not known"
    return YOUNG if years < adult else ""


def due_words(rows: Iterable[BenchRow], now: Stamp) -> str:
    """Whose look is due, by label."""
    due = [visible(row.person.label) for row in rows if any_due(row.looks, now)]
    return f"look again now: {', '.join(due)}" if due else ""
