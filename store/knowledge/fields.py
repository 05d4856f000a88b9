"""Reading a table field by field: every error names file, table and key, and says what is wrong."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Mapping
from enum import StrEnum
from typing import Any, TypeVar

SNAKE = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
"""Lower snake case: how ids and short forms are spelled."""

_E = TypeVar("_E", bound=StrEnum)


class KnowledgeError(ValueError):
    """A table of the trade that cannot be used. The text names file, table and key, and says what is wrong.

    `table` and `key` are where, as far as that is known, and `says` is what is wrong without the where.
    """

    def __init__(self, text: str, *, table: str = "", key: str = "", says: str = "") -> None:
        super().__init__(text)
        self.table, self.key, self.says = table, key, says or text


class Row:
    """One TOML table while it is being read. What was not asked for by the end is an unknown key."""

    __slots__ = ("_data", "_file", "_table", "_used")

    def __init__(self, file: str, table: str, data: Any) -> None:  # noqa: ANN401 - whatever stands in the file
        self._file = file
        self._table = table
        if not isinstance(data, Mapping):
            what = f"a table is wanted here, not {_shown(data)}"
            raise KnowledgeError(f"{file}: [{table}]: {what}", table=table, says=what)
        self._data: Mapping[str, Any] = data
        self._used: set[str] = set()

    @property
    def table(self) -> str:
        """The table's name as errors show it."""
        return self._table

    @property
    def file(self) -> str:
        """The name of the file that it stands in."""
        return self._file

    def fault(self, key: str, what: str) -> KnowledgeError:
        """The error to raise about one key of this table."""
        return KnowledgeError(
            f"{self._file}: [{self._table}] {key}: {what}", table=self._table, key=key, says=what
        )

    def has(self, key: str) -> bool:
        """Whether the key stands in the table. To ask is to know the key."""
        self._used.add(key)
        return key in self._data

    def done(self) -> None:
        """Raise KnowledgeError when a key stands in the table that nobody asked for."""
        for key in self._data:
            if key not in self._used:
                known = ", ".join(sorted(self._used))
                raise self.fault(key, f"unknown key; the keys known here are {known}")

    def text(self, key: str, default: str | None = None) -> str:
        """A sentence or a name; without a default it must be there and not be empty."""
        value = self._take(key, default)
        if not isinstance(value, str):
            raise self.fault(key, f"text is wanted, not {_shown(value)}")
        if default is None and not value.strip():
            raise self.fault(key, "text is wanted, and it is empty")
        return value

    def number(self, key: str, default: float | None = None) -> float:
        """A finite number."""
        value = self._take(key, default)
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise self.fault(key, f"a number is wanted, not {_shown(value)}")
        return float(value)

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number of at least zero."""
        value = self._take(key, default)
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.fault(key, f"a whole number of at least 0 is wanted, not {_shown(value)}")
        return value

    def flag(self, key: str, default: bool | None = None) -> bool:
        """True or false."""
        value = self._take(key, default)
        if not isinstance(value, bool):
            raise self.fault(key, f"true or false is wanted, not {_shown(value)}")
        return value

    def word(self, key: str) -> str:
        """A name in lower snake case, or nothing."""
        value = self.text(key, "")
        if value and not SNAKE.fullmatch(value):
            raise self.fault(key, f"{value!r} is not lower snake case")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of sentences or names; none when the key is not there."""
        value = self._take(key, [])
        if not isinstance(value, list) or not all(isinstance(item, str) and item.strip() for item in value):
            raise self.fault(key, f"a list of texts is wanted, not {_shown(value)}")
        return tuple(value)

    def one_of(self, key: str, options: Collection[str], default: str | None = None) -> str:
        """A text that is one of the options."""
        value = self.text(key, default)
        if value != default and value not in options:
            raise self._unknown(key, value, options)
        return value

    def choice(self, key: str, kind: type[_E], default: _E | None = None) -> _E:
        """A text that is one of the words of an enumeration."""
        value = self.text(key, default)
        try:
            return kind(value)
        except ValueError:
            raise self._unknown(key, value, [item.value for item in kind]) from None

    def row(self, key: str) -> Row:
        """A table inside this one."""
        return Row(self._file, f"{self._table}.{key}", self._take(key, None))

    def rows(self, key: str) -> list[Row]:
        """A list of tables inside this one, numbered from 1; none when the key is not there."""
        value = self._take(key, [])
        if not isinstance(value, list):
            raise self.fault(key, f"a list of tables is wanted, not {_shown(value)}")
        return [Row(self._file, f"{self._table}.{key} {n}", item) for n, item in enumerate(value, 1)]

    def listed(self, key: str, columns: tuple[str, ...]) -> list[Row]:
        """A list of rows, each a list of cells in the order of the columns; the last ones may be left out."""
        value = self._take(key, [])
        if not isinstance(value, list):
            raise self.fault(key, f"a list of rows is wanted, not {_shown(value)}")
        found = []
        for n, cells in enumerate(value, 1):
            if not isinstance(cells, list) or len(cells) > len(columns):
                raise self.fault(f"{key} {n}", f"a row is a list of {', '.join(columns)}, not {_shown(cells)}")
            found.append(Row(self._file, f"{self._table}.{key} {n}", dict(zip(columns, cells, strict=False))))
        return found

    def _unknown(self, key: str, value: str, options: Collection[str]) -> KnowledgeError:
        return self.fault(key, f"unknown {value!r}; it can be {', '.join(options)}")

    def _take(self, key: str, default: Any) -> Any:  # noqa: ANN401 - whatever stands in the file
        self._used.add(key)
        value = self._data.get(key, default)
        if value is None:
            raise self.fault(key, "missing")
        return value


def _shown(value: object) -> str:
    """A wrong value as an error shows it: short, whatever it is."""
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."
