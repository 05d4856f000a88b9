"""A settings file as text: read as TOML without the lines that are none, and the line of each entry."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

Path = tuple[str | int, ...]
"""Where an entry stands: ("doses", "hold_firm", "sets"); tables of a list by their number from 0."""

_ENTRY = re.compile(r"""\s*[\w"'][\w\-."' ]*=""")
_AT = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$")
_QUOTES = re.compile("\"{3}|'{3}")
_MOST_WRONG = 20
"""Places with errors beyond which a file is taken for something else."""


class WrongLines(NamedTuple):
    """Lines that are no TOML and were left out, counted from 1: the one to blame, and the last.

    `whole`: nothing of the file could be read.
    """

    line: int
    last: int
    says: str
    whole: bool = False


class SettingsText(NamedTuple):
    """What could be read, the lines that could not, and the text without them."""

    data: dict[str, Any]
    wrong: tuple[WrongLines, ...]
    lines: tuple[str, ...]


def read_lenient(text: str) -> SettingsText:
    """The text as TOML; an entry or a table whose lines are no TOML is left out, and the rest holds."""
    lines = text.replace("\r\n", "\n").split("\n")
    wrong: list[WrongLines] = []
    blank: set[int] = set()
    while True:
        try:
            return SettingsText(tomllib.loads("\n".join(lines)), tuple(wrong), tuple(lines))
        except tomllib.TOMLDecodeError as error:
            says, blamed, first, last = _to_leave_out(error, lines, blank)
        if len(wrong) >= _MOST_WRONG or blank.issuperset(range(first, last + 1)):
            line = wrong[0].line if wrong else blamed + 1
            return SettingsText(
                {}, (WrongLines(line, len(lines), wrong[0].says if wrong else says, whole=True),), ()
            )
        if wrong and first - 1 in blank and not _begins(lines[first]):  # the rest of what was left out before
            wrong[-1] = wrong[-1]._replace(last=max(last + 1, wrong[-1].last))
        else:
            wrong.append(WrongLines(blamed + 1, last + 1, says))
        lines[first : last + 1] = [""] * (last + 1 - first)
        blank.update(range(first, last + 1))


def _to_leave_out(
    error: tomllib.TOMLDecodeError, lines: Sequence[str], blank: set[int]
) -> tuple[str, int, int, int]:
    """What is wrong, the index of the line to blame, and the first and last of the lines to leave out.

    They are the entry that the error stands in, or the whole table of a wrong head: without it, its entries would
    be taken for those of the table before.
    """
    found, says = _AT.search(str(error)), str(error)
    says = says[: found.start()] if found else says
    says = says[:1].lower() + says[1:]
    at = int(found[1]) - 1 if found and found[1] else len(lines) - 1
    if says.startswith("unterminated"):  # it is noticed at the end of the text only
        at = max((n for n, line in enumerate(lines) if _QUOTES.search(line)), default=at)
    before = _entry_before(lines, at, blank)
    if before is not None and not _is_toml(lines[before:at]):  # an entry that began before is not closed
        inside = not _begins(lines[at])
        return says, at if inside and found and found[1] else before, before, at if inside else at - 1
    last = at
    if _is_head(lines[at]):
        while last + 1 < len(lines) and not _is_head(lines[last + 1]):
            last += 1
    return says, at, at, last


def _entry_before(lines: Sequence[str], at: int, blank: set[int]) -> int | None:
    """The line on which the entry or table before a line begins; None where that was left out already."""
    for n in range(at - 1, -1, -1):
        if n in blank:
            return None
        if _begins(lines[n]):
            return n
    return None


def _begins(line: str) -> bool:
    """Whether an entry or a table begins on a line; one further in with a bracket may be a row of a list."""
    return line.startswith("[") or bool(_ENTRY.match(line))


def _is_head(line: str) -> bool:
    return line.lstrip().startswith("[")


def _is_toml(lines: Sequence[str]) -> bool:
    try:
        tomllib.loads("\n".join(lines))
    except tomllib.TOMLDecodeError:
        return False
    return True


# which line an entry stands on


def line_of(found: dict[Path, int], path: Path) -> int | None:
    """The line of an entry, else of what it stands in."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]]
    return None


def places(lines: Sequence[str]) -> dict[Path, int]:
    """The line, from 1, of every table and entry of a text that is TOML."""
    found: dict[Path, int] = {}
    table: Path = ()
    n = 0
    while n < len(lines):
        line, taken = lines[n], 1
        if line.lstrip().startswith("["):
            table = _table(line, found)
            found[table] = n + 1
            for length in range(1, len(table)):
                found.setdefault(table[:length], n + 1)
        elif _ENTRY.match(line):
            data, taken = _entry(lines, n)
            for path in _paths(data):
                found.setdefault(table + path, n + 1)
        n += taken
    return found


def _table(line: str, found: dict[Path, int]) -> Path:
    """Where a table stands, by its head; one of a list gets the next number."""
    names, listed = _names(tomllib.loads(line)), line.lstrip().startswith("[[")
    path: Path = ()
    for name in names:
        path = (*path, name)
        numbers = [part for at in found if at[: len(path)] == path for part in at[len(path) :][:1]]
        counted = [number for number in numbers if isinstance(number, int)]
        if listed and len([part for part in path if isinstance(part, str)]) == len(names):
            path = (*path, max(counted, default=-1) + 1)
        elif counted:
            path = (*path, max(counted))
    return path


def _names(data: Any) -> list[str]:  # noqa: ANN401 - tables in tables, and lists of one table
    if isinstance(data, list):
        return _names(data[0])
    return [name for key, value in data.items() for name in (key, *_names(value))]


def _entry(lines: Sequence[str], first: int) -> tuple[dict[str, Any], int]:
    """The entry that begins on a line, and over how many lines it goes."""
    for last in range(first, len(lines)):
        try:
            return tomllib.loads("\n".join(lines[first : last + 1])), last - first + 1
        except tomllib.TOMLDecodeError:
            continue
    return {}, 1


def _paths(data: dict[str, Any]) -> Iterator[Path]:
    for key, value in data.items():
        yield (key,)
        if isinstance(value, dict):
            yield from ((key, *path) for path in _paths(value))
