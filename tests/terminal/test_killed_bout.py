"""Killed from outside at any instant of a bout: the last count painted is in the file, and the bout opens again.

Twenty instants, drawn with a fixed seed: sixteen on hurried time (hurried.py), where something is written every
few hundredths of a second, and four at true speed. One prepared record is copied for each kill.
"""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

import tui.command
from store.bout.view import View as BoutView
from store.bout.view import look
from store.care import visits
from store.care.care import name_examiner, open_care
from store.care.people import EpisodeForm, new_person
from store.care.timing import bout_state
from store.knowledge.words import Side
from store.record.bouts import unfinished_bouts
from tests.terminal.driver import Terminal
from tests.terminal.giant import giant
from tests.terminal.programs import hurried, installed
from tests.terminal.view import View
from tests.terminal.walk import Walk, chosen_step
from tui.clock.system import SystemClock

SEED = 2026
STEPS = {"mobilisation, belt": "rep 1 of 10", "single-leg hold": "0 faults"}
"""A step of the plan, and what shows that its work has begun."""


@dataclass(frozen=True, slots=True)
class Kill:
    """One kill: in which step, how fast time passes, and how long after the work began, in true seconds."""

    step: str
    rate: float
    after_s: float

    def __str__(self) -> str:
        speed = "true speed" if self.rate == 1.0 else f"{self.rate:g} times as fast"
        return f"{self.after_s:.3f} s into {self.step}, {speed}"


def _draw() -> list[Kill]:
    dice = random.Random(SEED)
    steps = list(STEPS)
    fast = [Kill(steps[n % 2], 20.0, dice.uniform(0.01, 1.2)) for n in range(16)]
    return [*fast, *(Kill(steps[n % 2], 1.0, dice.uniform(0.2, 3.9)) for n in range(4))]


KILLS = _draw()


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """For each step a record of one invented person, in a visit whose plan waits at that step."""
    folder, found = tmp_path_factory.mktemp("prepared"), {}
    clock = SystemClock()
    for step, dropped in (("mobilisation, belt", ()), ("single-leg hold", ("mobilisation", "lunge_retest"))):
        found[step] = path = folder / f"{step}.sqlite"
        with closing(open_care(path, clock, create=True)) as care:
            name_examiner(care, "AB")
            form = EpisodeForm(Side.RIGHT, injured_on=clock.now().on - timedelta(days=20))
            _, episode = new_person(care, "R.K.", "1995", form)
            assert episode is not None
            visit = visits.start_visit(care, episode)
            for each in ("said", "safety", "lunge", *dropped):
                visit = visits.drop_step(care, visit, each)
    return found


@pytest.mark.parametrize("kill", KILLS, ids=str)
def test_what_was_painted_is_kept_and_the_bout_goes_on(
    kill: Kill, prepared: dict[str, Path], tmp_path: Path, tell: Callable[[str], None]
) -> None:
    file, home = tmp_path / "record.sqlite", tmp_path / "home"
    shutil.copy(prepared[kill.step], file)
    argv = installed(file) if kill.rate == 1.0 else hurried(file, rate=kill.rate)
    with Terminal(argv, home=home) as terminal:
        walk = Walk(terminal, rate=kill.rate)
        _open_bout(walk, kill.step)
        if kill.step == "mobilisation, belt":
            _shorten_reps(walk, "0.5 s" if kill.rate == 1.0 else "1 s")
        walk.pedal(STEPS[kill.step])
        terminal.watch(kill.after_s)
        terminal.kill()
        terminal.wait_exit()
        painted = terminal.view()
    kept = _kept(file, tmp_path / "autopsy")
    tell(f"killed {kill}: painted {_painted(painted)}, kept {_count(kept)}")
    assert _painted(painted) <= _count(kept)
    with Terminal(installed(file), home=home) as terminal:
        walk = Walk(terminal)
        _reopens(walk, kept)
        if KILLS.index(kill) % 4 == 0:
            _goes_on(walk, kept)


def _open_bout(walk: Walk, step: str) -> None:
    walk.sees("R.K.", "1 open")
    walk.press("f8", "x end visit")
    walk.sees_that(lambda view: chosen_step(view) == step, f"the cursor on {step}")
    walk.press("space", "space start")


def _shorten_reps(walk: Walk, phase: str) -> None:
    """Phases of 0.5 or 1 s instead of 2 s, by keys, so that there is more to count."""
    for at, word in enumerate(("lunge", "hold", "back")):
        walk.terminal.press(*["right"] * (3 if at == 0 else 1), *["down"] * (3 if phase == "0.5 s" else 2))
        walk.sees(f"{word} {phase}")


def _kept(file: Path, folder: Path) -> BoutView:
    """The bout as the events in the file make it, looked at in a copy: the program finds all as it was left."""
    folder.mkdir()
    for each in file.parent.glob(f"{file.name}*"):
        shutil.copy(each, folder)
    copy = folder / file.name
    assert tui.command.main(["check", "--file", str(copy)]) == 0
    with closing(open_care(copy, SystemClock())) as care:
        (row,) = unfinished_bouts(care.record)
        plan, state = bout_state(care, row)
    return look(plan, state, state.known_ms)


def _count(kept: BoutView) -> tuple[int, int]:
    """The set, and what is counted in it: reps, or whole seconds of a hold."""
    return kept.set_n, kept.seconds if kept.rep == 0 and not kept.reps else kept.reps_done


def _painted(view: View) -> tuple[int, int]:
    """The same as it stood on the screen."""
    found = re.search(r"(?:rep (\d+) of 10|\d faults?) +set (\d) of 3", view.text)
    assert found, view.text
    seconds = max((int(word) for word in giant(view) if word.isdigit()), default=0)
    return int(found.group(2)), int(found.group(1)) - 1 if found.group(1) else seconds


def _reopens(walk: Walk, kept: BoutView) -> None:
    """Started again, the program offers the bout first, and opens it paused where it was."""
    walk.sees("R.K.", "1 open")
    walk.press("f8", "kept paused at set" if kept.keeps else "opened, nothing done")
    cut, runs = "The program stopped in the middle of this bout", "This timer runs in another window"
    walk.terminal.press("space")
    view = walk.sees_that(lambda found: cut in found.text or runs in found.text, "the bout, or the question")
    if runs in view.text:  # killed so lately that it might run still
        view = walk.press_unhurried("enter", "Taken over from another window", "space go on")
    words = giant(view)
    assert "PAUSED" in words
    assert str(kept.side).upper() in words
    where = f"rep {kept.rep} of {kept.reps}" if kept.reps else f"{kept.faults} faults"
    assert f"{where}    set {kept.set_n} of {kept.sets}" in view.text


def _goes_on(walk: Walk, kept: BoutView) -> None:
    """The next press goes on from the same count."""
    view = walk.pedal("space stop" if kept.reps else "space one fault")
    set_n, count = _painted(view)
    assert set_n == kept.set_n
    already = _count(kept)[1]
    assert already <= count <= already + 2
