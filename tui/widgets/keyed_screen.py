"""A screen whose keys come from the registry: it runs commands, or says why one cannot run.

The handlers are named `_on_...`: Textual calls them beside the `on_...` of a subclass, neither replaces the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

from textual import events, on
from textual.content import Content
from textual.css.query import NoMatches
from textual.geometry import Size
from textual.screen import Screen
from textual.widget import Widget

from tui.widgets import commands
from tui.widgets.commands import Command
from tui.widgets.key_line import KeyLine
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.reach import in_reach
from tui.widgets.shell import Shell

if TYPE_CHECKING:
    from tui.widgets.again import Again

Result = TypeVar("Result")
SMALLEST = (60, 20)


class Enlarge(Widget):
    """Covers a screen that has too little room to be read; what runs below goes on, under its own keys alone."""

    DEFAULT_CSS = """
    Enlarge {
        layer: over; dock: top; width: 100%; height: 100%; display: none;
        content-align: center middle; background: $ground; color: $ink;
    }
    """

    def render(self) -> Content:
        """How large it is, and how large it must be."""
        now, least = self.screen.size, SMALLEST
        return Content.assemble(
            ("Please enlarge the window", mark(Role.INK, bold=True)),
            (f"\n{now.width} x {now.height} now, {least[0]} x {least[1]} at least.", mark(Role.QUIET)),
            ("\nWhat runs goes on.", mark(Role.QUIET)),
        )


class KeyedScreen(Screen[Result]):
    """Base of the screens. A subclass sets WHERE and `BINDINGS = commands.bindings(WHERE)`, and has one method
    `do_<id>` for each command of its own that can run; one whose command has `each` takes the key as argument.
    """

    WHERE: ClassVar[str] = ""
    HELP_TEXT: ClassVar[str] = ""
    DEFAULT_CSS = """
    KeyedScreen { layers: below over; background: $ground; color: $ink; }
    KeyedScreen.-small > Enlarge { display: block; }
    """

    _covered: Widget | None = None

    @property
    def shell(self) -> Shell:
        """The application this screen stands in."""
        return cast("Shell", self.app)

    @cached_property
    def again(self) -> Again:
        """What was asked here last, that the same key answers. What is asked on a screen is asked through it."""
        from tui.widgets.again import Again  # not for the first paint

        return Again(self.shell.clock.ticks)

    # what a screen may override

    @property
    def stands(self) -> bool:
        """Whether it has its parts, so that a key can be given to them."""
        return self.is_mounted

    def why_not(self, command_id: str) -> str | None:
        """The sentence why a command cannot run in this state, or None when it can."""
        del command_id
        return None

    def keys_now(self) -> Sequence[str | Command]:
        """The commands that matter in this state, the most important first."""
        return [
            command.id for command in commands.on(self.WHERE) if command.id not in ("palette", "theme", "quit")
        ]

    # what it does

    def action_do(self, command_id: str, key: str = "") -> None:
        """Run a command, or say why it cannot run."""
        command = commands.get(command_id)
        if self.has_class("-small") and not self._works_unseen(command):
            return  # what is covered shall not be changed unseen
        for line in self.query(MessageLine):  # what was said belongs to the act before
            line.clear()
        reason = self.why_not(command_id)
        act = getattr(self, f"do_{command_id}", None)
        if reason:
            self.say(reason)
        elif act is not None:
            act(key) if command.each else act()
            self.refresh_keys()
        elif not command.where:
            self.app.call_later(self.app.run_action, f"app.do('{command_id}')")
        else:
            self.say(f"{command.label} works on: {', '.join(commands.SCREENS[name] for name in command.where)}.")

    def _works_unseen(self, command: Command) -> bool:
        """Whether a command runs under the cover: that of the program, and in the timer, where a bout goes on."""
        return command.group == "program" or (command.group == "timer" and self.WHERE == commands.BOUT)

    def say(self, text: str, kind: Kind = Kind.NOTE, *, undo: bool = False) -> None:
        """Say something on the message line, or as a passing notice on a screen that has none."""
        try:
            self.query_one(MessageLine).say(text, kind, undo=undo)
        except NoMatches:
            self.app.notify(text, markup=False)

    def do_jump(self) -> None:
        """Put a letter on each part, on a screen that has more than one."""
        from tui.widgets.jump import Jump  # mounted when it is first asked for: no first paint waits for it

        there = self.query(Jump)
        jump = there.first() if there else Jump()
        if not there:
            self.mount(jump)
        if not jump.begin():
            self.say("Nothing is here to go to.")

    def refresh_keys(self) -> None:
        """Bring the key line in step with the state."""
        lines = self.query(KeyLine)
        if not lines:
            return
        wanted = [commands.get(each) if isinstance(each, str) else each for each in self.keys_now()]
        shown = [found for each in wanted if (found := in_reach(each, self.focused)) is not None]
        barred = [each.id for each in shown if self.why_not(each.id)]
        lines.first().show(shown, barred)

    @on(KeyLine.Pressed)
    def _key_clicked(self, event: KeyLine.Pressed) -> None:
        event.stop()
        if event.command.each:
            self.say(f"Press {event.command.key}.")
        else:
            self.action_do(event.command.id)

    async def _on_compose(self, event: events.Compose) -> None:
        """Take the classes of the room there is before the parts are given styles: Textual does it after."""
        del event
        width, height = self.app.size
        for points, room in ((self.HORIZONTAL_BREAKPOINTS, width), (self.VERTICAL_BREAKPOINTS, height)):
            fitting = [name for least, name in points or () if room >= least]
            self.add_class(*fitting[-1:])

    def _on_mount(self, event: events.Mount) -> None:
        del event
        self.call_after_refresh(self.refresh_keys)

    def _on_screen_resume(self, event: events.ScreenResume) -> None:
        if not self.stack_updates:
            event.refresh_styles = False  # the parts of a new screen have just been given theirs
        self.refresh_keys()

    def _on_screen_suspend(self) -> None:
        if "again" in self.__dict__ and self.again.about:  # what is asked here is out of sight
            self.again.take_back()
            for line in self.query(MessageLine):
                line.clear()

    def _on_descendant_focus(self, event: events.DescendantFocus) -> None:
        del event
        if self.has_class("-small"):
            self._take_focus()
        self.refresh_keys()

    def _on_descendant_blur(self, event: events.DescendantBlur) -> None:
        del event
        self.refresh_keys()

    def _screen_resized(self, size: Size) -> None:
        """Lay out anew in another size only: Textual does it again with each news of the same."""
        if size != self._size:  # for which it was laid out last; `size` is the application's
            super()._screen_resized(size)

    async def _on_resize(self, event: events.Resize) -> None:
        small = event.size.width < SMALLEST[0] or event.size.height < SMALLEST[1]
        if small and not self.query(Enlarge):
            self.mount(Enlarge())
        self.set_class(small, "-small")
        if small:
            self._take_focus()
        elif self._covered is not None:
            self.set_focus(self._covered)
            self._covered = None

    def _take_focus(self) -> None:
        """While it is covered no field takes keys; the one that had the focus has it again after."""
        if self.focused is not None:
            self._covered = self.focused
            self.set_focus(None)


def unmet(screen: type[KeyedScreen[Result]]) -> list[str]:
    """The commands of a screen that it has no method for and that do not say why. For a test of each screen."""
    return [
        command.id
        for command in commands.COMMANDS
        if command.where and command.works_on(screen.WHERE)
        if not hasattr(screen, f"do_{command.id}")
    ]
