"""What is done about running: planned, told, put right by the morning after, called off; each with its way back.

After each act the sessions to come are brought in line with the rule: the same rows move, so that a calendar that
has them moves them too; what is no longer planned is retracted.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from store.care.care import Care
from store.care.dates import day_text, short_day
from store.care.faults import CareFault
from store.care.run_words import day_words, next_words, session_words, verdict_words
from store.care.running import (
    WALK_RUN,
    RunStanding,
    day_of,
    jog_decided,
    last_day,
    run_done,
    running_standing,
    weekday_numbers,
)
from store.care.safety_state import warnings
from store.care.warning import Warned, warned
from store.knowledge.kinds import Activity, Phase
from store.knowledge.running import Ladder
from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.time import WEEKDAYS
from store.knowledge.words import Episode
from store.reckon import running as reckoned
from store.reckon.running import RunVerdict
from store.record import runs
from store.record.kept import Shelf

if TYPE_CHECKING:
    from store.entry.runs import SaidRun  # read when it is first asked for, not at the start

OFF = "off"
"""The word that calls a plan off."""

NEAR_DAYS = 3
"""A session that was run so near to a planned one is that one."""

NOT_READY = Warned(
    "jog_not_decided",
    "The stage jog is not decided for this ankle: look at the criteria (c) and decide it there (k) first.",
    in_force=True,
)

Step = tuple[Shelf[Any], Any, Any]
"""A row before and after; None before: it is new."""


class AskedFirst(CareFault):
    """What stands against running: asked once, the same again goes on, and that is kept with the plan."""

    def __init__(self, found: Sequence[Warned]) -> None:
        names = ", ".join(one.because or one.name for one in found)
        says = found[0].says if len(found) == 1 else f"Ask first: {names}."
        super().__init__(f"{says} Enter again plans it all the same.")
        self.names = names


class RunAct(NamedTuple):
    """One act, to be told and taken back; `short` is for a line that stands beside the rest."""

    steps: tuple[Step, ...]
    says: str
    short: str


class _Steps:
    """Writes that stand or fall as one, remembered for their way back."""

    def __init__(self, care: Care) -> None:
        self.care = care
        self.done: list[Step] = []

    def add(self, shelf: Shelf[Any], row: Any) -> Any:  # noqa: ANN401 - a row of any of the two tables
        """Keep a new row."""
        kept = shelf.add(self.care.record, row, by=self.care.examiner)
        self.done.append((shelf, None, kept))
        return kept

    def revise(self, shelf: Shelf[Any], before: Any, after: Any, because: str) -> Any:  # noqa: ANN401 - the same
        """Amend a row."""
        kept = shelf.revise(self.care.record, after, by=self.care.examiner, because=because)
        self.done.append((shelf, before, kept))
        return kept

    def retract(self, shelf: Shelf[Any], row: Any, because: str) -> None:  # noqa: ANN401 - the same
        """Take a row back."""
        kept = shelf.retract(self.care.record, row, by=self.care.examiner, because=because)
        self.done.append((shelf, row, kept))


# planning


def against(care: Care, episode: Episode) -> tuple[Warned, ...]:
    """What stands against running now: a referral, a stage not decided, a caution in force."""
    person, today = care.person(episode.person), care.clock.now().on
    usual = warned(care.knowledge, care.knowledge.activities[WALK_RUN], episode, person, today)
    first = () if jog_decided(care, episode.id) else (NOT_READY,)
    return (*warnings(care, episode.id), *first, *(one for one in usual if one.in_force))


def plan(care: Care, episode_id: str, line: str, *, all_the_same: bool = False) -> RunAct:
    """Plan running by a line: `mon wed fri from 9 dec`, `rung 3 alternate`; `off` calls it off.

    What stands against it is asked first (AskedFirst), and a yes is kept. Without a rung or ladder in the line a
    plan that is there keeps its own, with what was climbed. Raises EntryError, CareFault or RecordFault.
    """
    from store.entry.runs import parse_plan  # read when it is first asked for, not at the start

    held = running_standing(care, episode_id)
    _must_be_open(held)
    if line.strip().casefold() == OFF:
        return _call_off(care, held)
    chosen = held.plan.ladder if held.ladder is not None and held.plan is not None else held.table.ladder
    order = [chosen, *(one for one in held.table.ladders if one != chosen)]
    said = parse_plan(line, {one: len(held.table.ladders[one].rungs) for one in order}, held.on)
    found = against(care, held.episode)
    if found and not all_the_same:
        raise AskedFirst(found)
    weekdays = said.weekdays if said.weekdays is not None else weekday_numbers(held.plan) if held.plan else ()
    ladder = held.table.ladders[said.ladder or chosen]
    if reckoned.crowded(weekdays, ladder.rule):
        rule = ladder.rule
        raise CareFault(
            f"at most {rule.a_week.value:g} days a week, {rule.rest_days.value:g} free between: type other days"
        )
    named = tuple(WEEKDAYS[day][:3] for day in weekdays)
    reason = f"goes on all the same: {', '.join(one.because or one.name for one in found)}" if found else ""
    steps = _Steps(care)
    with care.together():
        if held.plan is not None and held.ladder is not None and said.rung is None and said.ladder is None:
            begins = said.begins_on or held.plan.begins_on
            new = held.plan._replace(weekdays=named, begins_on=begins, reason=reason or held.plan.reason)
            kept = steps.revise(runs.PLAN, held.plan, new, "planned anew")
        else:
            kept = steps.add(
                runs.PLAN,
                RunPlan(
                    "", held.person.id, episode_id, ladder.id, said.rung or 1, named, said.begins_on or held.on,
                    care.clock.now(), care.examiner, reason,
                ),
            )  # fmt: skip
        _bring_in_line(steps, kept, ladder, held.sessions)
    says = f"planned: {next_words(running_standing(care, episode_id))}"
    return RunAct(tuple(steps.done), says, says)


def _call_off(care: Care, held: RunStanding) -> RunAct:
    if held.plan is None:
        raise CareFault("no running is planned, so there is nothing to call off")
    steps = _Steps(care)
    with care.together():
        for one in held.planned:
            steps.retract(runs.SESSION, one, "called off")
        steps.retract(runs.PLAN, held.plan, "called off")
    says = "called the running off; what was run stays"
    return RunAct(tuple(steps.done), says, says)


def _must_be_open(held: RunStanding) -> None:
    if held.episode.closed is not None:
        raise CareFault("this episode is closed: open it again to plan or tell of running")


def _bring_in_line(steps: _Steps, kept: RunPlan, ladder: Ladder, sessions: Sequence[RunSession]) -> None:
    """Move, add and retract the sessions to come until they are what the rule says today."""
    today = steps.care.clock.now().on
    done = [run_done(one) for one in sessions if one.done_on and one.plan == kept.id]
    first = max(kept.begins_on, today)
    weekdays = weekday_numbers(kept)
    wanted = reckoned.ahead(ladder, kept.rung, done, weekdays, first, last_day(kept, today))
    have = [one for one in sessions if one.done_on is None and day_of(one) >= today]
    by_day = {one.planned_on: one for one in have}
    same = {one.on: by_day[one.on] for one in wanted if one.on in by_day}
    spare = [one for one in have if one.id not in {each.id for each in same.values()}]
    for one in wanted:
        row = same.get(one.on) or (spare.pop(0) if spare else None)
        if row is None:
            new = RunSession("", kept.person, kept.episode, kept.id, one.rung, planned_on=one.on)
            steps.add(runs.SESSION, new._replace(examiner=steps.care.examiner))
        elif (row.planned_on, row.rung, row.plan) != (one.on, one.rung, kept.id):
            moved = row._replace(planned_on=one.on, rung=one.rung, plan=kept.id)
            steps.revise(runs.SESSION, row, moved, "planned anew")
    for row in spare:
        steps.retract(runs.SESSION, row, "no longer planned")


# telling


def tell(care: Care, episode_id: str, line: str) -> RunAct:
    """Keep how a session went, `3:2x5 pain 1 swelling no`, or the morning after, `morning 0`; then plan on.

    Raises EntryError, CareFault or RecordFault; then nothing is kept.
    """
    from store.entry.runs import parse_run

    held = running_standing(care, episode_id)
    _must_be_open(held)
    if held.plan is None:
        raise CareFault("no running is planned yet: plan it first (e), such as mon wed fri")
    if held.ladder is None:
        raise CareFault(f"this copy does not know the ladder {held.unknown_ladder}: plan anew (e) on another one")
    said = parse_run(line, held.ladder, held.on)
    steps = _Steps(care)
    with care.together():
        if said.of_the_morning:
            day = _keep_morning(steps, held, said)
        else:
            day = _keep_run(steps, held, held.plan, held.ladder, said)
        _bring_in_line(steps, held.plan, held.ladder, runs.sessions_of(care.record, episode_id))
    return _told_act(steps, running_standing(care, episode_id), day)


def _keep_morning(steps: _Steps, held: RunStanding, said: SaidRun) -> date:
    """The morning after, with the session it belongs to; gives the day of that."""
    told = _told_before(held, said.day)
    after = told._replace(
        pain_morning=said.pain_morning,
        pain_usual=told.pain_usual if said.pain_usual is None else said.pain_usual,
        swelling=told.swelling if said.swelling is None else said.swelling,
        note=said.note or told.note,
    )
    steps.revise(runs.SESSION, told, after, "the morning after was told")
    return day_of(told)


def _keep_run(steps: _Steps, held: RunStanding, plan: RunPlan, ladder: Ladder, said: SaidRun) -> date:
    """A session that was run, in place of the planned one that it is; gives its day."""
    day = said.day or held.on
    before = _planned_for(held, day)
    rung = said.rung.number if said.rung else before.rung if before else _rung_now(held)
    after = (before or RunSession("", held.person.id, held.episode.id, plan.id, rung))._replace(
        rung=rung,
        plan=plan.id,
        done_on=day,
        minutes=said.minutes or ladder.rung(rung).minutes,
        distance_km=said.km,
        pain_during=said.pain_during,
        pain_morning=said.pain_morning,
        pain_usual=said.pain_usual if said.pain_usual is not None else _usual(held, day),
        swelling=said.swelling,
        note=said.note,
        examiner=steps.care.examiner,
    )
    if before is None:
        steps.add(runs.SESSION, after)
    else:
        steps.revise(runs.SESSION, before, after, "run")
    return day


def _told_before(held: RunStanding, day: date | None) -> RunSession:
    """The session whose morning is told: the last one, or the one of a day."""
    done = [one for one, _ in held.judged if day is None or one.done_on == day]
    if not done:
        when = f" on {short_day(day)}" if day else " yet"
        raise CareFault(f"no session was told{when}: type how it went first, such as 3:2x5 pain 1 swelling no")
    if done[-1].done_on == held.on:
        raise CareFault("tomorrow's morning is not known yet: type it tomorrow, morning 0")
    return done[-1]


def _planned_for(held: RunStanding, day: date) -> RunSession | None:
    """The planned session that was run on a day: the one of that day, else the nearest within a few days."""
    start = held.episode.injured_on
    if start is not None and day < start:
        raise CareFault(f"{day_text(day)} is before the injury of {day_text(start)}: type a later day")
    if any(one.done_on == day for one in held.sessions):
        raise CareFault(
            f"a session of {short_day(day)} is kept already: type its morning after, such as morning 0, or take "
            "it back (u) and type it again"
        )
    near = [
        one
        for one in held.sessions
        if one.done_on is None and one.planned_on and abs((one.planned_on - day).days) <= NEAR_DAYS
    ]
    return min(near, key=lambda one: abs((day_of(one) - day).days), default=None)


def _rung_now(held: RunStanding) -> int:
    assert held.climb is not None
    return held.climb.rung


def _usual(held: RunStanding, day: date) -> int | None:
    """The usual morning pain as it was told last: after a clean session the morning after it."""
    before = [(one, judged) for one, judged in held.judged if day_of(one) < day]
    if not before:
        return None
    last, judged = before[-1]
    return last.pain_morning if judged.verdict is RunVerdict.CLEAN else last.pain_usual


def _told_act(steps: _Steps, held: RunStanding, day: date) -> RunAct:
    one, judged = next((one, judged) for one, judged in held.judged if one.done_on == day)
    verdict = verdict_words(judged, held.on)
    whole = f"saved {session_words(held, one)}: {verdict}; {next_words(held)}"
    return RunAct(tuple(steps.done), whole, f"saved {day_words(day)}: {verdict}")


# the timer


def rung_activity(care: Care, held: RunStanding) -> Activity:
    """The walk-run with the dose of the next session's rung. Raises CareFault where a rung goes by distance."""
    usual = care.knowledge.activities[WALK_RUN]
    number = held.next.rung if held.next is not None else held.climb.rung if held.climb is not None else 1
    ladder = held.ladder or held.table.ladders[held.table.ladder]
    rung = ladder.rung(number)
    if rung.rounds is None or rung.run_min is None:
        raise CareFault(f"{rung.words} goes by distance: no timer can know how far it is")
    walk = (Phase("WALK", rung.walk_min * 60),) if rung.walk_min else ()
    dose = usual.dose._replace(
        reps=rung.rounds,
        phases=(*walk, Phase("RUN", rung.run_min * 60)),
        mark=ladder.mark,
        source=ladder.source,
        says=f"rung {rung.number} of {len(ladder.rungs)}, {ladder.name}: {rung.words}",
    )
    return usual._replace(dose=dose)


# taking back


def take_back(care: Care, act: RunAct) -> str:
    """Undo an act, all of it. Raises RecordFault where a row was changed again meanwhile."""
    with care.together():
        for shelf, before, after in reversed(act.steps):
            shelf.take_back(care.record, before, _as_left(care, shelf, after), by=care.examiner)
    return f"took back: {act.says.partition(';')[0].removeprefix('saved ')}"


def _as_left(care: Care, shelf: Shelf[Any], after: Any) -> Any:  # noqa: ANN401 - a row of any of the two tables
    """The row at its present revision where it is as the act left it, as after an undo of what came later."""
    now = shelf.get(care.record, after.id)
    return now if now is not None and now._replace(revision=after.revision) == after else after
