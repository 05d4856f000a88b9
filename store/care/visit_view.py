"""All that the visit screen shows, as one frozen object, read afresh after each act. Nothing blind is in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from store.care import plan as planning
from store.care import safety_state
from store.care import visits as visiting
from store.care.asking import in_words, reasons
from store.care.bout_kept import results_text
from store.care.care import Care
from store.care.faults import CareFault
from store.care.home_words import handed_out_in
from store.care.last_time import stopped_words
from store.care.note_state import is_signed
from store.care.pairs import Pair, pairs_of
from store.care.past_visits import PastVisit, counts, visit_before
from store.care.plan import PlanLine, Slot
from store.care.plan_words import activity_name, bout_says, said_now, step_name, step_says, was_said
from store.care.timing import bout_state
from store.care.worked import asked_sides
from store.care.worked import worked as ended_work
from store.knowledge.kinds import Measure
from store.knowledge.papers import Programme, SafetyScreen
from store.knowledge.words import BoutRow, Episode, Person, Reading, Side, Visit
from store.record import bouts, readings, runs


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line of the plan with its words. `drop` says that the slot will not hold and this is what to leave out.

    `minds` names what stands against hands-on work or loading with this person, and that it was stopped last time,
    of a step that waits.
    """

    line: PlanLine
    name: str
    says: str
    drop: bool = False
    minds: str = ""


@dataclass(frozen=True, slots=True)
class Unfinished:
    """A bout that was kept paused or cut short, and how far it had come in words."""

    bout: BoutRow
    says: str


@dataclass(frozen=True, slots=True)
class LastVisit:
    """The visit before: how many days ago, what of this plan was measured then before treatment, by measure, and
    what was timed, by name and in a few words.
    """

    past: PastVisit
    days: int
    values: tuple[tuple[Measure, tuple[Reading, ...]], ...]
    timed: tuple[tuple[str, str], ...]

    @property
    def visit(self) -> Visit:
        """The visit itself."""
        return self.past.visit


@dataclass(frozen=True, slots=True)
class VisitView:
    """The visit as it stands. `said` is what the person said, by the words of its line; `extra` are bouts that
    were ended and stand in no plan, by name and what they came to; `last_min` is how many minutes the visit had
    gone when a step was last finished; `empty`: nothing was said, measured or timed yet, so it does not count;
    `signed`: so is its note, and it stays ended;
    `referred` are the referrals that stand, in a few words; `home_differs` is what the days at home tell where
    what was said of them cannot be; `ran` are the runs since the visit before, with what they came to.
    """

    visit: Visit
    person: Person
    episode: Episode | None
    lines: tuple[ShownLine, ...]
    slot: Slot
    last_min: float
    pairs: tuple[Pair, ...]
    extra: tuple[tuple[str, str], ...]
    said: dict[str, str]
    last_visit: LastVisit | None
    unfinished: tuple[Unfinished, ...]
    hidden: frozenset[str]
    empty: bool
    signed: bool = False
    referred: tuple[str, ...] = ()
    home_differs: str = ""
    ran: tuple[tuple[str, str], ...] = ()

    @property
    def plan(self) -> tuple[PlanLine, ...]:
        """The lines without their words."""
        return tuple(shown.line for shown in self.lines)

    @property
    def injured(self) -> Side | None:
        """The injured side, where there is an episode."""
        return self.episode.side if self.episode else None


def view(care: Care, visit_id: str) -> VisitView:
    """The visit as it stands now. Raises CareFault when it is not in the record."""
    visit = care.visit(visit_id)
    episode = care.episode(visit.episode) if visit.episode else None
    injured = episode.side if episode else None
    person = care.person(visit.person)
    taken = readings.readings_of_visit(care.record, visit.id)
    worked = bouts.bouts_of_visit(care.record, visit.id)
    plan = plan_lines(care, visit, taken, worked)
    last_min = _last_min(
        visit, plan, taken, worked, handed_out_in(care, visit), safety_state.of_visit(care, visit)
    )
    slot = planning.slot(visit, plan, visiting.minutes_gone(care, visit), last_min)
    hidden = visiting.hidden(care, visit, taken)
    last = _last_visit(care, visit)
    return VisitView(
        visit=visit,
        person=person,
        episode=episode,
        lines=tuple(
            ShownLine(
                line,
                step_name(care, line.step),
                step_says(care, visit, line, taken, worked, injured),
                drop=slot.drop is not None and slot.drop.id == line.step.id,
                minds=_minds(care, visit, line, person, episode, last) if line.open else "",
            )
            for line in plan
        ),
        slot=slot,
        last_min=last_min,
        pairs=_pairs(care, visit, taken, hidden),
        extra=tuple(_extra(care, visit, worked)),
        said=said_now(visit, taken),
        last_visit=last,
        unfinished=tuple(_unfinished(care, row) for row in worked if row.ended is None),
        hidden=hidden,
        empty=not counts(care, visit),
        signed=is_signed(care, visit.id),
        referred=tuple(map(safety_state.refer_words, safety_state.stands(care, episode.id))) if episode else (),
        home_differs=_home_differs(care, visit),
        ran=_ran(care, visit),
    )


def _home_differs(care: Care, visit: Visit) -> str:
    if visit.home_done is None:
        return ""
    from store.care.home_differs import differing_in  # only where something was said of it

    return differing_in(care, visit)


def _ran(care: Care, visit: Visit) -> tuple[tuple[str, str], ...]:
    if visit.episode is None or runs.last_plan(care.record, visit.episode) is None:
        return ()
    from store.care.run_note import ran_short  # only where somebody runs

    return ran_short(care, visit)


def _minds(
    care: Care, visit: Visit, line: PlanLine, person: Person, episode: Episode | None, last: LastVisit | None
) -> str:
    known = care.knowledge.activities if line.step.kind == "activity" else care.knowledge.measures
    thing = known.get(line.step.ref)
    against = in_words(reasons(care, visit, thing, person, episode)) if thing is not None else ""
    return "; ".join(filter(None, (against, _stopped(line, last))))


def _stopped(line: PlanLine, last: LastVisit | None) -> str:
    """That what a step does was stopped for pain in the visit before."""
    own = [
        bout
        for bout in (last.past.bouts if last is not None and line.step.kind == "activity" else ())
        if bout.row.activity == line.step.ref and bout.row.ended is not None and bout.plan is not None
    ]
    says = stopped_words(own[-1].plan, own[-1].sets) if own and own[-1].plan is not None else ""
    return f"last time {says}" if says else ""


def plan_lines(
    care: Care, visit: Visit, taken: Sequence[Reading], worked: Sequence[BoutRow]
) -> tuple[PlanLine, ...]:
    """The plan's lines; none is blind where the blind re-test is off."""
    known = care.knowledge.measures
    single = frozenset(step.ref for step in visit.plan if step.ref in known and not known[step.ref].paired)
    injured = care.episode(visit.episode).side if visit.episode else None
    kept = frozenset({"home"} if handed_out_in(care, visit) else ())
    kept |= {"safety"} if safety_state.bearing_on(care, visit) else frozenset()
    kept |= {"note"} if is_signed(care, visit.id) else frozenset()
    found = planning.lines(visit, taken, ended_work(care, worked), single, asked_sides(care, injured), kept)
    return found if care.blind else tuple(line._replace(blind=False) for line in found)


def slot_now(care: Care, shown: VisitView) -> Slot:
    """The slot at this minute, for what was read before."""
    return planning.slot(shown.visit, shown.plan, visiting.minutes_gone(care, shown.visit), shown.last_min)


def _last_min(
    visit: Visit,
    plan: Sequence[PlanLine],
    taken: Sequence[Reading],
    worked: Sequence[BoutRow],
    handed: Sequence[Programme] = (),
    screened: Sequence[SafetyScreen] = (),
) -> float:
    """Minutes from the start to the last thing finished, a side of the step in hand left out."""
    now = next((line.step for line in plan if line.open), None)
    own = (now.ref, planning.moment_of(now.kind)) if now is not None else None
    stamps = [one.taken for one in taken if own is None or (one.measure, one.moment) != own]
    stamps += [bout.ended for bout in worked if bout.ended is not None]
    stamps += [visit.consent] if visit.consent is not None else []
    stamps += [one.issued for one in handed]
    stamps += [one.asked for one in screened]
    last = max([visit.started, *stamps])
    return (last.at - visit.started.at).total_seconds() / 60


def _pairs(care: Care, visit: Visit, taken: Sequence[Reading], hidden: frozenset[str]) -> tuple[Pair, ...]:
    """What was measured in this visit, the re-tested measures first, left before right."""
    retested = [step.ref for step in visit.plan if step.kind == "retest" and not step.dropped]
    measured = [reading.measure for reading in taken if not was_said(reading)]
    return pairs_of(care.knowledge.measures, [*retested, *measured], taken, hidden)


def _extra(care: Care, visit: Visit, worked: Sequence[BoutRow]) -> list[tuple[str, str]]:
    planned = {step.ref for step in visit.plan if step.kind == "activity"}
    ended = [bout for bout in worked if bout.ended is not None and bout.activity not in planned]
    return [(activity_name(care, bout.activity), bout_says(care, bout)) for bout in ended]


def _last_visit(care: Care, visit: Visit) -> LastVisit | None:
    past = visit_before(care, visit)
    if past is None:
        return None
    planned = dict.fromkeys(step.ref for step in visit.plan if step.kind == "measure")
    values = []
    for measure_id in planned:
        own = [pair for pair in past.pairs if pair.measure.id == measure_id and pair.before is not None]
        if own:
            values.append((own[0].measure, tuple(pair.before for pair in own if pair.before is not None)))
    timed = tuple(
        (bout.name, results_text(bout.plan, bout.sets)) for bout in past.bouts if bout.plan and bout.sets
    )
    return LastVisit(past, (visit.started.on - past.visit.started.on).days, tuple(values), timed)


def _unfinished(care: Care, row: BoutRow) -> Unfinished:
    try:
        plan, state = bout_state(care, row)
    except CareFault as broken:
        return Unfinished(row, str(broken))
    if not state.keeps:
        return Unfinished(row, f"{plan.name} opened, nothing done yet")
    return Unfinished(
        row, f"{plan.name} kept paused at {plan.unit} {plan.turns[min(state.turn, plan.last_turn)].n}"
    )
