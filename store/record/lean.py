"""An import without what the imported takes in by the way, and needs for nothing of ours, or not yet."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from importlib.util import LazyLoader, find_spec, module_from_spec
from typing import Any


@contextmanager
def without(*names: str) -> Iterator[None]:
    """Let imports within find none of these top-level modules, unless they are loaded already."""
    hidden = [name for name in names if name not in sys.modules]
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]  # None is Python's own word for "not there"
    try:
        yield
    finally:
        for name in hidden:
            del sys.modules[name]


@contextmanager
def patterns_later() -> Iterator[None]:
    """Let patterns that imports within make be compiled when something of them is first used."""
    re.compile = _Pattern  # type: ignore[assignment]  # gives what a pattern has, a little later
    try:
        yield
    finally:
        re.compile = _compile


_compile = re.compile


class _Pattern:
    """What `re.compile` gives, compiled at its first use."""

    def __init__(self, pattern: str | bytes, flags: int = 0) -> None:
        self._given = pattern, flags

    @cached_property
    def _compiled(self) -> Any:  # noqa: ANN401 - a pattern of text or of bytes
        return _compile(*self._given)

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever a pattern has
        return getattr(self._compiled, name)


def later(package: str, name: str) -> None:
    """Let a module of a package be read when something of it is first used, not when it is imported from there."""
    whole = f"{package}.{name}"
    spec = None if whole in sys.modules else find_spec(whole)
    if spec is None or spec.loader is None:
        return
    spec.loader = LazyLoader(spec.loader)
    sys.modules[whole] = module = module_from_spec(spec)
    spec.loader.exec_module(module)
    setattr(sys.modules[package], name, module)  # as an import does
