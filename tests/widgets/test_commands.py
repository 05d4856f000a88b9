from __future__ import annotations

import re
from collections import Counter

import pytest
from textual.binding import Binding

from tui.widgets import commands
from tui.widgets.commands import COMMANDS, GROUPS, SCREENS

# These cannot be told apart from another key, or mean something to the terminal or to Textual itself.
TRAPS = {
    "ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "ctrl+c", "ctrl+z", "ctrl+s", "ctrl+space", "ctrl+slash", "ctrl+enter",
    "shift+enter", "f10", "f11",
}  # fmt: skip
IN_A_FIELD = {"ctrl+a", "ctrl+e", "ctrl+d", "ctrl+w", "ctrl+u", "ctrl+f", "ctrl+k", "ctrl+x", "ctrl+v"}


@pytest.mark.parametrize("screen", SCREENS)
def test_no_key_means_two_things_on_one_screen(screen: str) -> None:
    keys = Counter(key for command in commands.on(screen) for key in command.keys)
    assert [key for key, times in keys.items() if times > 1] == []


def test_a_key_means_the_same_on_every_screen() -> None:
    meanings: dict[str, set[str]] = {}
    for command in COMMANDS:
        for key in command.keys:
            meanings.setdefault(key, set()).add(command.id)
    # Space is "on" in a visit and in the timer; the pad's star is ten for a pain and the other side for a trial.
    # The safety screen is answered by y and n, space takes an answer out, and digits make a figure as in a pain.
    twice = {key: ids for key, ids in meanings.items() if len(ids) > 1}
    figures = {digit: {"pain", "figure"} for digit in "0123456789"}
    answers = {"y": {"copy", "answer"}, "n": {"note", "answer"}}
    assert twice == {"space": {"next", "on", "unasked"}, "asterisk": {"pain", "swap"}} | figures | answers


def test_no_key_that_never_arrives_or_that_a_field_needs() -> None:
    keys = {key for command in COMMANDS for key in command.keys}
    assert not keys & (TRAPS | IN_A_FIELD)


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_each_command_is_explained(command: commands.Command) -> None:
    assert re.fullmatch(r"[A-Z].+\.", command.says)
    assert 0 < len(command.label) <= 16
    assert command.group in GROUPS
    assert set(command.where) <= set(SCREENS)


def test_each_function_key_has_a_second_way() -> None:
    for command in COMMANDS:
        if any(re.fullmatch(r"f\d+", key) for key in command.keys):
            assert len(command.keys) > 1, command.id


def test_ids_are_unique() -> None:
    assert len({command.id for command in COMMANDS}) == len(COMMANDS)
    with pytest.raises(KeyError):
        commands.get("dance")


def test_bindings_carry_help_and_hand_on_the_key_where_it_matters() -> None:
    bound = {each.key: each for each in commands.bindings(commands.BOUT) if isinstance(each, Binding)}
    assert bound["space"].action == "do('on')"
    assert bound["7"].action == "do('pain', '7')"
    assert bound["x"].tooltip == commands.get("end").says
    everywhere = {each.key for each in commands.bindings_everywhere() if isinstance(each, Binding)}
    assert {"escape", "f1", "question_mark", "ctrl+p"} <= everywhere


def test_the_table_names_every_command() -> None:
    table = commands.keys_table()
    assert table.count("\n") == len(COMMANDS) + 2
    for command in COMMANDS:
        assert command.says in table
    assert "| `F1` | `?` | everywhere |" in table
    assert "| `0-9 *` |  | timer |" in table
