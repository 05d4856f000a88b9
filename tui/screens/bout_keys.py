"""Which keys of the timer matter in a state, under the words that fit it, and why one cannot be pressed."""

from __future__ import annotations

from collections.abc import Sequence

from store.care.timing import BoutKind, Mode, Question, View
from tui.widgets.commands import Command, get, relabelled

_ENTER_ENDS = (BoutKind.COUNTED, BoutKind.REACHES, BoutKind.TIMED, BoutKind.WALK_RUN)
"""Sets that often end before their number or time is reached."""

WAITS = "Wait: it is being opened."


def keys_of(view: View | None, *, sound: bool, chosen: str) -> Sequence[Command]:
    """The keys by importance. The first one says what the pedal does now."""
    if view is None:
        return [get("back")]
    leave = relabelled(get("back"), "back" if view.mode is Mode.READY and not view.keeps else "leave paused")
    switch = relabelled(get("sound"), "sound off" if sound else "sound on")
    times = [get("turn")] if not chosen else [relabelled(get("change"), f"more, less {_short(chosen)}")]
    times = [relabelled(each, "dose") if each.id == "turn" else each for each in times]
    if view.mode is Mode.DONE:
        keep = relabelled(get("on"), "keep after pain" if Question.PAIN in view.questions else "keep")
        return [keep, *_answers(view), *_undo(view), relabelled(get("end"), "keep"), leave]
    on = [relabelled(get("on"), view.pedal or "nothing now")]
    if view.mode is Mode.READY:
        return [*on, *times, leave, switch]
    return [*on, *_answers(view), *_enter(view), *_undo(view), get("end"), _pause(view), leave, *times, switch]


def _answers(view: View) -> list[Command]:
    if view.questions[:1] == (Question.CONTROL,):
        return [get("pain")._replace(label="control", shown="0-3")]
    return [get("pain")] if view.questions or view.doing is not Mode.COUNTDOWN else []


def _undo(view: View) -> list[Command]:
    return [relabelled(get("undo"), f"undo {view.undo}")] if view.undo else []


def _enter(view: View) -> list[Command]:
    ends = view.mode is Mode.WORKING and view.kind in _ENTER_ENDS
    return [relabelled(get("open"), f"end {view.unit}")] if ends else []


def _pause(view: View) -> Command:
    return relabelled(get("pause"), "go on" if view.mode is Mode.PAUSED else "pause")


def _short(part: str) -> str:
    return part.split(" ")[0].removesuffix("_s")


def why_not(view: View | None, command_id: str) -> str | None:
    """The sentence why a command cannot run now, or None when it can or its act says so itself."""
    if view is None:
        return WAITS if command_id != "back" else None
    if view.mode is Mode.READY and command_id in ("undo", "pause", "pain"):
        return "It has not started yet: space starts it."
    if command_id == "undo" and not view.undo:
        return "There is nothing to undo in this bout."
    if command_id == "open" and view.mode not in (Mode.WORKING, Mode.DONE):
        return f"Space is the key now: {view.pedal}." if view.pedal else "There is nothing to save now."
    return None
