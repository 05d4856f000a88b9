"""Taking back what was done last in a visit: readings, a correction, a bout, a safety screen, a programme, a step
left out, or what the person said. All stays in the file.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise
from operator import itemgetter

from store.care import home, safety
from store.care import visits as visiting
from store.care.bout_undo import BECAUSE, next_undone, undo_bout
from store.care.care import Care
from store.care.faults import CareFault
from store.care.history import all_of_measure, versions
from store.care.home_words import handed_out_in
from store.care.in_words import readings_text, value_text
from store.care.plan_words import step_name
from store.care.putting_right import PUT_BACK, PUT_RIGHT
from store.care.visits import PLAN_BACK, PLAN_CHANGED, SAID_AGAIN
from store.entry.said import parse_said
from store.knowledge.words import Amendment, Reading, Visit
from store.record import amendments, everything, readings, visits
from store.record.rows import READING_COLUMNS, reading_of


def undo(care: Care, visit: Visit) -> str:
    """Take back what was done last in this visit, and say what. Raises CareFault when there is nothing."""
    visit = care.visit(visit.id)
    visiting.must_be_open(visit)
    acts = _acts(care, visit)
    if not acts:
        raise CareFault("nothing to undo in this visit")
    return max(acts, key=itemgetter(0))[1]()


def newest(care: Care, visit: Visit) -> str:
    """The revision of what `undo` would take back; empty when there is nothing."""
    return max((revision for revision, _ in _acts(care, visit)), default="")


def undo_said(care: Care, visit: Visit) -> str:
    """Take back what was said last in a visit, whatever was done since. Raises CareFault when nothing was."""
    said = _said_act(care, visit)
    if said is None:
        raise CareFault("nothing was said in this visit")
    return _undo_said(care, *said)


def _acts(care: Care, visit: Visit) -> list[tuple[str, Callable[[], str]]]:
    """The newest of each kind of what can be taken back: its revision, and what takes it back.

    Readings count from when they were saved: putting one right later is an act of its own.
    """
    last = readings.last_saved(care.record, visit.id)
    acts: list[tuple[str, Callable[[], str]]] = []
    bout = next_undone(care, visit)
    if bout is not None:  # the readings that it made go with it
        made = [one.id for one in last if one.bout == bout.id]
        acts.append((max([bout.revision, *made]), partial(undo_bout, care, bout)))
    if last:
        acts.append((max(one.id for one in last), partial(_undo_readings, care, visit, last)))
    corrected = _corrected(care, visit)
    if corrected is not None:
        acts.append((corrected[0], partial(_undo_correction, care, visit, *corrected[1:])))
    handed = max(handed_out_in(care, visit), key=lambda one: one.revision, default=None)
    if handed is not None:
        acts.append((handed.revision, partial(home.take_back, care, handed)))
    screened, screen = safety.newest_in(care, visit)
    if screened:
        acts.append((screened, partial(safety.take_back, care, screen)))
    said = _said_act(care, visit)
    if said is not None:
        acts.append((said[1].revision, partial(_undo_said, care, *said)))
    planned = _plan_act(care, visit)
    if planned is not None:
        acts.append((planned[1].revision, partial(_undo_plan, care, visit, *planned)))
    return acts


# what was measured


def _undo_readings(care: Care, visit: Visit, last: Sequence[Reading]) -> str:
    _retract(care, last)
    measure = care.knowledge.measures.get(last[0].measure)
    name = measure.name if measure else last[0].measure
    if measure is None or visiting.awaits(care, visit, measure.id):
        sides = " and ".join(reading.side for reading in last if reading.side)
        return f"took back {name} {sides}".strip()
    return f"took back {readings_text(last, measure)}"


def _retract(care: Care, taken: Sequence[Reading]) -> None:
    readings.retract_readings(care.record, [reading.id for reading in taken], by=care.examiner, because=BECAUSE)


def _corrected(care: Care, visit: Visit) -> tuple[str, Reading, Amendment] | None:
    """Under which revision a reading of a visit was put right last, the reading, and what it was before."""
    taken = {one.id: one for one in readings.readings_of_visit(care.record, visit.id)}
    acts: dict[str, list[Amendment]] = defaultdict(list)
    for kept in everything.amendments(care.record, "reading", list(taken)):
        if kept.because == PUT_RIGHT:
            acts[kept.row_id].append(kept)
        elif kept.because == PUT_BACK and acts[kept.row_id]:
            acts[kept.row_id].pop()
    found = [(each[-1].revision, taken[row], each[-1]) for row, each in acts.items() if each]
    return max(found, default=None, key=itemgetter(0))


def _undo_correction(care: Care, visit: Visit, now: Reading, corrected: Amendment) -> str:
    """What stood before a reading was put right stands again."""
    was = reading_of(tuple(corrected.was[name] for name in READING_COLUMNS.split(", ")))
    back = was._replace(revision=now.revision)
    readings.revise_reading(care.record, back, by=care.examiner, because=PUT_BACK)
    measure = care.knowledge.measures.get(was.measure)
    name = f"{measure.name if measure else was.measure} {was.side or ''}".strip()
    if measure is None or visiting.awaits(care, visit, measure.id):
        return f"took back the correction of {name}"
    return f"took back the correction: {name} is {value_text(back, measure)} again"


# what was left out of the plan


def _plan_act(care: Care, visit: Visit) -> tuple[Visit, Visit] | None:
    """The visit before a step was left out or taken back in last, and just after it; None when none was."""
    acts: list[tuple[Visit, Visit]] = []
    kept = amendments.amendments_of(care.record, "visit", visit.id)
    for (before, after), one in zip(pairwise(versions(care, visit)), kept, strict=True):
        if one.because == PLAN_CHANGED and before.plan != after.plan:
            acts.append((before, after))
        elif one.because == PLAN_BACK and acts:
            acts.pop()
    return acts[-1] if acts else None


def _undo_plan(care: Care, visit: Visit, before: Visit, after: Visit) -> str:
    """The step stands as it did before; what else was done since stays."""
    then = {step.id: step for step in before.plan}
    (changed,) = (step for step in after.plan if then[step.id] != step)
    visiting.drop_step(care, visit, changed.id, because=PLAN_BACK)
    return f"took back that {step_name(care, changed)} was {'left out' if changed.dropped else 'taken back in'}"


# what the person said


def _said_act(care: Care, visit: Visit) -> tuple[Visit, Visit, Visit] | None:
    """The visit before something was last said, just after it, and as it stands; None when nothing was.

    What is said grows with each act, and an undo gives back what stood before it.
    """
    acts: list[tuple[Visit, Visit]] = []
    for before, after in pairwise(versions(care, visit)):
        if acts and after.said != before.said == acts[-1][1].said and after.said == acts[-1][0].said:
            acts.pop()
        elif after.said != before.said:
            acts.append((before, after))
    return (*acts[-1], visit) if acts else None


def _undo_said(care: Care, before: Visit, after: Visit, visit: Visit) -> str:
    """What the visit said before stands again, and so do the readings that this act had replaced.

    Consent that was given since by itself stands: it was not said in this line.
    """
    line = (after.said or "").removeprefix(before.said or "").removeprefix("; ")
    heard = {entry.measure.id for entry in parse_said(line, care.knowledge.find_measure).entries}
    with care.together():
        for measure in heard:
            _restore(care, before, after, visit, measure)
        restored = visit._replace(
            said=before.said,
            gave_way=before.gave_way,
            home_done=before.home_done,
            home_planned=before.home_planned,
            consent=before.consent if visit.consent == after.consent else visit.consent,
        )
        visits.revise_visit(care.record, restored, by=care.examiner, because=BECAUSE)
    return f"took back what was said: {line}"


def _restore(care: Care, before: Visit, after: Visit, visit: Visit, measure: str) -> None:
    """Retract what the act made of a measure, and let what it replaced stand again."""
    own = all_of_measure(care, visit, measure)
    _retract(care, [one for one in own if one.retracted is None and before.revision < one.id < after.revision])
    for one in own:
        if one.retracted is not None and before.revision < one.revision < after.revision:
            _stand_again(care, one)


def _stand_again(care: Care, reading: Reading) -> None:
    """Undo the retraction of a reading, when it was saying it again that took it back, and no undo."""
    if amendments.amendments_of(care.record, "reading", reading.id)[-1].because == SAID_AGAIN:
        back = reading._replace(retracted=None)
        readings.revise_reading(care.record, back, by=care.examiner, because=BECAUSE)
