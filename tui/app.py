"""The Textual application: themes, screens by name, palette, help, and a way out leaving the terminal whole."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import os
import signal
import sys
from collections.abc import Mapping
from functools import cached_property
from importlib import import_module
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.binding import BindingType
from textual.command import Provider
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Input

from store.knowledge.settings import NOTHING_SET, PEDAL, Settings
from store.knowledge.time import Clock
from store.knowledge.words import Person
from tui.widgets import commands, crash, look
from tui.widgets.field_first import FieldFirst
from tui.widgets.in_turn import KeysInTurn
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.terminal import wants_dark, wants_no_color

if TYPE_CHECKING:
    from store.care.care import Care
    from tui.clock.sound import Sounder

# A screen is imported when it is first opened: the first row must not wait for what is behind it.
SCREENS_BY_NAME: Mapping[str, str] = MappingProxyType(
    {
        commands.CASELOAD: "tui.screens.caseload:CaseloadScreen",
        commands.PERSON: "tui.screens.person:PersonScreen",
        commands.EPISODE: "tui.screens.episode:EpisodeScreen",
        commands.PAGE: "tui.screens.person_page:PersonPage",
        commands.SQUADS: "tui.screens.squads:SquadsScreen",
        commands.SQUAD: "tui.screens.squad:SquadScreen",
        commands.VISIT: "tui.screens.visit:VisitScreen",
        commands.TRIALS: "tui.screens.trials:TrialsScreen",
        commands.LINE: "tui.screens.line:LineScreen",
        commands.PICK: "tui.screens.timer:TimerScreen",
        commands.BOUT: "tui.screens.bout:BoutScreen",
        commands.CHART: "tui.screens.chart:ChartScreen",
        commands.CRITERIA: "tui.screens.criteria:CriteriaScreen",
        commands.HOME: "tui.screens.home:HomeScreen",
        commands.SAFETY: "tui.screens.safety:SafetyPage",
        commands.SAFETY_AGAIN: "tui.screens.safety_again:SafetyAgainScreen",
        commands.SAFETY_SOURCE: "tui.screens.safety_source:SafetySourceScreen",
        commands.RUNNING: "tui.screens.running:RunningScreen",
        commands.SIDELINE: "tui.screens.sideline:SidelineScreen",
        commands.CHECK: "tui.screens.sideline_check:CheckScreen",
        commands.PRACTICE: "tui.screens.practice:PracticeScreen",
        commands.WALK: "tui.screens.walk_through:WalkScreen",
        commands.CASE: "tui.screens.paper_case:CaseScreen",
        commands.DRILL: "tui.screens.drill:DrillScreen",
        commands.PAPERS: "tui.screens.papers:PapersScreen",
        commands.VISITS: "tui.screens.visits:VisitsScreen",
        commands.READINGS: "tui.screens.readings:ReadingsScreen",
        commands.SOURCE: "tui.screens.source:SourceScreen",
        commands.HELP: "tui.screens.help:HelpScreen",
    }
)


TURN_S = 0.0005
"""How long a thread that paints, rings, plays or writes down waits at most for the one that works; Python's own
5 ms are heard."""

STANDS_IN_MS = 2000
"""How long at most a key waits for the screen that it is meant for."""


def _palette() -> type[Provider]:
    from tui.widgets.palette import CommandProvider

    return CommandProvider


class BothFeetApp(KeysInTurn):
    """The program on screen. It is given the open record's care and the clock; it asks for neither itself."""

    TITLE = "bothfeet"
    BINDINGS: ClassVar[list[BindingType]] = commands.bindings_everywhere()
    COMMANDS = {_palette}  # noqa: RUF012 - Textual's own way
    CSS = """
    Screen { background: $ground; color: $ink; }
    Toast { background: $sheet; color: $ink; }
    CommandPalette > Vertical { background: $sheet; }
    CommandPalette SearchIcon { display: none; }
    Input:nocolor > .input--cursor { text-style: reverse; }
    Input:nocolor > .input--selection { text-style: underline; }
    OptionList:nocolor > .option-list--option-highlighted { text-style: reverse; }
    """

    def __init__(
        self,
        care: Care,
        clock: Clock,
        *,
        theme: str = "",
        first: str = commands.CASELOAD,
        log_folder: Path | None = None,
        sound_on: bool = True,
        settings: Settings = NOTHING_SET,
    ) -> None:
        no_color = wants_no_color(os.environ)
        super().__init__(ansi_color=True if no_color else None)
        self.care = care
        self.clock = clock
        self.only: Person | None = None
        self.first = first
        self.log_folder = log_folder
        self.settings = settings
        self.sound_on = sound_on
        self._told = ""
        self.animation_level = "none"
        for each in look.themes():
            self.register_theme(each)
        dark = wants_dark(settings.theme, os.environ)
        self.theme = theme or look.theme_for(self.console.color_system, dark=dark)
        for name in set(self.available_themes) - set(look.PALETTES):
            self.unregister_theme(name)
        if settings.pedal_key != PEDAL:
            self.set_keymap({f"on.{PEDAL}": f"{PEDAL},{settings.pedal_key}"})

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our colours, for a theme that leaves one out."""
        return look.variable_defaults()

    def get_css_variables(self) -> dict[str, str]:
        """The colours of the theme; none yet while Textual makes the program, before its theme is known."""
        if not hasattr(self, "care"):
            self.theme_variables = {}
            return {}
        return super().get_css_variables()

    def refresh_css(self, animate: bool = True) -> None:
        """Take the colours of another theme. Before there is a screen nothing is dressed in the old ones.

        Textual would read all styles then, and read them again with those of the screen.
        """
        if self.screen_stack:
            super().refresh_css(animate)
        else:
            self.stylesheet.set_variables(self.get_css_variables())

    @cached_property
    def sounder(self) -> Sounder:
        """What makes the cues of a bout heard."""
        from tui.clock.sound import Sounds

        wanted = self.settings.sound
        return Sounds(
            self.bell, self.clock.ticks,
            tones=wanted.tones, speech=wanted.speech, bell=wanted.bell, on=self.sound_on,
        )  # fmt: skip

    # screens

    def get_default_screen(self) -> Screen[Any]:
        """The first screen, at the bottom of the pile."""
        return self._made(self.first)

    def _made(self, name: str, **arguments: object) -> Screen[Any]:
        module, _, kind = SCREENS_BY_NAME[name].partition(":")
        screen: Screen[Any] = getattr(import_module(module), kind)(**arguments)
        return screen

    def open(self, name: str, **arguments: object) -> None:
        """Put the screen of this name on top, unless the program is closing. Raises KeyError for another name."""
        if not self._exit:
            self.push_screen(self._made(name, **arguments))

    # the commands that work everywhere

    def action_do(self, command_id: str) -> None:
        """Run a command: the screen's own way of it, else the program's."""
        screen = self.screen
        if hasattr(screen, f"do_{command_id}") and isinstance(screen, KeyedScreen):
            screen.action_do(command_id)
        else:
            getattr(self, f"do_{command_id}")()

    def do_back(self) -> None:
        """Leave the field, then the screen; the first screen stays."""
        if isinstance(self.screen.focused, Input):
            self.screen.set_focus(None)
        elif len(self.screen_stack) > 1:
            self.pop_screen()

    def ticks(self) -> float:
        """The clock that only runs forward."""
        return self.clock.ticks()

    async def ready_for_key(self) -> bool:
        """A key waits a moment until the screen on top stands: before that it has no parts to act on."""
        await self._stands()
        return bool(self.screen_stack)  # else the program is closing: there is nothing left to press

    async def on_event(self, event: events.Event) -> None:
        """The same for a key that comes up from a widget."""
        if isinstance(event, events.Key) and event.is_forwarded and not await self.ready_for_key():
            return
        await super().on_event(event)

    async def _stands(self) -> None:
        for _ in range(STANDS_IN_MS):
            screen = self.screen if self.screen_stack else None
            if screen is None or (screen.stands if isinstance(screen, KeyedScreen) else screen.is_mounted):
                return
            await asyncio.sleep(0.001)

    def on_key(self, event: events.Key) -> None:
        """A key that was pressed before the field it is meant for had the focus goes there all the same."""
        focused = self.focused
        if focused is not None and _missed(focused, event):
            focused.post_message(events.Key(event.key, event.character))
        elif not (isinstance(self.screen, FieldFirst) and self.screen.keep_early(event)):
            return
        event.stop()
        event.prevent_default()

    def do_help(self) -> None:
        """Help for what has the focus."""
        screen = self.screen
        if isinstance(screen, KeyedScreen):
            self.open(
                commands.HELP,
                where=screen.WHERE,
                focus_text=_help_of(screen.focused),
                screen_text=screen.HELP_TEXT,
            )

    def do_palette(self) -> None:
        """Every command by name."""
        self.action_command_palette()

    def action_command_palette(self) -> None:
        """Open the palette, with a cursor that does not blink."""
        from tui.widgets.palette import Palette

        if not self._exit and not isinstance(self.screen, Palette):
            self.push_screen(Palette(id="--command-palette"))
            self.call_after_refresh(self._steady_cursor)

    def _steady_cursor(self) -> None:
        for field in self.screen.query(Input):
            field.cursor_blink = False

    def do_theme(self) -> None:
        """From dark to light and back."""
        kin, dark = self.theme.startswith("sixteen"), self.theme.endswith("dark")
        self.theme = look.theme_for("standard" if kin else None, dark=not dark)

    def do_quit(self) -> None:
        """Close the program."""
        self.exit()

    # the way out

    def on_mount(self) -> None:
        """Let the other threads have their turn, and restore the terminal when told to end from outside."""
        if self.is_headless:
            return
        sys.setswitchinterval(TURN_S)
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None:
                with contextlib.suppress(NotImplementedError, ValueError):
                    loop.add_signal_handler(number, self._ended_by, number)

    def on_ready(self) -> None:
        """Leave what the program is made of out of what is looked through for waste: it stays anyway.

        To look through all of it takes as long as several letters typed. Nothing was looked through up to the
        first paint, which is done now (`unswept` in the command line); from here on it is.
        """
        if not self.is_headless:
            gc.freeze()
            gc.enable()

    def _ended_by(self, number: int) -> None:
        self.exit(return_code=128 + number)

    def _handle_exception(self, error: Exception) -> None:
        """Close without showing any value: Textual's own way prints the local variables."""
        self._return_code = 1
        if self._exception is not None:
            return
        self._exception = error
        fault = crash.fault_of(error)
        log = crash.write_log(self._log_folder(), crash.account(fault, self.clock.now()))
        self._told = crash.message(fault, log)
        self.panic(self._told)
        self._exception_event.set()  # the pilot of a test waits for it, to raise the error again

    def _print_error_renderables(self) -> None:
        """Print what is told of a fault, each line whole, so that the path in it can be copied."""
        if self._told:
            self.error_console.print(self._told, soft_wrap=True, markup=False, highlight=False)
            self._exit_renderables.clear()
            self._told = ""
        super()._print_error_renderables()

    def _log_folder(self) -> Path:
        if self.log_folder is not None:
            return self.log_folder
        from platformdirs import user_state_path

        return user_state_path("bothfeet", appauthor=False)


def _missed(focused: Widget, event: events.Key) -> bool:
    """Whether the widget that has the focus now would have taken a key that was given to another before."""
    if event.key == "enter":
        return bool(getattr(focused, "takes_enter", False))
    return event.is_printable and focused.check_consume_key(event.key, event.character)


def _help_of(focused: Widget | None) -> str:
    """The help of the widget that has the focus, or of what it stands in, up to the screen."""
    for node in focused.ancestors_with_self if focused is not None else ():
        text = getattr(node, "HELP_TEXT", "")
        if isinstance(node, Screen):
            return ""
        if text:
            return str(text)
    return ""
