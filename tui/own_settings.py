"""The clinic's settings as the command line takes them: read, their faults told, and the verb that prints them."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from store.knowledge.settings import Settings

WRONG = 2
"""Exit status where something in the file cannot be used."""

Say = Callable[[str, TextIO | None], None]
"""How lines are printed."""


def settings_of(say: Say | None = None) -> Settings:
    """The clinic's settings; what is wrong in their file is told where it can be, and the rest of it holds."""
    from store.care.own_settings import fault_lines, own_settings

    found = own_settings(settings_named())
    if say is not None:
        for line in fault_lines(found):
            say(f"bothfeet: {line}", sys.stderr)
    return found


def settings_named() -> Path | None:
    """The settings file that the environment names; None for the default one."""
    named = os.environ.get("BOTHFEET_SETTINGS")
    return Path(named) if named else None


def settings(options: Namespace) -> int:
    """Print where the settings file is and what it changes, or a file to start from."""
    from store.care import own_settings as told
    from store.care.in_words import visible

    if options.example:
        print(told.example_text(), end="")
        return 0
    path, found = told.settings_path(settings_named()), settings_of()
    if options.json:
        from store.care.as_data import json_text

        print(json_text(told.settings_data(path, found)))
    else:
        print("\n".join(visible(line) for line in told.settings_text(path, found).split("\n")))
    return WRONG if found.faults else 0
