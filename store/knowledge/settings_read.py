"""A clinic's settings from the text of its file. What cannot be used is told with its line; the default holds."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.settings import CLOT_FORMS, NOTHING_SET, PEDAL, THEMES, Settings, Sound
from store.knowledge.settings_draft import Draft, not_known, row_of
from store.knowledge.settings_text import read_lenient

if TYPE_CHECKING:
    from store.knowledge.load import Knowledge

EXAMINER_MOST, CLINIC_MOST, LETTER_MOST = 40, 60, 120
"""Characters of an examiner's name, of the clinic's line, and of whom letters go to."""

SLOT_LEAST, SLOT_MOST = 5, 240
"""Minutes of a slot (common practice)."""

_PEDAL_KEYS = re.compile(r"[a-z]|f([1-9]|1\d|2[0-4])|tab|home|end|insert|delete|backspace|page(up|down)")
_TAKEN = frozenset({"p", "x", "u", "b", "f1", "f9"})
"""Keys that mean something else in a bout."""


def read_settings(text: str, known: Knowledge) -> Settings:
    """The settings in a text, held against what the program knows. Never raises: what is wrong is in `faults`."""
    draft = Draft(read_lenient(text), known)
    for key in draft.data:
        if key not in ENTRIES:
            draft.unknown((key,), sorted(ENTRIES), "the settings")
    for key, read in _PLAIN.items():
        if key in draft.data:
            with draft.entry(key):
                value = read(row_of((), draft.data), key)
                draft.changed((key,), said(getattr(NOTHING_SET, key)), said(value))
                entry: dict[str, Any] = {key: value}
                draft.settings = draft.settings._replace(**entry)
    _sound(draft)
    # Each is imported only where its tables stand in the file: most files have none, and the start is short.
    if not ADDED.isdisjoint(draft.data):
        from store.knowledge.settings_added import read_added

        read_added(draft)
    if not TABLES.isdisjoint(draft.data):
        from store.knowledge.settings_tables import lay_over

        lay_over(draft)
    return draft.whole()


def said(value: object) -> str:
    """A plain value in words."""
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value) or "not set"


def _sound(draft: Draft) -> None:
    for key, value in draft.table("sound").items():
        if key not in Sound._fields:
            draft.unknown(("sound", key), Sound._fields, "the sounds")
            continue
        with draft.entry("sound", key):
            on = row_of(("sound",), {key: value}).flag(key)
            draft.changed(("sound", key), said(getattr(Sound(), key)), said(on))
            draft.settings = draft.settings._replace(sound=draft.settings.sound._replace(**{key: on}))


# entries of their own


def _line(most: int) -> Callable[[Row, str], str]:
    def read(row: Row, key: str) -> str:
        text = " ".join(row.text(key, "").split())
        if len(text) > most or not text.isprintable():
            raise row.fault(key, f"at most {most} characters, and none that cannot be printed")
        return text

    return read


def _slot(row: Row, key: str) -> int:
    minutes = row.whole(key)
    if not SLOT_LEAST <= minutes <= SLOT_MOST:
        raise row.fault(key, f"{SLOT_LEAST} to {SLOT_MOST} minutes are wanted, not {minutes}")
    return minutes


def _pedal(row: Row, key: str) -> str:
    name = row.text(key).strip().lower()
    if name == PEDAL:
        return name
    if name in _TAKEN:
        raise row.fault(key, f"{name} means something else in a timer: choose another key")
    if not _PEDAL_KEYS.fullmatch(name):
        raise row.fault(key, f"{name[:20]!r} is no key for it; it can be a letter, f2 to f24, tab, home, end, "
                             "insert, delete, backspace, pageup, pagedown or space")  # fmt: skip
    return name


def _one_of(names: tuple[str, ...], what: str) -> Callable[[Row, str], str]:
    def read(row: Row, key: str) -> str:
        name = row.text(key)
        if name not in names:
            raise KnowledgeError("", key=key, says=not_known(name, names, what))
        return name

    return read


def _flag(row: Row, key: str) -> bool:
    return row.flag(key)


_PLAIN: dict[str, Callable[[Row, str], object]] = {
    "examiner": _line(EXAMINER_MOST),
    "clinic": _line(CLINIC_MOST),
    "slot_min": _slot,
    "pedal_key": _pedal,
    "theme": _one_of(THEMES, "the themes"),
    "blind_retest": _flag,
    "next_set_by_itself": _flag,
    "clot_form": _one_of(CLOT_FORMS, "the forms of the clot score"),
    "letter_to": _line(LETTER_MOST),
}

ADDED = frozenset({"sources", "measures", "activities"})
TABLES = frozenset({"errors", "fresh_days", "doses", "criteria", "running", "plan", "first_plan"})
ENTRIES = (*_PLAIN, "sound", *ADDED, *TABLES)
"""What a settings file may hold."""
