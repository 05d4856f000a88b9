"""The tables of one kind, spread over the files of a folder and each read when it is first asked for.

To read all measures takes long, and a list of people shows few of them: the folder is cut at the heads of its
tables, which costs next to nothing, and only what is used is read as TOML.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

from store.knowledge.fields import KnowledgeError, Row

_HEAD = re.compile(r"^\[([^\[\].\n]+)\][ \t]*(?:#.*)?$", re.MULTILINE)
"""The head of a table that is in no other one."""

_CALLED = re.compile(r"^(?:name|short_forms)[ \t]*=.*$", re.MULTILINE)
"""What a table is called by, each on a line of its own."""

_T = TypeVar("_T")


class Cut(NamedTuple):
    """One table as text, with its file's name as errors give it."""

    file: str
    text: str


class Shelf(Mapping[str, _T], Generic[_T]):
    """Things by id, in the order of the names of the files and of the tables in each.

    `make` turns id and row into the thing. A table that is wrong raises KnowledgeError when it is first asked for.
    """

    def __init__(self, folder: Path, make: Callable[[str, Row], _T]) -> None:
        self._cuts = cuts(folder)
        self._make = make
        self._made: dict[str, _T] = {}

    def __getitem__(self, key: str) -> _T:
        """The thing of this id. Raises KeyError, or KnowledgeError when its table is wrong."""
        if key not in self._made:
            cut = self._cuts[key]
            self._made[key] = self._make(key, Row(cut.file, key, read_toml(cut.file, cut.text)[key]))
        return self._made[key]

    def called(self) -> Iterator[tuple[str, str, tuple[str, ...]]]:
        """Id, name and short forms of every table: to read these lines alone takes a tenth of the time."""
        for key, cut in self._cuts.items():
            own = cut.text.partition("\n[")[0]  # without the tables inside it, which have names as well
            row = Row(cut.file, key, read_toml(cut.file, "\n".join(_CALLED.findall(own))))
            yield key, row.text("name"), row.texts("short_forms")

    def __contains__(self, key: object) -> bool:
        """Whether there is a table of this id. Nothing is read."""
        return key in self._cuts

    def __iter__(self) -> Iterator[str]:
        """The ids. Nothing is read."""
        return iter(self._cuts)

    def __len__(self) -> int:
        """How many tables there are. Nothing is read."""
        return len(self._cuts)


class Laid(Mapping[str, _T], Generic[_T]):
    """A shelf with a clinic's own laid over it: what stands in both is theirs, what they added comes last."""

    def __init__(self, below: Mapping[str, _T], own: Mapping[str, _T]) -> None:
        self._below, self._own = below, own
        self._added = [key for key in own if key not in below]

    def __getitem__(self, key: str) -> _T:
        """The thing of this id. Raises KeyError, or KnowledgeError when its table is wrong."""
        return self._own[key] if key in self._own else self._below[key]

    def __contains__(self, key: object) -> bool:
        """Whether there is one of this id. Nothing is read."""
        return key in self._own or key in self._below

    def __iter__(self) -> Iterator[str]:
        """The ids. Nothing is read."""
        yield from self._below
        yield from self._added

    def __len__(self) -> int:
        """How many there are. Nothing is read."""
        return len(self._below) + len(self._added)


def cuts(folder: Path) -> dict[str, Cut]:
    """The tables of all files of a folder, as text. Raises KnowledgeError, on the same id twice too."""
    found: dict[str, Cut] = {}
    for path in sorted(folder.glob("*.toml")):
        file = f"{folder.name}/{path.name}"
        for key, text in _tables(file, read_text(path, file)):
            if key in found:
                raise KnowledgeError(f"{file}: [{key}]: it stands in {found[key].file} already")
            found[key] = Cut(file, text)
    if not found:
        raise KnowledgeError(f"{folder.name}: no table stands in this folder")
    return found


def _tables(file: str, text: str) -> Iterator[tuple[str, str]]:
    heads = list(_HEAD.finditer(text))
    before = text[: heads[0].start()] if heads else text
    for key, value in read_toml(file, before).items():
        Row(file, key, value)  # nothing but comments may stand before the first table
        raise KnowledgeError(f"{file}: [{key}]: its head is not understood: write [{key}] on a line of its own")
    ends = [head.start() for head in heads[1:]] + [len(text)]
    for head, end in zip(heads, ends, strict=True):
        yield head[1].strip(), text[head.start() : end]


def read_text(path: Path, file: str) -> str:
    """A file as text. Raises KnowledgeError with the name given."""
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise KnowledgeError(f"{file}: cannot be read: {error.strerror or error}") from error
    except ValueError as error:
        raise KnowledgeError(f"{file}: is no TOML text: {error}") from error


def read_toml(file: str, text: str) -> dict[str, Any]:
    """A text as TOML. Raises KnowledgeError."""
    if not text.strip():
        return {}
    import tomllib  # costs some milliseconds, which a program that shows no table need not pay

    try:
        return tomllib.loads(text)
    except ValueError as error:
        raise KnowledgeError(f"{file}: is no TOML text: {error}") from error
