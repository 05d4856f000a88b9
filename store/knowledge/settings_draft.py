"""Settings while they are being read: what holds so far, what it changes, and what was wrong and where."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.settings import NOTHING_SET, Change, SettingFault, Settings
from store.knowledge.settings_text import Path, SettingsText, line_of, places

if TYPE_CHECKING:
    from store.knowledge.criteria import Stage, StageCriteria
    from store.knowledge.kinds import Activity, Measure, Source
    from store.knowledge.load import Knowledge

FILE = "settings"
"""What errors call the file; its own name stands beside them."""


_THEN = {
    "plan": "the standard plan holds",
    "first_plan": "the usual plan of the first days holds",
    "measures": "it is left out",
    "activities": "it is left out",
    "sources": "it is left out",
}
"""What holds where there is no default of an entry by itself."""

_WHERE = re.compile(r"[\w./]+: \[[^\]]*\] ?[\w ]*: ")
"""Where an error is, in words that speak of the program's own tables."""


class Draft:
    """What a settings file comes to, entry by entry. One that is wrong is noted, and the rest goes on."""

    def __init__(self, text: SettingsText, known: Knowledge) -> None:
        self.data = text.data
        self.known = known
        self.settings = NOTHING_SET
        self.measures: dict[str, Measure] = {}
        self.activities: dict[str, Activity] = {}
        self.criteria: dict[Stage, StageCriteria] = {}
        self.sources: dict[str, Source] = {}
        self._changes: list[tuple[Path, str, str]] = []
        self._faults: list[tuple[Path, str]] = []
        self._text = text

    # the parts

    def table(self, key: str) -> dict[str, Any]:
        """A table of the file; none where it is not there, or is no table, which is noted."""
        value = self.data.get(key, {})
        if isinstance(value, dict):
            return value
        self.wrong((key,), f"a table is wanted: [{key}] on a line of its own")
        return {}

    @contextmanager
    def entry(self, *path: str | int) -> Iterator[None]:
        """What is wrong with an entry is noted, and it keeps its default."""
        try:
            yield
        except KnowledgeError as error:
            where = path_of(error)
            self.wrong(where if where[: len(path)] == path else path, _WHERE.sub("", error.says, count=1))

    def wrong(self, path: Path, says: str) -> None:
        """Note what is wrong with an entry."""
        self._faults.append((path, says))

    def changed(self, path: Path, default: str, now: str) -> None:
        """Note what an entry changes; nothing where it says the default."""
        if default != now:
            self._changes.append((path, default, now))

    def unknown(self, path: Path, known: Collection[str], what: str) -> None:
        """Note a name that is not known, with the one that is perhaps meant."""
        self.wrong(path, not_known(str(path[-1]), known, what))

    # the whole

    def whole(self) -> Settings:
        """The settings, with the lines of what changes and of what is wrong."""
        found = places(self._text.lines) if self._changes or self._faults else {}
        changes = [Change(words(path), was, now, line_of(found, path)) for path, was, now in self._changes]
        faults = [
            SettingFault(words(path), says, line_of(found, path), _THEN.get(str(path[0]), "the default holds"))
            for path, says in self._faults
        ]
        return self.settings._replace(
            measures=self.measures,
            activities=self.activities,
            criteria=self.criteria,
            sources=self.sources,
            changes=tuple(sorted(changes, key=lambda one: one.line or 0)),
            faults=tuple(sorted([*self._no_toml(), *faults], key=lambda one: one.line or 0)),
        )

    def _no_toml(self) -> Iterator[SettingFault]:
        for wrong in self._text.wrong:
            also = f" (left out up to line {wrong.last})" if wrong.last > wrong.line and not wrong.whole else ""
            then = (
                "nothing of the file could be read, and the defaults hold" if wrong.whole else "the default holds"
            )
            yield SettingFault("", f"this is no TOML: {wrong.says}{also}", wrong.line, then)


def not_known(name: str, known: Collection[str], what: str) -> str:
    """That a name is not known, with what is: the nearest, or all of a few."""
    from difflib import get_close_matches  # of no use to a file without a slip

    near = get_close_matches(name, known, n=1)
    hint = f"; did you mean {near[0]}?" if near else ""
    listed = f"; {what} are {', '.join(known)}" if len(known) <= 20 else ""
    return f"not one of {what}{hint or listed}"


def row_of(path: Path, data: Any) -> Row:  # noqa: ANN401 - whatever stands in the file
    """A table of the file, to be read field by field."""
    return Row(FILE, ".".join(str(part) for part in path), data)


def path_of(error: KnowledgeError) -> Path:
    """Where an error stands: the tables of a list are numbered from 1 in its words, and from 0 in a path."""
    found: list[str | int] = []
    for part in (*error.table.split("."), error.key):
        named = re.fullmatch(r"(.*?)(?: (\d+))?", part)
        if part and named:
            found += [named[1]] if named[1] else []
            found += [int(named[2]) - 1] if named[2] else []
    return tuple(found)


def words(path: Path) -> str:
    """Where an entry stands, as it is told."""
    found = ""
    for part in path:
        found += f" {part + 1}" if isinstance(part, int) else f"{'.' if found else ''}{part}"
    return found
