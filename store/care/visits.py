"""A visit from its start: what the person says, consent today, the walked plan, the end."""

from __future__ import annotations

from dataclasses import dataclass, replace

from store.care import plan as planning
from store.care.care import Care
from store.care.faults import CareFault
from store.care.taking import new_readings
from store.entry.said import parse_said
from store.knowledge.words import BoutRow, Episode, Moment, Reading, Step, Visit, VisitKind
from store.record import bouts, readings, visits


@dataclass(frozen=True, slots=True)
class VisitView:
    """All that the visit screen shows, read afresh after each act."""

    visit: Visit
    plan: tuple[planning.PlanLine, ...]
    slot: planning.Slot
    readings: tuple[Reading, ...]
    bouts: tuple[BoutRow, ...]
    last_visit: Visit | None
    hidden: frozenset[str]

    @property
    def next_line(self) -> planning.PlanLine | None:
        """The first step that waits."""
        return next((line for line in self.plan if line.open), None)


def view(care: Care, visit_id: str) -> VisitView:
    """The visit as it stands now."""
    visit = care.visit(visit_id)
    taken = tuple(readings.readings_of_visit(care.record, visit.id))
    done = tuple(bouts.bouts_of_visit(care.record, visit.id))
    shown = planning.lines(visit, taken, done)
    gone_s = (care.clock.now().at - visit.started.at).total_seconds()
    return VisitView(
        visit=visit,
        plan=shown,
        slot=planning.slot(visit, shown, max(0.0, gone_s) / 60),
        readings=taken,
        bouts=done,
        last_visit=_visit_before(care, visit),
        hidden=hidden(care, visit, taken),
    )


def hidden(care: Care, visit: Visit | None, taken: tuple[Reading, ...]) -> frozenset[str]:
    """Measures whose before values stay hidden in this visit; none when the blind re-test is off."""
    return planning.hidden_measures(visit, taken) if care.blind and visit is not None else frozenset()


def _visit_before(care: Care, visit: Visit) -> Visit | None:
    if visit.episode is None:
        return None
    earlier = [other for other in visits.visits_of_episode(care.record, visit.episode) if other.id < visit.id]
    return max(earlier, key=lambda other: other.started, default=None)


def open_visit(care: Care, episode: Episode) -> Visit | None:
    """The visit that was begun today and not ended, if there is one."""
    visit = visits.open_visit(care.record, episode.id)
    return visit if visit is not None and visit.started.on == care.clock.now().on else None


def start_visit(
    care: Care, episode: Episode, kind: VisitKind = VisitKind.CLINIC, *, planned: bool = True
) -> Visit:
    """Go into today's open visit, or begin one. One left open on an earlier day is ended first.

    `planned` gives it the standard plan; a visit that a shell began gets it when it is first walked.
    """
    current = open_visit(care, episode)
    if current is not None:
        if planned and not current.plan:
            walked = replace(current, plan=care.knowledge.visit_plan)
            return visits.revise_visit(care.record, walked, by=care.examiner, because="plan taken up")
        return current
    with care.together():
        left_open = visits.open_visit(care.record, episode.id)
        if left_open is not None:
            _end(care, left_open, "left open on an earlier day")
        plan = care.knowledge.visit_plan if planned else ()
        return visits.add_visit(care.record, new_visit(care, episode.person, episode.id, kind, plan))


def new_visit(care: Care, person: str, episode: str | None, kind: VisitKind, plan: tuple[Step, ...]) -> Visit:
    """A visit that begins now, not yet kept."""
    return Visit(
        id=care.new_id(),
        person=person,
        started=care.clock.now(),
        episode=episode,
        kind=kind,
        examiner=care.examiner,
        plan=plan,
    )


def said(care: Care, visit: Visit, line: str) -> Visit:
    """Keep what the person says at the start: pains and confidence as readings, the rest in the visit.

    `line` is such as "pain 2 worst 4 morning 1 gaveway 0 home 5/7"; every part may be missing. What is
    said again replaces what was said before, as an amendment; the rest stands. Raises EntryError
    or CareFault.
    """
    heard = parse_said(line, care.knowledge.find_measure)
    _must_be_open(visit)
    new = [reading for entry in heard.entries for reading in new_readings(care, visit.person, entry, visit)]
    measures = {reading.measure for reading in new}
    earlier = [
        reading.id
        for reading in readings.readings_of_visit(care.record, visit.id)
        if reading.measure in measures and reading.moment is not Moment.AFTER and reading.bout is None
    ]
    both = "; ".join(part for part in (visit.said, line.strip()) if part)
    changed = replace(
        visit,
        said=both,
        gave_way=visit.gave_way if heard.gave_way is None else heard.gave_way,
        home_done=visit.home_done if heard.home_done is None else heard.home_done,
        home_planned=visit.home_planned if heard.home_planned is None else heard.home_planned,
    )
    with care.together():
        readings.retract_readings(care.record, earlier, by=care.examiner, because="said again")
        readings.add_readings(care.record, new)
        return visits.revise_visit(care.record, changed, by=care.examiner, because="what the person says")


def consent(care: Care, visit: Visit) -> Visit:
    """Keep that the person agrees to today's visit, with the time."""
    _must_be_open(visit)
    agreed = replace(visit, consent=care.clock.now())
    return visits.revise_visit(care.record, agreed, by=care.examiner, because="consent today")


def drop_step(care: Care, visit: Visit, step_id: str) -> Visit:
    """Leave a step of the plan out today, or take it back in."""
    _must_be_open(visit)
    steps = tuple(replace(step, dropped=not step.dropped) if step.id == step_id else step for step in visit.plan)
    return visits.revise_visit(care.record, replace(visit, plan=steps), by=care.examiner, because="plan changed")


def add_step(care: Care, visit: Visit, step: Step) -> Visit:
    """Put another step at the end of the working part of the plan: before the first one of a later room."""
    _must_be_open(visit)
    at = next((index for index, other in enumerate(visit.plan) if other.kind in {"home", "note"}), len(visit.plan))
    steps = (*visit.plan[:at], step, *visit.plan[at:])
    return visits.revise_visit(care.record, replace(visit, plan=steps), by=care.examiner, because="plan changed")


def end_visit(care: Care, visit: Visit) -> Visit:
    """End the visit: what was blind is shown from now on."""
    _must_be_open(visit)
    return _end(care, visit, "visit ended")


def _end(care: Care, visit: Visit, because: str) -> Visit:
    return visits.revise_visit(
        care.record, replace(visit, ended=care.clock.now()), by=care.examiner, because=because
    )


def _must_be_open(visit: Visit) -> None:
    if visit.ended is not None:
        raise CareFault("this visit has ended: start a new one (v)")
