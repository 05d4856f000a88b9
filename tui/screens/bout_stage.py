"""The middle of the timer: before the start what is to be read, then one giant word, at the end the result."""

from __future__ import annotations

from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from store.care.bout_setting import Setting
from store.care.dosing import Part
from store.care.timing import BoutKind, BoutPlan, LiveBout, Mode, View
from tui.screens.bout_done import done_lines, feet_of
from tui.screens.bout_face import Giant, face
from tui.screens.bout_lines import ask_line, cue_line, pace_line, sets_line
from tui.screens.bout_ready import ready_text
from tui.widgets.big_word import BigWord
from tui.widgets.control_cross import ControlCross
from tui.widgets.lines import Lines
from tui.widgets.phase_bar import PhaseBar


@dataclass(frozen=True, slots=True)
class Scene:
    """All that the middle shows at one moment. `live` is None before the start; `slow`: the disk holds it up."""

    found: Setting
    plan: BoutPlan
    view: View
    dose: tuple[Part, ...]
    chosen: str
    live: LiveBout | None = None
    slow: bool = False


class BoutStage(Vertical):
    """Shows a scene. What is as it was is not painted again, so it may be told ten times a second."""

    DEFAULT_CSS = """
    BoutStage { height: 1fr; margin: 0 2; }
    BoutStage #top { height: 3; }
    BoutStage #side { width: 1fr; height: 100%; }
    BoutStage #clock { width: 28; height: 100%; }
    BoutStage #giant { height: 1fr; }
    BoutStage #told { height: 4; }
    BoutStage #ready { height: 1fr; margin-top: 1; scrollbar-size-vertical: 1; }
    BoutStage #result { height: auto; }
    BoutStage #fill { height: 1fr; }
    BoutStage #ready, BoutStage #result, BoutStage ControlCross, BoutStage #fill { display: none; }
    BoutStage.-ready #ready { display: block; }
    BoutStage.-ready #giant, BoutStage.-ready PhaseBar, BoutStage.-ready #told { display: none; }
    BoutStage.-done PhaseBar, BoutStage.-done.-shifts #giant { display: none; }
    BoutStage.-done #told { height: 1; }
    BoutStage.-done #result { display: block; }
    BoutStage.-done.-shifts ControlCross, BoutStage.-done.-shifts #fill { display: block; }
    """

    def compose(self) -> ComposeResult:
        """Side and seconds, the giant word, the bar; what is read before and after; the lines."""
        with Horizontal(id="top"):
            yield BigWord(id="side")
            yield BigWord(id="clock")
        yield BigWord(id="giant")
        yield PhaseBar()
        with VerticalScroll(id="ready", can_focus=False):
            yield Lines()
        yield Lines(id="result")
        yield ControlCross()
        yield Static(id="fill")
        yield Lines(id="told")

    def show(self, scene: Scene) -> None:
        """Show a scene."""
        plan, view = scene.plan, scene.view
        self.set_class(view.mode is Mode.READY, "-ready")
        self.set_class(view.mode is Mode.DONE, "-done")
        self.set_class(plan.kind is BoutKind.SHIFTS, "-shifts")
        shown = face(plan, view)
        _put(self.query_one("#side", BigWord), shown.side)
        _put(self.query_one("#clock", BigWord), shown.clock)
        if view.mode is Mode.READY:
            self._show_ready(scene)
            return
        _put(self.query_one("#giant", BigWord), shown.giant)
        if view.mode is Mode.DONE:
            self._show_result(scene)
        else:
            self.query_one(PhaseBar).bar = shown.bar
            self.query_one("#told", Lines).show(*self._told(scene))

    def turn_page(self, pages: int) -> None:
        """Scroll what is read before the start."""
        read = self.query_one("#ready", VerticalScroll)
        read.scroll_relative(y=pages * max(read.size.height - 1, 1), animate=False)

    @property
    def _width(self) -> int:
        return max(self.content_size.width, 1)

    def _show_ready(self, scene: Scene) -> None:
        text = ready_text(
            scene.found, scene.dose, scene.chosen, self._width - 2, own_protocol=scene.plan.own_protocol
        )
        self.query_one("#ready Lines", Lines).show(*text)

    def _told(self, scene: Scene) -> tuple[Content, ...]:
        return (
            pace_line(scene.view, scene.dose, scene.chosen, self._width),
            cue_line(scene.found.activity, self._width),
            sets_line(scene.plan, scene.view, self._width),
            ask_line(scene.view, self._width, slow=scene.slow),
        )

    def _show_result(self, scene: Scene) -> None:
        if scene.live is not None:
            self.query_one("#result", Lines).show(*done_lines(scene.live, scene.view, self._width))
            self.query_one(ControlCross).feet = feet_of(scene.plan, scene.view.done)
        self.query_one("#told", Lines).show(ask_line(scene.view, self._width, slow=scene.slow))


def _put(widget: BigWord, giant: Giant) -> None:
    if widget.company != giant.company:
        widget.company = giant.company
        widget.refresh()
    widget.show(giant.text, giant.role, giant.aside)
