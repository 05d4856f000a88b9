"""A visit from its start to its end: what the person says, consent today, changes of the plan, and its minutes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from store.care import plan as planning
from store.care.care import Care
from store.care.faults import CareFault
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Moment, Reading, Step, Visit, VisitKind
from store.record import bouts, readings, visits

SAID_AGAIN = "said again"
PLAN_CHANGED, PLAN_BACK = "plan changed", "plan change taken back by undo"
"""Why a reading that the person reports was taken back when it was said anew."""

OPENED_AGAIN = "ending taken back by undo"
"""Why a visit that had ended goes on."""

WEIGHT = "weight_bearing"
"""The measure that says how much weight the leg takes."""

# which visit, and how far it is


def open_visit(care: Care, episode: Episode) -> Visit | None:
    """The visit in hand: begun today, or a few hours ago across midnight, and not ended."""
    visit = visits.open_visit(care.record, episode.id)
    return visit if visit is not None and planning.goes_on(visit, care.clock.now()) else None


def hidden(care: Care, visit: Visit, taken: Iterable[Reading]) -> frozenset[str]:
    """Measures whose before values stay hidden in this visit; none when the blind re-test is off."""
    return planning.hidden_measures(visit, taken) if care.blind else frozenset()


def awaits(care: Care, visit: Visit | None, measure: str) -> bool:
    """Whether a measure's re-test is still to come, so that nothing is compared; not when the blind one is off."""
    if visit is None or visit.ended is not None or not care.blind or not planning.wants_retest(visit, measure):
        return False
    return not planning.all_in(*readings.sides_of_visit(care.record, visit.id, measure))


def minutes_gone(care: Care, visit: Visit) -> float:
    """Minutes since the visit began, or that it took. Never negative, and never less than was said before.

    The wall clock counts, since a laptop may sleep in between; where it was set back, the minutes go on
    by the clock that only runs forward.
    """
    until = visit.ended or care.clock.now()
    wall = max(timedelta(0), until.at - visit.started.at).total_seconds() / 60
    if visit.ended is not None:
        return wall
    told, at_tick = care.told_minutes.get(visit.id, (0.0, care.clock.ticks()))
    gone = max(wall, told + (care.clock.ticks() - at_tick) / 60)
    care.told_minutes[visit.id] = (gone, care.clock.ticks())
    return gone


# acts


def start_visit(
    care: Care, episode: Episode, kind: VisitKind = VisitKind.CLINIC, *, planned: bool = True
) -> Visit:
    """Go into today's open visit, or begin one. One left open on an earlier day is ended first.

    `planned` gives it its plan (`plan_for`); a visit that a shell began gets it when it is first walked. Raises
    CareFault when the episode was closed.
    """
    if care.episode(episode.id).closed is not None:
        raise CareFault("this episode is closed: a opens another one of this person")
    current = open_visit(care, episode)
    if current is not None:
        if planned and not current.plan:
            walked = current._replace(plan=plan_for(care, episode))
            return visits.revise_visit(care.record, walked, by=care.examiner, because="plan taken up")
        return current
    with care.together():
        end_left_open(care, episode)
        plan = plan_for(care, episode) if planned else ()
        return visits.add_visit(care.record, new_visit(care, episode.person, episode.id, kind, plan))


def plan_for(care: Care, episode: Episode) -> tuple[Step, ...]:
    """The plan that a visit of an episode begins with today: the standard one, or that of the first days."""
    known, today = care.knowledge, care.clock.now().on
    days = (today - episode.injured_on).days if episode.injured_on else None
    graded = episode.grade is not None
    bears = None if graded else _bears(care, episode)
    first = planning.is_of_first_days(days, known.first_days.value, graded=graded, bears=bears)
    return known.first_plan if first else known.visit_plan


def _bears(care: Care, episode: Episode) -> float | None:
    """How much weight the leg was last seen to take in this episode; None where nobody looked."""
    taken = readings.readings_of_person(care.record, episode.person, WEIGHT)
    own = [one.value for one in taken if one.episode == episode.id]
    return own[-1] if own else None


def end_left_open(care: Care, episode: Episode) -> None:
    """End a visit that nobody ended, at the last thing done in it."""
    left_open = visits.open_visit(care.record, episode.id)
    if left_open is not None:
        _end(care, left_open, "left open on an earlier day", _last_act(care, left_open))


def new_visit(care: Care, person: str, episode: str | None, kind: VisitKind, plan: tuple[Step, ...]) -> Visit:
    """A visit that begins now, not yet kept."""
    return Visit(
        id=care.new_id(),
        person=person,
        started=care.clock.now(),
        episode=episode,
        kind=kind,
        examiner=care.examiner,
        slot_min=care.settings.slot_min,
        plan=plan,
    )


def said_asks(care: Care, line: str) -> tuple[str, ...]:
    """What a line of what the person says would want a yes for. Raises EntryError on one that cannot be read."""
    from store.entry.said import parse_said  # the grammar is read when it is first asked for, not at the start

    return parse_said(line, care.knowledge.find_measure).asks


def said(care: Care, visit: Visit, line: str) -> Visit:
    """Keep what the person says at the start: pains and confidence as readings, the rest in the visit.

    `line` is such as "pain 2 worst 4 morning 1 gaveway 0 home 5/7 consent y"; every part may be missing. What is
    said again replaces what was said before, as an amendment; the rest stands. Raises EntryError
    or CareFault.
    """
    from store.care.taking import new_readings  # as above
    from store.entry.said import parse_said

    heard = parse_said(line, care.knowledge.find_measure)
    must_be_open(visit)
    new = [reading for entry in heard.entries for reading in new_readings(care, visit.person, entry, visit)]
    measures = {reading.measure for reading in new}
    earlier = [
        reading.id
        for reading in readings.readings_of_visit(care.record, visit.id)
        if reading.measure in measures and reading.moment is not Moment.AFTER and reading.bout is None
    ]
    both = "; ".join(part for part in (visit.said, line.strip()) if part)
    changed = visit._replace(
        said=both,
        gave_way=visit.gave_way if heard.gave_way is None else heard.gave_way,
        home_done=visit.home_done if heard.home_done is None else heard.home_done,
        home_planned=visit.home_planned if heard.home_planned is None else heard.home_planned,
        consent=visit.consent if heard.consent is None else care.clock.now() if heard.consent else None,
    )
    with care.together():
        readings.retract_readings(care.record, earlier, by=care.examiner, because=SAID_AGAIN)
        readings.add_readings(care.record, new)
        return visits.revise_visit(care.record, changed, by=care.examiner, because="what the person says")


def consent(care: Care, visit: Visit) -> Visit:
    """Keep that the person agrees to today's visit, with the time."""
    must_be_open(visit)
    agreed = visit._replace(consent=care.clock.now())
    return visits.revise_visit(care.record, agreed, by=care.examiner, because="consent today")


def drop_step(care: Care, visit: Visit, step_id: str, *, because: str = PLAN_CHANGED) -> Visit:
    """Leave a step of the plan out today, or take it back in."""
    must_be_open(visit)
    steps = tuple(step._replace(dropped=not step.dropped) if step.id == step_id else step for step in visit.plan)
    return visits.revise_visit(care.record, visit._replace(plan=steps), by=care.examiner, because=because)


def end_visit(care: Care, visit: Visit) -> Visit:
    """End the visit: what was blind is shown from now on."""
    must_be_open(visit)
    return _end(care, visit, "visit ended", care.clock.now())


def open_again(care: Care, visit: Visit) -> Visit:
    """Take back the ending of a visit on the day it ended. Raises CareFault when it cannot go on.

    It cannot on a later day, in an episode that was closed, and beside another visit that goes on.
    """
    visit = care.visit(visit.id)
    if visit.ended is None:
        raise CareFault("this visit goes on: there is no ending to take back")
    episode = care.episode(visit.episode) if visit.episode else None
    if episode is not None and episode.closed is not None:
        raise CareFault("this episode is closed: a opens another one of this person")
    if not planning.goes_on(visit._replace(ended=None), care.clock.now()):
        raise CareFault("this visit ended on an earlier day: start a new one (v)")
    if episode is not None and open_visit(care, episode) is not None:
        raise CareFault("another visit of this episode goes on: go back (esc) and into it (v)")
    return visits.revise_visit(care.record, visit._replace(ended=None), by=care.examiner, because=OPENED_AGAIN)


def _end(care: Care, visit: Visit, because: str, at: Stamp) -> Visit:
    """No visit ends before it began, whatever a clock that was set back says."""
    ended = visit._replace(ended=max(at, visit.started))
    return visits.revise_visit(care.record, ended, by=care.examiner, because=because)


def _last_act(care: Care, visit: Visit) -> Stamp:
    """When something was last kept in a visit: the best that is known of its end when nobody ended it."""
    taken = [reading.taken for reading in readings.readings_of_visit(care.record, visit.id)]
    worked = [bout.ended or bout.started for bout in bouts.bouts_of_visit(care.record, visit.id)]
    return max([visit.started, *taken, *worked])


def must_be_open(visit: Visit) -> None:
    """Raise CareFault on a visit that has ended: nothing is saved in it, nor taken back but its ending."""
    if visit.ended is not None:
        raise CareFault("this visit has ended: start a new one (v)")
