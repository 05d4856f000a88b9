"""Scenes to look at the parts before and after a change. The people are invented: R.K. is a forest orienteer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.app import App, ComposeResult
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from tests.helpers.stage import Bare, Stage
from tui.widgets.big_word import BigWord
from tui.widgets.commands import get, relabelled
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark


class BoutLike(Bare):
    """A timer laid out as the bout screen is meant to be."""

    DEFAULT_CSS = """
    BoutLike .side { height: 3; margin: 0 6 1 6; }
    BoutLike .giant { height: 10; margin: 0 6; }
    BoutLike .lines { margin: 1 2 0 6; height: auto; }
    BoutLike.-tall .side { height: 7; margin: 1 6 0 6; }
    BoutLike.-tall .giant { height: 1fr; margin: 1 6; }
    """
    VERTICAL_BREAKPOINTS = [(0, "-low"), (34, "-tall")]  # noqa: RUF012 - Textual's own way

    def __init__(self, head: HeadLine, side: BigWord, giant: BigWord, lines: Content) -> None:
        super().__init__()
        self.made: tuple[Widget, ...] = (
            head, RuleLine(), side, giant, Static(lines, classes="lines"), RuleLine(), KeyLine(),
        )  # fmt: skip

    def compose(self) -> ComposeResult:
        yield from self.made

    def keys_now(self) -> list[Any]:
        return [
            relabelled(get("on"), "stop"), relabelled(get("undo"), "undo rep"), get("pain"), get("end"),
            relabelled(get("back"), "leave paused"),
        ]  # fmt: skip


def quiet(text: str) -> tuple[str, str]:
    return text, mark(Role.QUIET)


def bold(text: str, role: Role = Role.INK) -> tuple[str, str]:
    return text, mark(role, bold=True)


def bout(word: str = "HOLD") -> App[Any]:
    head = HeadLine((parts("mobilisation with movement, belt"), parts(quiet("visit 12:40 of 30"))))
    side = BigWord("RIGHT", Role.RIGHT, aside=(("▶ injured", Role.RIGHT),), classes="side")
    giant = BigWord(word, company=("LUNGE", "HOLD", "BACK", "REST"), classes="giant")
    lines = parts(
        bold("rep 7 of 10    set 2 of 3"), quiet("           lunge 3 s › hold 2 s › back 3 s\n"),
        "heel down · belt square to the shin · pain: change the glide\n",
        quiet("set 1 "), "10 paced, pain 0", quiet("    set 2 now    set 3 ·    rest 60 s, then waits"),
    )  # fmt: skip
    return Stage(screen=BoutLike(head, side, giant, lines))


def hold() -> App[Any]:
    head = HeadLine(
        (parts("single-leg stance, eyes open", quiet("  firm, arms crossed")), parts(quiet("trial 2 of 3")))
    )
    side = BigWord("RIGHT", Role.RIGHT, aside=(("▶ injured", Role.RIGHT),), classes="side")
    giant = BigWord("17", aside=(("seconds", Role.QUIET), ("of at most 45", Role.QUIET)), classes="giant")
    lines = parts(
        quiet("left  "), bold("45.0  45.0  44.1", Role.LEFT),
        quiet("         right  "), bold("12.5  now  ·", Role.RIGHT),
        "\nends when the foot, the arms or the raised leg move to save it",
    )  # fmt: skip
    return Stage(screen=BoutLike(head, side, giant, lines))


SCENES: dict[str, Callable[[], App[Any]]] = {
    "bout": bout,
    "bout-lunge": lambda: bout("LUNGE"),
    "hold": hold,
}
