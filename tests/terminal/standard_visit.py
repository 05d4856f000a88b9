"""The steps of the standard visit, by keys: each waits for what it shows before the next key is pressed."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path

from tests.terminal.driver import Terminal
from tests.terminal.giant import giant
from tests.terminal.keys import KeyCount
from tests.terminal.programs import hurried, said
from tests.terminal.view import View
from tests.terminal.walk import Walk, chosen_step

BEFORE = (("11.3", "11.5", "11.4"), ("5.2", "5.4", "5.3"))
AFTER = (("11.6", "11.8", "11.7"), ("6.8", "7.0", "6.9"))
"""Left, then right, cm. The right one gains 1.6, more than the error within a visit."""

LABEL = "R.K."
PERSON: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("label", tuple(LABEL)),
    ("born", tuple("1995-04-12")),
    ("examiner", tuple("A.B.")),
    ("injured side", ("r",)),
    ("structure", ()),
    ("grade", ("right", "right")),
    ("injured on", tuple("-13d")),
    ("brace or tape", tuple("laced brace")),
    ("goal", tuple("21 km forest race")),
    ("goal's day", tuple("+16w")),
    ("sport", tuple("orienteering")),
    ("level", tuple("club")),
    ("sprains, left", ("0",)),
    ("sprains, right", ("2",)),
    ("anticoagulant", ("n",)),
    ("loss of feeling", ("n",)),
    ("hypermobility", ("y",)),
)
"""An invented forest orienteer, a week before the visit: the label of each field, and the keys in it."""

WEEK = 7
AT_HOME = "heel raises"
"""What was handed out the week before: one thing to do at home."""

SAID = (
    ("2", "Worst pain"), ("4", "morning after"), ("1", "brisk walk"), ("", "given way"), ("0", "home programme"),
)  # fmt: skip
"""What is typed into a field, and what the next one asks. The walk is passed over."""


@dataclass(slots=True)
class Visited:
    """What came of the walk. `day` is that of the visit, `counts` are its keys, `before` those of what was done
    a week earlier. `blind` are the first and the last chunk of output while the re-test is blind.
    """

    file: Path
    home: Path
    day: date
    terminal: Terminal
    counts: dict[str, KeyCount]
    before: dict[str, KeyCount]
    blind: tuple[int, int] = (0, 0)
    shown: list[str] = field(default_factory=list)


def walk_standard_visit(file: Path, home: Path) -> Visited:
    """Walk it from a file that is not there yet to the end of the visit, and quit; a week earlier the person is
    new and takes a home programme along.
    """
    with Terminal(hurried(file, days=-WEEK), home=home) as earlier:
        week_before = Walk(earlier)
        with week_before.part("new person"):
            add_person(week_before)
        with week_before.part("home a week before"):
            hand_out(week_before)
    with Terminal(hurried(file), home=home) as terminal:
        walk = Walk(terminal)
        day = date.today()  # noqa: DTZ011 - the computer's own day
        visited = Visited(file, home, day, terminal, walk.counts, week_before.counts)
        with walk.part("open"):
            walk.sees("1 open, 0 seen today", LABEL)
            walk.press("enter", "Nothing has been measured yet", "week 3, day 20")
            walk.press("v", "what has changed", "3 trials a side")
        with walk.part("what has changed"):
            say_what_has_changed(walk)
        with walk.part("safety"):
            ask_again(walk)
        with walk.part("lunge"):
            measure(walk, BEFORE)
        first = len(terminal.chunks)
        with walk.part("looks"):
            look_around(walk, visited)
        with walk.part("mobilisation"):
            mobilise(walk)
        with walk.part("lunge again"):
            last = measure(walk, AFTER, visited)
        visited.blind = (first, last)
        with walk.part("holds"):
            hold(walk)
        with walk.part("shifts"):
            shift(walk)
        with walk.part("home"):
            carry_over(walk)
        with walk.part("end"):
            end(walk)
        with walk.part("quit"):
            terminal.press("ctrl+q")
            assert terminal.wait_exit() == 0
    return visited


def add_person(walk: Walk) -> None:
    """A new person with every field, and the examiner; then back to the list."""
    walk.sees("Nobody is in this record yet")
    walk.press("f2", "new person and episode")
    walk.fill(*PERSON)
    walk.press("enter", f"saved {LABEL}, right ankle", "week 2, day 13", "21 km forest race", "hypermobility")
    walk.press("esc", "1 open, 0 seen today", LABEL)


def hand_out(walk: Walk) -> None:
    """One thing to do at home, handed out on the first day, and quit."""
    walk.press("enter", "Nothing has been measured yet")
    walk.press("h", "home programme", "first programme")
    walk.press("+", "add this")
    walk.type(AT_HOME)
    walk.press("enter", f"{AT_HOME} added")
    walk.press("space", "hypermobility", "again goes on")
    walk.press_unhurried("space", "handed out")
    walk.terminal.press("ctrl+q")
    assert walk.terminal.wait_exit() == 0


def say_what_has_changed(walk: Walk) -> None:
    """Field by field; consent saves it."""
    walk.press("space", "Pain now")
    for keys, asks in SAID:
        for key in keys:
            walk.terminal.press(key)
        walk.press("space", asks)
    walk.press("5")
    walk.press("space", "5/")
    walk.press("7", "5/7")
    walk.press("space", "trust this ankle")
    walk.press("space", "agree to today's visit?")
    walk.press("y", "saved", "5 of 7 days", "gave way 0")


def ask_again(walk: Walk) -> None:
    """What must be ruled out is asked as a group, and nothing has changed."""
    at_step(walk, "safety re-asked")
    walk.press("space", "asked: no change")
    walk.press("space", "kept: ")


def measure(walk: Walk, values: tuple[tuple[str, ...], ...], visited: Visited | None = None) -> int:
    """The lunge, uninjured side first; gives how much the program had written when the last value was typed."""
    at_step(walk, "lunge, re-test" if visited else "lunge")
    if not visited:  # a joint that is hypermobile is to be minded: it is asked once, before the first load
        walk.press("space", "hypermobility", "again goes on")
    walk.press_unhurried("space", "trial 1 of 3", "uninjured")
    walk.sees_that(lambda view: "LEFT" in giant(view), "the left side, which is uninjured")
    walk.trials(values[0])
    walk.sees_that(lambda view: "RIGHT" in giant(view), "the right side")
    if visited:
        visited.shown += shown_outside(visited)
    walk.trials(values[1][:-1], of=3)
    last = len(walk.terminal.chunks)
    walk.trials(values[1][-1:], first=3, of=3)
    walk.sees_that(lambda view: chosen_step(view).startswith(("mobilisation", "single-leg")), "the next step")
    return last


def shown_outside(visited: Visited) -> list[str]:
    """What the verbs print now."""
    words = ((), ("--json",), (LABEL,), (LABEL, "--json"))
    return [said(visited.file, visited.home, "show", *more) for more in words]


def look_around(walk: Walk, visited: Visited) -> None:
    """Every screen on which a value of before might be told: it is told on none."""
    _look_at_figures(walk, "d leave out")
    walk.press("m", "measure anything")
    walk.type("lunge 11.9 6.6 after")
    walk.sees("saves")
    walk.press("esc", "not saved")
    walk.press_unhurried("esc", "d leave out", "hidden")
    walk.press("esc", "back to visit")
    _look_at_figures(walk, "next stage")
    walk.press("esc", "1 open, 1 seen today")
    walk.press("enter", "back to visit")
    walk.press("v", "d leave out", "hidden")
    visited.shown += shown_outside(visited)


def _look_at_figures(walk: Walk, back: str) -> None:
    walk.press("i", "where it comes from", "hidden until the re-test is in", "what is shown")
    walk.press("pagedown")
    walk.terminal.wait_gone("what is shown")
    walk.press("esc", back)
    walk.press("g", "line: jog 8", "hidden until the re-test is in")
    walk.press("esc", back)


def mobilise(walk: Walk) -> None:
    """The belt, 3 x 10, pain after each set: hands are on the ankle from the first start to the last rep."""
    at_step(walk, "mobilisation, belt")
    walk.press("space", "3 sets", "10 reps", "space start")
    with walk.part("hands on"):
        for n in (1, 2, 3):
            start = walk.pedal if n == 1 else walk.pedal_in_rest
            start()
            walk.saw_text(f"rep 1 of 10    set {n} of 3")
            for word in ("LUNGE", "HOLD", "BACK"):
                walk.saw(partial(_is_giant, "RIGHT", word), f"RIGHT and {word} in giant letters")
            walk.saw_text(f"rep 10 of 10    set {n} of 3")
            walk.sees(*(("pain 0-9", "rest ") if n < 3 else ("pain 0-9", "3 of 3 sets, 30 of 30 reps")))
            walk.press("0", f"pain 0 after set {n}")
    walk.pedal("saved mobilisation, belt: 3 sets, 30 reps", "right 3 x 10, pain 0 0")


def hold(walk: Walk) -> None:
    """Single-leg holds of 30 s, three a side, with one fault."""
    at_step(walk, "single-leg hold")
    walk.press("space", "3 sets", "hold 30 s", "space start")
    for side in ("LEFT", "RIGHT"):
        for n in (1, 2, 3):
            start = walk.pedal if (side, n) == ("LEFT", 1) else walk.pedal_in_rest
            start()
            walk.saw_text(f"0 faults    set {n} of 3")
            walk.saw(partial(_counts_seconds, side), f"{side} and seconds in giant letters")
            if (side, n) == ("RIGHT", 2):
                walk.pedal()
                walk.saw_text("1 fault ")
            ends = side == "RIGHT" and n == 3
            walk.sees("6 of 6 sets" if ends else "space start the next set")
    walk.pedal("saved single-leg hold: 6 holds, 180 s under load", "left 3 holds, no")


def shift(walk: Walk) -> None:
    """A minute of direction shifts; control is lost once."""
    at_step(walk, "direction shifts")
    walk.press("space", "12 shifts", "5 s each", "space start")
    walk.pedal()
    walk.saw_text("shift 5 of 12")
    walk.saw(lambda view: bool({"FORWARD", "BACK", "IN", "OUT"} & set(giant(view))), "a direction")
    walk.pedal()
    walk.saw_text("control lost")
    walk.sees("11 of 12 in control", "forward", "60 s under load")
    walk.pedal("saved direction shifts", "right 11 of 12 in")


def carry_over(walk: Walk) -> None:
    """Last time's home programme with one change: a set more."""
    at_step(walk, "home programme")
    walk.press("space", "not handed out yet", "carried over from", "unchanged")
    walk.press("enter", "part")
    walk.press("up", "4 sets instead of", "4 x 12, right")
    walk.press("space", "carried")
    at_step(walk, "note")


def end(walk: Walk) -> None:
    """Look the note over and sign it, which ends the visit."""
    walk.press("n", "note, draft", "gave way: not once")
    walk.press("x", "x again signs")
    walk.press_unhurried("x", "note signed by A.B.", "note, signed")
    walk.press("esc", "visit ended", "n papers")
    walk.press("esc", "v visit")


def _is_giant(side: str, word: str, view: View) -> bool:
    words = giant(view)
    return side in words and word in words


def _counts_seconds(side: str, view: View) -> bool:
    words = giant(view)
    return side in words and any(word.isdigit() for word in words)


def at_step(walk: Walk, step: str) -> View:
    """Wait until the cursor stands on a step of the plan."""
    return walk.sees_that(lambda view: chosen_step(view) == step, f"the cursor on {step}")
