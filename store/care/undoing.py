"""Taking back what was saved last in a visit: readings, a bout, a safety screen, a programme, or what the person
said. All stays in the file.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from store.care import home, safety
from store.care import visits as visiting
from store.care.bout_undo import BECAUSE, next_undone, undo_bout
from store.care.care import Care
from store.care.faults import CareFault
from store.care.history import all_of_measure, versions
from store.care.home_words import handed_out_in
from store.care.in_words import readings_text
from store.care.visits import SAID_AGAIN
from store.entry.said import parse_said
from store.knowledge.words import Reading, Visit
from store.record import amendments, readings, visits


def undo(care: Care, visit: Visit) -> str:
    """Take back what was saved last in this visit, and say what. Raises CareFault when there is nothing."""
    visit = care.visit(visit.id)
    visiting.must_be_open(visit)
    last = readings.last_saved(care.record, visit.id)
    bout = next_undone(care, visit)
    said = _said_act(care, visit)
    at = max((one.revision for one in last), default="")
    handed = max(handed_out_in(care, visit), key=lambda one: one.revision, default=None)
    others = [at, bout.revision if bout else "", said[1].revision if said else ""]
    screened, screen = safety.newest_in(care, visit)
    others.append(screened)
    if screened and screened > max([*others[:-1], handed.revision if handed else ""]):
        return safety.take_back(care, screen)
    if handed is not None and handed.revision > max(others):
        return home.take_back(care, handed)
    if said is not None and said[1].revision > max(at, bout.revision if bout else ""):
        return _undo_said(care, *said)
    if bout is not None and (bout.revision > at or any(one.bout == bout.id for one in last)):
        return undo_bout(care, bout)
    if not last:
        raise CareFault("nothing to undo in this visit")
    return _undo_readings(care, visit, last)


def newest(care: Care, visit: Visit) -> str:
    """The revision of what `undo` would take back; empty when there is nothing."""
    bout = next_undone(care, visit)
    said = _said_act(care, visit)
    last = [one.revision for one in readings.last_saved(care.record, visit.id)]
    last += [one.revision for one in handed_out_in(care, visit)]
    last.append(safety.newest_in(care, visit)[0])
    return max([*last, bout.revision if bout else "", said[1].revision if said else ""])


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
