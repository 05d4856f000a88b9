"""Bouts: begun, opened again where they were, and told in a few words."""

from __future__ import annotations

from dataclasses import replace

from store.bout.cues import LAST_S, Cue, Tone
from store.bout.events import Event, event_from
from store.bout.fold import replay
from store.bout.plan import BoutPlan
from store.bout.planning import Overrides, plan_for
from store.bout.press import Guard
from store.bout.result import Outcome
from store.bout.state import Mode, Question, SetResult, Shift, State, Times, beat_ms, opening
from store.bout.view import View, look
from store.bout.watch import GAP_MS, reopened
from store.care.bout_kept import NOTHING_DONE, Ended, results_text
from store.care.care import Care
from store.care.faults import CareFault, RunsElsewhere
from store.care.live_bout import Instant, LiveBout
from store.knowledge.kinds import Activity, Figure
from store.knowledge.pain import what_for
from store.knowledge.words import BoutKind, BoutRow, Side, Visit
from store.record import bouts
from store.record.file import open_again

__all__ = [
    "GAP_MS", "LAST_S", "NOTHING_DONE", "BoutKind", "BoutPlan", "Cue", "Ended", "Guard", "Instant", "LiveBout",
    "Mode", "Outcome", "Overrides", "Question", "SetResult", "Shift", "Times", "Tone", "View",
]  # fmt: skip

RUNS = "This timer runs in another window"
TAKES_OVER = "enter takes it over, esc goes back."


def planned(activity: Activity, injured: Side, overrides: Overrides | None = None, *, seed: int = 0) -> BoutPlan:
    """What a bout of this activity would be. Raises CareFault with a sentence when its dose cannot run."""
    try:
        return plan_for(activity, injured, seed=seed, overrides=overrides)
    except ValueError as cannot:
        raise CareFault(str(cannot)) from cannot


def before_start(plan: BoutPlan) -> View:
    """The picture of a bout that is planned and not begun."""
    return look(plan, opening(plan), 0)


def begin(
    care: Care, activity: Activity, visit: Visit, *, overrides: Overrides | None = None, seed: int | None = None
) -> LiveBout:
    """A new bout of an activity in a visit, ready to start. The order of directions is made from its id."""
    if visit.ended is not None or visit.episode is None:
        raise CareFault("a bout belongs to a visit that goes on: start one (v)")
    injured = care.episode(visit.episode).side
    bout_id = care.new_id()
    asked = overrides or Overrides()
    if asked.auto_next is None:
        asked = asked._replace(auto_next=care.settings.next_set_by_itself)
    plan = planned(activity, injured, asked, seed=_seed(bout_id) if seed is None else seed)
    plan = replace(plan, most_pain=int(most_pain(care, activity).value))
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


def most_pain(care: Care, activity: Activity) -> Figure:
    """The most pain through which a bout of this activity runs on, where it need not be painless."""
    return care.knowledge.most_pain[what_for(activity.kind)]


def reopen(care: Care, row: BoutRow, *, take_over: bool = False) -> LiveBout:
    """A bout that was left or cut short, paused where it was.

    Raises CareFault if it ended or cannot be read, and RunsElsewhere if another window keeps it running, unless
    `take_over`: then that window stops at the next thing it has to write.
    """
    if row.ended is not None or row.retracted is not None:
        raise CareFault("this bout has ended: start a new one (t)")
    with care.together():  # nobody writes between what is read here and the pause
        plan, events = _kept(care, row)
        live = LiveBout(care, row, plan, replay(plan, events))
        ago_s = _kept_ago_s(care, live) if live.state.running else None
        if ago_s is not None and not take_over:
            raise RunsElsewhere(row.id, _runs_elsewhere(ago_s))
        cut = reopened(plan, events, taken=ago_s is not None)
        if cut is not None:
            live.commit([cut])
    return live


def _kept_ago_s(care: Care, live: LiveBout) -> int | None:
    """How many seconds ago a bout that runs was last written, if so lately that it may run still.

    It writes with each beat; one that a window has not written for a gap longer would pause there by itself. So
    nothing is asked of processes, which may be killed and their numbers given to others.
    """
    beats, mode = live.state.beats, live.state.mode
    most_ms = GAP_MS + beat_ms(mode, beats + 1) - beat_ms(mode, beats)
    last = bouts.events_of(care.record, live.row.id)[-1]
    ago_s = (care.clock.now().at - last.wall_at.at).total_seconds()
    return int(ago_s) if 0 <= ago_s * 1000 <= most_ms else None


def _runs_elsewhere(ago_s: int) -> str:
    when = "now" if ago_s == 0 else f"{ago_s} s ago"
    return f"{RUNS} (kept {when}): {TAKES_OVER}"


def reopen_by_id(care: Care, bout_id: str, *, take_over: bool = False) -> LiveBout:
    """The same, of the bout with this id."""
    row = bouts.bout(care.record, bout_id)
    if row is None:
        raise CareFault("this bout is no longer in the record: go back and look again")
    return reopen(care, row, take_over=take_over)


def own_hand(care: Care) -> Care:
    """The same care over a connection of its own, for a thread of its own: close it there. Raises RecordFault.

    A bout is kept through it, so that a slow disk holds up neither the cues nor the keys.
    """
    return replace(care, record=open_again(care.record))


def unfinished(care: Care, visit: Visit) -> tuple[BoutRow, ...]:
    """Bouts of this visit that were not ended, oldest first."""
    return tuple(row for row in bouts.unfinished_bouts(care.record, person=visit.person) if row.visit == visit.id)


def bout_state(care: Care, row: BoutRow) -> tuple[BoutPlan, State]:
    """The plan of a kept bout and the state that its events make. Raises CareFault on one that cannot be read."""
    plan, events = _kept(care, row)
    return plan, replay(plan, events)


def bout_text(care: Care, row: BoutRow) -> str:
    """What a bout came to, in the few words of a plan line: "3 x 10, pain 0 0 0"."""
    plan, state = bout_state(care, row)
    return results_text(plan, state.done)


def _kept(care: Care, row: BoutRow) -> tuple[BoutPlan, list[Event]]:
    try:
        kept = bouts.events_of(care.record, row.id)
        return BoutPlan.from_data(row.plan), [event_from(one.seq, one.kind, one.at_ms, one.data) for one in kept]
    except ValueError as broken:
        raise CareFault(str(broken)) from broken


def _seed(bout_id: str) -> int:
    return int(bout_id.replace("-", "")[-8:], 16)
