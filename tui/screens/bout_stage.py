"""The middle of the timer: before the start what is to be read, then one giant word, at the end the result."""

from __future__ import annotations

from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from store.care.bout_setting import Setting
from store.care.dosing import Part
from store.care.timing import BoutPlan, LiveBout, Mode, View
from tui.screens.bout_done import crossed, done_lines, feet_of
from tui.screens.bout_face import Giant, face
from tui.screens.bout_lines import ask_lines, cue_line, pace_line, sets_line
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
    BoutStage.-done #told { height: auto; min-height: 1; max-height: 3; }
    BoutStage.-done #result { display: block; }
    BoutStage.-done.-shifts ControlCross, BoutStage.-done.-shifts #fill { display: block; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._side, self._clock = BigWord(id="side"), BigWord(id="clock")
        self._giant, self._bar = BigWord(id="giant"), PhaseBar()
        self._read, self._ready = VerticalScroll(id="ready", can_focus=False), Lines()
        self._result, self._told = Lines(id="result"), Lines(id="told")
        self._cross = ControlCross()

    def compose(self) -> ComposeResult:
        """Side and seconds, the giant word, the bar; what is read before and after; the lines."""
        with Horizontal(id="top"):
            yield self._side
            yield self._clock
        yield self._giant
        yield self._bar
        with self._read:
            yield self._ready
        yield self._result
        yield self._cross
        yield Static(id="fill")
        yield self._told

    def show(self, scene: Scene) -> None:
        """Show a scene."""
        plan, view = scene.plan, scene.view
        self.set_class(view.mode is Mode.READY, "-ready")
        self.set_class(view.mode is Mode.DONE, "-done")
        self.set_class(crossed(plan), "-shifts")
        shown = face(plan, view)
        _put(self._side, shown.side)
        _put(self._clock, shown.clock)
        if view.mode is Mode.READY:
            self._show_ready(scene)
            return
        _put(self._giant, shown.giant)
        if view.mode is Mode.DONE:
            self._show_result(scene)
        else:
            self._bar.bar = shown.bar
            self._told.show(*self._lines(scene))

    def turn_page(self, pages: int) -> None:
        """Scroll what is read before the start."""
        self._read.scroll_relative(y=pages * max(self._read.size.height - 1, 1), animate=False)

    @property
    def _width(self) -> int:
        return max(self.content_size.width, 1)

    def _show_ready(self, scene: Scene) -> None:
        text = ready_text(
            scene.found, scene.dose, scene.chosen, self._width - 2, own_protocol=scene.plan.own_protocol
        )
        self._ready.show(*text)

    def _lines(self, scene: Scene) -> list[Content]:
        """Four lines: what is bright stands last, and takes the place of the cue and the sets when it is long."""
        asked = ask_lines(scene.view, self._width, slow=scene.slow)
        cue, sets = cue_line(scene.found.activity, self._width), sets_line(scene.plan, scene.view, self._width)
        told = [cue, sets] if len(asked) < 2 else [sets] if len(asked) == 2 else []
        pace = [pace_line(scene.view, scene.dose, scene.chosen, self._width)] if len(asked) < 4 else []
        return [*pace, *told, *asked]

    def _show_result(self, scene: Scene) -> None:
        if scene.live is not None:
            self._result.show(*done_lines(scene.live, scene.view, self._width))
            self._cross.feet = feet_of(scene.plan, scene.view.done, scene.found.earlier)
        self._told.show(*ask_lines(scene.view, self._width, slow=scene.slow))


def _put(widget: BigWord, giant: Giant) -> None:
    if widget.company != giant.company:
        widget.company = giant.company
        widget.refresh()
    widget.show(giant.text, giant.role, giant.aside)
