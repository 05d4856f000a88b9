"""A bout in hand: what happens is put on disk first and counted after, so that what was painted is in the file."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta
from functools import reduce
from typing import NamedTuple

from store.bout import keys
from store.bout.cues import Cue, cue_of, cues_between, next_cue
from store.bout.due import fallen_due, next_due_ms
from store.bout.events import Event
from store.bout.fold import advance
from store.bout.plan import BoutPlan
from store.bout.press import LATE_MS, Guard, guarded
from store.bout.result import Outcome, outcome
from store.bout.state import Mode, State
from store.bout.view import View, look
from store.bout.watch import gap_noticed
from store.care.bout_kept import Ended, ended_text, readings_from
from store.care.care import Care
from store.care.faults import CareFault, FaultKind, RecordFault
from store.knowledge.kinds import Activity, Phase
from store.knowledge.time import Clock, Stamp
from store.knowledge.words import BoutEvent, BoutRow
from store.record import bouts, readings

ELSEWHERE = "Stopped here: this timer runs in another window. Esc goes back."
"""What stands on a timer once another window has taken it over."""

SLACK = 1e-6
"""Part of a millisecond that adding seconds may cost: an instant shall not fall just short of itself."""


class Instant(NamedTuple):
    """One instant on both clocks: an act keeps the one at which its key came, however slow the disk is."""

    ticks: float
    wall: Stamp

    @classmethod
    def now(cls, clock: Clock) -> Instant:
        """This instant."""
        return cls(clock.ticks(), clock.now())


class LiveBout:
    """One bout, its plan and its state; the state is only ever what its events on disk make of it.

    Each act takes the instant at which it happened, now unless given; instants never run back from act to act.
    Acts raise CareFault with a sentence when they cannot be done now, and RecordFault when they cannot be kept:
    then they did not happen.
    """

    def __init__(self, care: Care, row: BoutRow, plan: BoutPlan, state: State) -> None:
        self.care = care
        self.row = row
        self.plan = plan
        self.state = state
        self._guard = Guard()
        self._heard = Instant.now(care.clock)
        self._heard_ms = state.known_ms
        self._base = self._heard.ticks - state.known_ms / 1000

    # time

    @property
    def activity(self) -> Activity | None:
        """The activity as this copy knows it."""
        return self.care.knowledge.activities.get(self.row.activity)

    def ms_at(self, ticks: float) -> int:
        """The bout's own clock at a tick of the passed-in one. It never runs back."""
        return max(self._heard_ms, int((ticks - self._base) * 1000 + SLACK))

    def now_ms(self) -> int:
        """The bout's own clock now."""
        return self.ms_at(self.care.clock.ticks())

    def ticks_at(self, at_ms: int) -> float:
        """The tick of the passed-in clock at an instant of the bout's clock: for a timer that wakes there."""
        return self._base + at_ms / 1000

    def next_due_ms(self) -> int | None:
        """When the next automatic event is due; what is due already is not on disk yet and must not be shown."""
        return next_due_ms(self.plan, self.state)

    def next_cue_ms(self, from_ms: int) -> int | None:
        """When the first cue at `from_ms` or later is due."""
        cue = next_cue(self.plan, self.state, from_ms)
        return None if cue is None else cue.at_ms

    def cues(self, from_ms: int, to_ms: int) -> tuple[Cue, ...]:
        """The cues due in [from, to)."""
        return cues_between(self.plan, self.state, from_ms, to_ms)

    def look(self, at_ms: int | None = None) -> View:
        """What the screen shows, now unless an instant is given."""
        return look(self.plan, self.state, self.now_ms() if at_ms is None else at_ms)

    def so_far(self) -> Outcome:
        """What would become of the bout if it ended as it stands."""
        return outcome(self.plan, self.state)

    # acts

    def tick(self, at: Instant | None = None) -> bool:
        """Bring the bout up to an instant: note a gap, commit what is due. Says whether anything happened."""
        at = at or Instant.now(self.care.clock)
        gap = self._gap(at)
        self._heard, self._heard_ms = at, self.ms_at(at.ticks)
        events, after = fallen_due(self.plan, self.state, self._heard_ms)
        self.commit(events, at, after)
        return gap or bool(events)

    def _gap(self, at: Instant) -> bool:
        """Whether nothing was heard for so long before this instant that the bout is paused where it was."""
        ran_ms = int((at.ticks - self._heard.ticks) * 1000 + SLACK)
        wall_ms = int((at.wall.at - self._heard.wall.at).total_seconds() * 1000)
        gap = gap_noticed(self.state, self._heard_ms, ran_ms=ran_ms, wall_ms=wall_ms)
        if gap is None:
            return False
        self.commit([gap], at)
        self._base = at.ticks - gap.at_ms / 1000
        return True

    def press(self, at: Instant | None = None) -> Cue | None:
        """The pedal or space. A held one counts once. Gives the cue that answers it, if any.

        The press that ends a sleep only wakes: the bout stands paused, and the next press goes on.
        """
        at = at or Instant.now(self.care.clock)
        if self._wakes(at):
            self._guard, _ = self._guard.pressed(self._heard_ms)
            return None
        guard, event = guarded(self.plan, self.state, self._guard, self._heard_ms)
        if event is not None:
            self.commit([event], at)
        self._guard = guard
        return None if event is None else cue_of(self.plan, self.state, event)

    def pressed_before(self, at: Instant | None = None) -> None:
        """Take this instant for a press already made: a pedal still held from the screen before starts nothing."""
        at = at or Instant.now(self.care.clock)
        self._guard, _ = self._guard.pressed(self.ms_at(at.ticks))

    def press_ends(self, at: Instant | None = None) -> bool:
        """Whether a press, once all is done, may end the bout: not a held one, nor one meant for the last set."""
        at = at or Instant.now(self.care.clock)
        self.tick(at)
        self._guard, new = self._guard.pressed(self._heard_ms)
        return new and self.state.mode is Mode.DONE and self._heard_ms - self.state.since_ms >= LATE_MS

    def pain(self, n: int, at: Instant | None = None) -> None:
        """Pain 0-10 after, or in, a set. Too much of it stops what runs."""
        at = at or Instant.now(self.care.clock)
        self.tick(at)
        told = keys.pain(self.plan, self.state, self._heard_ms, n)
        if isinstance(told, keys.NotNow):
            raise CareFault(told.says)
        stops = keys.pain_stops(self.plan, self.state, told)
        self.commit([told] if stops is None else [told, stops], at)

    def control(self, n: int, at: Instant | None = None) -> None:
        """Control of the hold last done, 0-3."""
        self._key(lambda at_ms: keys.control(self.plan, self.state, at_ms, n), at)

    def pause_or_resume(self, at: Instant | None = None) -> Cue | None:
        """Pause, or go on. Gives the cue that answers it."""
        at = at or Instant.now(self.care.clock)
        if self._wakes(at):
            return None
        return self._key(lambda at_ms: keys.pause_or_resume(self.plan, self.state, at_ms), at)

    def end_set(self, at: Instant | None = None) -> None:
        """End this set as far as it went."""
        self._key(lambda at_ms: keys.end_set(self.plan, self.state, at_ms), at)

    def undo(self, at: Instant | None = None) -> None:
        """Undo the last thing."""
        self._key(lambda at_ms: keys.undo(self.plan, self.state, at_ms), at)

    def leave(self, at: Instant | None = None) -> None:
        """Leave it paused, to come back to."""
        if not self.state.ended:
            self._key(lambda at_ms: keys.leave(self.plan, self.state, at_ms), at)

    def set_times(
        self,
        *,
        phases: tuple[Phase, ...] | None = None,
        hold_s: float | None = None,
        rest_s: float | None = None,
        at: Instant | None = None,
    ) -> None:
        """Change rep phases, hold or rest from here on, in seconds; None leaves one as it is."""
        self._key(
            lambda at_ms: keys.set_times(
                self.plan, self.state, at_ms, phases=phases, hold_s=hold_s, rest_s=rest_s
            ),
            at,
        )

    def end(self, at: Instant | None = None) -> Ended:
        """End the bout and keep what was done; a hold done to its measure's own protocol becomes readings.

        A bout in which nothing was done is retracted, and says so. If it cannot be kept, it has not ended.
        """
        at = at or Instant.now(self.care.clock)
        self.tick(at)
        event, keeps = keys.end(self.plan, self.state, self._heard_ms), self.state.keeps
        if isinstance(event, keys.NotNow):
            raise CareFault(event.says)
        state = advance(self.plan, self.state, event)
        came_of = outcome(self.plan, state)
        row = self.row._replace(ended=at.wall, retracted=None if keeps else at.wall)
        because = "bout ended" if keeps else "nothing was done"
        with self.care.together():
            self._put([event], at)
            row = bouts.revise_bout(self.care.record, row, by=self.care.examiner, because=because)
            new = readings_from(self.care, self.row, came_of) if keeps else []
            made = readings.add_readings(self.care.record, new, by=self.care.examiner) if new else []
        self.state, self.row = state, row
        return Ended(ended_text(self.plan, came_of, made, keeps=keeps), came_of, tuple(made), keeps)

    # within

    def _wakes(self, at: Instant) -> bool:
        """Bring the bout up to an instant, and say whether that paused it after a gap."""
        was_running = self.state.running
        self.tick(at)
        return was_running and self.state.mode is Mode.PAUSED

    def _key(self, event_at: Callable[[int], Event | keys.NotNow], at: Instant | None) -> Cue | None:
        at = at or Instant.now(self.care.clock)
        self.tick(at)
        event = event_at(self._heard_ms)
        if isinstance(event, keys.NotNow):
            raise CareFault(event.says)
        self.commit([event], at)
        return cue_of(self.plan, self.state, event)

    def commit(self, events: Iterable[Event], at: Instant | None = None, after: State | None = None) -> None:
        """On disk first; only then does it count. `after` is the state that they make, where it is known."""
        events = list(events)
        if events:
            self._put(events, at or Instant.now(self.care.clock))
        self.state = after or reduce(lambda state, event: advance(self.plan, state, event), events, self.state)

    def _put(self, events: list[Event], at: Instant) -> None:
        rows = [
            BoutEvent(self.row.id, event.seq, event.kind, event.at_ms, self._wall_at(event.at_ms, at), event.data)
            for event in events
        ]
        try:
            bouts.add_events(self.care.record, rows)
        except RecordFault as fault:
            if fault.kind is FaultKind.CHANGED:
                self._stand_still()
            raise

    def _stand_still(self) -> None:
        """Another window took this bout over: nothing counts here any more, and what is shown stands paused."""
        running = self.state.running
        self.state = self.state._replace(
            mode=Mode.PAUSED if running else self.state.mode,
            paused_in=self.state.mode if running else self.state.paused_in,
            held_ms=self.state.run_ms(self.state.known_ms) if running else self.state.held_ms,
            sentence=ELSEWHERE,
        )

    def _wall_at(self, at_ms: int, at: Instant) -> Stamp:
        """The wall's time when something fell due, which is a little before it is kept."""
        ago = timedelta(milliseconds=max(0, self._heard_ms - at_ms))
        return Stamp(at.wall.at - ago, at.wall.offset_min)
