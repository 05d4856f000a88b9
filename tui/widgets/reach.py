"""Which key of a command works while something has the focus: in a field a letter is text, an F-key is not."""

from __future__ import annotations

from textual.keys import key_to_character
from textual.widget import Widget

from tui.widgets.commands import Command, spell


def in_reach(command: Command, focused: Widget | None) -> Command | None:
    """The command under the key that works now, or None when only the palette has it."""
    if focused is None or command.priority or not command.keys:
        return command
    for key in command.keys:
        if not focused.check_consume_key(key, key_to_character(key)):
            return command if key == command.keys[0] else command._replace(shown=spell(key))
        if command.each:
            break
    return None
