"""Logic of three values: yes, no, and not asked, which is unknown and never taken for no."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

Answers = Mapping[str, bool | float]
"""What was answered, by the names of the answers; what is not in it was not asked. A number that is none is no."""

Tri = bool | None


def asked(answers: Answers, key: str) -> Tri:
    """The answer to a yes or no; None where it was not asked."""
    found = answers.get(key)
    return None if found is None else bool(found)


def number(answers: Answers, key: str) -> float | None:
    """The answer to a number; None where it was not asked, or was answered with none."""
    found = answers.get(key)
    return None if found is None or isinstance(found, bool) else float(found)


def any_of(parts: Iterable[Tri]) -> Tri:
    """Yes where one is yes, no where all are no, else unknown (Kleene's strong logic)."""
    parts = list(parts)
    if any(part is True for part in parts):
        return True
    return None if any(part is None for part in parts) else False


def all_of(parts: Iterable[Tri]) -> Tri:
    """No where one is no, yes where all are yes, else unknown."""
    parts = list(parts)
    if any(part is False for part in parts):
        return False
    return None if any(part is None for part in parts) else True


def not_(part: Tri) -> Tri:
    """The opposite; unknown stays unknown."""
    return None if part is None else not part
