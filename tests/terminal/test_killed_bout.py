"""Killed from outside at any instant of a bout: the last count painted is in the file, and the bout opens again.

Twenty instants, drawn with a fixed seed: sixteen on hurried time (hurried.py), where something is written every
few hundredths of a second, and four at true speed. One prepared record is copied for each kill. Every fourth is
opened again by the installed program and goes on; the others by the same application in the process of the test.
"""

from __future__ import annotations

import asyncio
import random
import re
import shutil
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot

import tui.command
from store.bout.view import View as BoutView
from store.bout.view import look
from store.care import visits
from store.care.care import name_examiner, open_care
from store.care.people import EpisodeForm, new_person
from store.care.timing import bout_state
from store.knowledge.words import Side
from store.record.bouts import unfinished_bouts
from tests.helpers.fit import text_of
from tests.terminal.driver import Terminal
from tests.terminal.giant import giant
from tests.terminal.programs import hurried, installed
from tests.terminal.view import View
from tests.terminal.walk import BETWEEN_S, Walk, chosen_step
from tui.app import BothFeetApp
from tui.clock.system import SystemClock
from tui.widgets.big_word import BigWord

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
CUT, RUNS = "The program stopped in the middle of this bout", "This timer runs in another window"
"""What stands there when it opens again, the second where it might run still."""


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
async def test_what_was_painted_is_kept_and_the_bout_goes_on(
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
    if KILLS.index(kill) % 4:  # to start the program anew for each would take as long as all that is above
        await _reopens_here(file, kept)
        return
    with Terminal(installed(file), home=home) as terminal:
        walk = Walk(terminal)
        _reopens(walk, kept)
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
    walk.terminal.press("space")
    view = walk.sees_that(lambda found: CUT in found.text or RUNS in found.text, "the bout, or the question")
    if RUNS in view.text:  # killed so lately that it might run still
        view = walk.press_unhurried("enter", "Taken over from another window", "space go on")
    words = giant(view)
    assert "PAUSED" in words
    assert str(kept.side).upper() in words
    assert _where(kept) in view.text


def _where(kept: BoutView) -> str:
    counted = f"rep {kept.rep} of {kept.reps}" if kept.reps else f"{kept.faults} faults"
    return f"{counted}    set {kept.set_n} of {kept.sets}"


async def _shows(app: BothFeetApp, pilot: Pilot[None], *wanted: str) -> None:
    """Wait until one of the texts stands on the screen."""
    async with asyncio.timeout(20):
        while not any(text in text_of(app) for text in wanted):
            await pilot.pause(0.05)


async def _reopens_here(file: Path, kept: BoutView) -> None:
    """The same, with the application in this process."""
    with closing(open_care(file, SystemClock())) as care:
        app = BothFeetApp(care, care.clock, sound_on=False, log_folder=file.parent / "logs")
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("f8")
            await pilot.pause()
            assert ("kept paused at set" if kept.keeps else "opened, nothing done") in text_of(app)
            await pilot.press("space")
            await _shows(app, pilot, CUT, RUNS)
            if RUNS in text_of(app):  # killed so lately that it might run still
                await asyncio.sleep(BETWEEN_S)
                await pilot.press("enter")
            await _shows(app, pilot, _where(kept))
            words = {app.screen.query_one(f"#{name}", BigWord).text for name in ("giant", "side")}
            assert words == {"PAUSED", str(kept.side).upper()}


def _goes_on(walk: Walk, kept: BoutView) -> None:
    """The next press goes on from the same count."""
    view = walk.pedal("space stop" if kept.reps else "space one fault")
    set_n, count = _painted(view)
    assert set_n == kept.set_n
    already = _count(kept)[1]
    assert already <= count <= already + 2
