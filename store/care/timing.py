"""A bout in hand: what happens is put on disk first and counted after, so that what was painted is in the file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from store.bout import keys
from store.bout.cues import Cue, cue_of, cues_between, next_cue
from store.bout.due import due, next_due_ms
from store.bout.events import Event, event_from
from store.bout.fold import advance, replay
from store.bout.plan import BoutPlan, Overrides, plan_for
from store.bout.press import Guard, guarded
from store.bout.result import Outcome, outcome
from store.bout.state import Mode, Question, SetResult, State
from store.bout.view import View, look
from store.bout.watch import gap_noticed, reopened
from store.care.care import Care
from store.care.faults import CareFault
from store.care.taking import new_readings
from store.entry.entry import Entry, SideEntry
from store.knowledge.kinds import Activity, Phase
from store.knowledge.words import BoutEvent, BoutKind, BoutRow, Reading, Visit
from store.record import bouts, readings

__all__ = ["BoutKind", "Cue", "Ended", "LiveBout", "Mode", "Outcome", "Question", "SetResult", "View"]


@dataclass(frozen=True, slots=True)
class Ended:
    """What came of a bout: its dose, and the readings it was turned into, in words."""

    says: str
    outcome: Outcome
    readings: tuple[Reading, ...]


class LiveBout:
    """One bout, its plan and its state; the state is only ever what its events on disk make of it."""

    def __init__(self, care: Care, row: BoutRow, plan: BoutPlan, state: State) -> None:
        self.care = care
        self.row = row
        self.plan = plan
        self.state = state
        self._guard = Guard()
        self._last_ms = state.known_ms
        self._base = care.clock.ticks() - state.known_ms / 1000
        self._heard_ticks = care.clock.ticks()
        self._heard_wall = care.clock.now().at

    # time

    @property
    def activity(self) -> Activity | None:
        """The activity as this copy knows it."""
        return self.care.knowledge.activities.get(self.row.activity)

    def now_ms(self) -> int:
        """The bout's own clock. It never runs back."""
        return max(self._last_ms, int((self.care.clock.ticks() - self._base) * 1000))

    def ticks_at(self, at_ms: int) -> float:
        """The tick of the passed-in clock at an instant of the bout's clock: for a timer that wakes there."""
        return self._base + at_ms / 1000

    def next_wake_ms(self, *, cue_from_ms: int) -> int | None:
        """When something happens by itself next: an automatic event or a cue."""
        event = next_due_ms(self.plan, self.state)
        cue = next_cue(self.plan, self.state, cue_from_ms)
        instants = [at_ms for at_ms in (event, cue.at_ms if cue else None) if at_ms is not None]
        return min(instants, default=None)

    def cues(self, from_ms: int, to_ms: int) -> tuple[Cue, ...]:
        """The cues due in [from, to)."""
        return cues_between(self.plan, self.state, from_ms, to_ms)

    def tick(self) -> bool:
        """Bring the bout up to now: note a gap, commit what is due. Says whether anything happened."""
        ticks, wall = self.care.clock.ticks(), self.care.clock.now().at
        ran_ms = int((ticks - self._heard_ticks) * 1000)
        wall_ms = int((wall - self._heard_wall).total_seconds() * 1000)
        self._heard_ticks, self._heard_wall = ticks, wall
        gap = gap_noticed(self.state, self._last_ms, ran_ms=ran_ms, wall_ms=wall_ms)
        if gap is not None:
            self._base = ticks - gap.at_ms / 1000
            self.commit([gap])
            return True
        self._last_ms = self.now_ms()
        events = due(self.plan, self.state, self._last_ms)
        self.commit(events)
        return bool(events)

    def look(self) -> View:
        """What the screen shows now."""
        return look(self.plan, self.state, self.now_ms())

    # keys

    def press(self) -> Cue | None:
        """The pedal or space. A held one counts once. Gives the cue that answers it, if any."""
        self.tick()
        self._guard, event = guarded(self.plan, self.state, self._guard, self.now_ms())
        if event is None:
            return None
        self.commit([event])
        return cue_of(self.plan, self.state, event)

    def pain(self, n: int) -> None:
        """Pain 0-10 after, or in, a set."""
        self._key(lambda at_ms: keys.pain(self.plan, self.state, at_ms, n))

    def control(self, n: int) -> None:
        """Control of the hold last done, 0-3."""
        self._key(lambda at_ms: keys.control(self.plan, self.state, at_ms, n))

    def pause_or_resume(self) -> None:
        """Pause, or go on."""
        self._key(lambda at_ms: keys.pause_or_resume(self.plan, self.state, at_ms))

    def end_set(self) -> None:
        """End this set as far as it went."""
        self._key(lambda at_ms: keys.end_set(self.plan, self.state, at_ms))

    def undo(self) -> None:
        """Undo the last thing."""
        self._key(lambda at_ms: keys.undo(self.plan, self.state, at_ms))

    def leave(self) -> None:
        """Leave it paused, to come back to."""
        if not self.state.ended:
            self._key(lambda at_ms: keys.leave(self.plan, self.state, at_ms))

    def set_times(
        self, *, phases: tuple[Phase, ...] | None = None, hold_s: float | None = None, rest_s: float | None = None
    ) -> None:
        """Change rep phases, hold or rest from here on, in seconds; None leaves one as it is."""
        self._key(
            lambda at_ms: keys.set_times(self.plan, self.state, at_ms, phases=phases, hold_s=hold_s, rest_s=rest_s)
        )

    def end(self) -> Ended:
        """End the bout and keep what was done; a hold done to its measure's own protocol becomes readings.

        A bout in which nothing was done is retracted, and says so.
        """
        self.tick()
        keeps = self.state.keeps
        with self.care.together():
            self._key(lambda at_ms: keys.end(self.plan, self.state, at_ms))
            came_of = outcome(self.plan, self.state)
            now = self.care.clock.now()
            ended = replace(self.row, ended=now, retracted=None if keeps else now)
            because = "bout ended" if keeps else "nothing was done"
            self.row = bouts.revise_bout(self.care.record, ended, by=self.care.examiner, because=because)
            made = self._readings(came_of) if keeps else []
        return Ended(self._says(came_of, made, keeps), came_of, tuple(made))

    # within

    def _key(self, event_at: Callable[[int], Event | keys.NotNow]) -> None:
        self.tick()
        event = event_at(self.now_ms())
        if isinstance(event, keys.NotNow):
            raise CareFault(event.says)
        self.commit([event])

    def commit(self, events: Iterable[Event]) -> None:
        """On disk first; only then does it count."""
        events = list(events)
        if not events:
            return
        wall = self.care.clock.now()
        bouts.add_events(
            self.care.record,
            [BoutEvent(self.row.id, event.seq, event.kind, event.at_ms, wall, event.data) for event in events],
        )
        for event in events:
            self.state = advance(self.plan, self.state, event)

    def _readings(self, came_of: Outcome) -> list[Reading]:
        if not came_of.to_protocol:
            return []
        measure = self.care.knowledge.measures[came_of.measure]
        sides = tuple(SideEntry(side.side, side.trials, side.status) for side in came_of.sides)
        entry = Entry(measure, sides, self.row.moment)
        new = new_readings(
            self.care,
            self.row.person,
            entry,
            _visit_of(self.care, self.row),
            episode=self.row.episode,
            bout=self.row.id,
        )
        return readings.add_readings(self.care.record, new, by=self.care.examiner)

    def _says(self, came_of: Outcome, made: Sequence[Reading], keeps: bool) -> str:
        if not keeps:
            return f"{self.plan.name}: nothing was done, nothing kept"
        done = came_of.done
        amount = f"{done.sets} {self.plan.unit}{'' if done.sets == 1 else 's'}"
        amount += f", {done.reps} reps" if done.reps else ""
        amount += f", {done.seconds:g} s under load" if done.seconds else ""
        kept = " and kept as a reading" if made else ""
        return f"saved {self.plan.name}: {amount}{kept}"


def begin(
    care: Care, activity: Activity, visit: Visit, *, overrides: Overrides | None = None, seed: int | None = None
) -> LiveBout:
    """A new bout of an activity in a visit, ready to start. The order of directions is made from its id."""
    if visit.ended is not None or visit.episode is None:
        raise CareFault("a bout belongs to a visit that goes on: start one (v)")
    injured = care.episode(visit.episode).side
    bout_id = care.new_id()
    plan = plan_for(activity, injured, seed=_seed(bout_id) if seed is None else seed, overrides=overrides)
    row = BoutRow(
        id=bout_id,
        person=visit.person,
        activity=activity.id,
        kind=activity.kind,
        started=care.clock.now(),
        plan=plan.as_data(),
        episode=visit.episode,
        visit=visit.id,
        measure=activity.measure or None,
        examiner=care.examiner,
    )
    row = bouts.add_bout(care.record, row)
    return LiveBout(care, row, plan, replay(plan, ()))


def reopen(care: Care, row: BoutRow) -> LiveBout:
    """A bout that was left or cut short, paused where it was. Raises CareFault on one that cannot be read."""
    plan, events = _kept(care, row)
    live = LiveBout(care, row, plan, replay(plan, events))
    cut = reopened(plan, events)
    if cut is not None:
        live.commit([cut])
    return live


def unfinished(care: Care, visit: Visit) -> tuple[BoutRow, ...]:
    """Bouts of this visit that were not ended, oldest first."""
    return tuple(row for row in bouts.unfinished_bouts(care.record, person=visit.person) if row.visit == visit.id)


def bout_state(care: Care, row: BoutRow) -> tuple[BoutPlan, State]:
    """The plan of a kept bout and the state that its events make. Raises CareFault on one that cannot be read."""
    plan, events = _kept(care, row)
    return plan, replay(plan, events)


def _kept(care: Care, row: BoutRow) -> tuple[BoutPlan, list[Event]]:
    try:
        kept = bouts.events_of(care.record, row.id)
        return BoutPlan.from_data(row.plan), [event_from(one.seq, one.kind, one.at_ms, one.data) for one in kept]
    except ValueError as broken:
        raise CareFault(str(broken)) from broken


def bout_text(care: Care, row: BoutRow) -> str:
    """What a bout came to, in the few words of a plan line: "3 x 10, pain 0 0 0"."""
    plan, state = bout_state(care, row)
    sets = len(state.done)
    if plan.holds:
        words = f"{sets} holds" if sets != 1 else "1 hold"
        faults = sum(result.faults for result in state.done)
        words += f", {faults} faults" if plan.kind is BoutKind.HOLD_FIXED else ""
    elif plan.kind is BoutKind.SHIFTS:
        shifts = [shift for result in state.done for shift in result.shifts]
        words = f"{sum(shift.controlled for shift in shifts)} of {len(shifts)} in control"
    else:
        reps = [result.reps for result in state.done]
        words = (
            f"{sets} x {reps[0]}" if len(set(reps)) == 1 else "reps " + " ".join(map(str, reps)) if reps else ""
        )
    pains = [str(n) for result in state.done for n in result.pains]
    return words + (f", pain {' '.join(pains)}" if pains else "")


def _visit_of(care: Care, row: BoutRow) -> Visit | None:
    return care.visit(row.visit) if row.visit else None


def _seed(bout_id: str) -> int:
    return int(bout_id.replace("-", "")[-8:], 16)
