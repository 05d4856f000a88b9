"""A frozen object with some of its parts changed: a bout's fold does this with every event."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

T = TypeVar("T")


def replace(one: T, **changes: Any) -> T:  # noqa: ANN401 - the parts of any object
    """The same as dataclasses.replace, in half the time; for dataclasses whose every part is given to init."""
    kind: Any = type(one)
    get, places = _parts(kind)
    parts = list(get(one))
    for name, value in changes.items():
        parts[places[name]] = value
    made: T = kind(*parts)
    return made


@cache
def _parts(kind: Any) -> tuple[attrgetter[tuple[Any, ...]], dict[str, int]]:  # noqa: ANN401 - a dataclass
    names = [field.name for field in fields(kind)]
    return attrgetter(*names), {name: at for at, name in enumerate(names)}
