"""What the reader of the command line found wrong, in plain words: it speaks of arguments, choices and values.

Read only where something is wrong. What is worded otherwise, as by another Python, is left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable

_Said = Callable[[re.Match[str]], str]


def in_plain_words(message: str) -> str:
    """One sentence of the reader, said again without the words of programmers."""
    for pattern, says in _SENTENCES:
        match = pattern.fullmatch(message)
        if match is not None:
            return says(match)
    return message


def _no_choice(match: re.Match[str]) -> str:
    choices = [_bare(one) for one in match["choices"].split(", ")]
    return f"{match['name']} {_bare(match['value'])} is not known: type {_listed(choices, 'or')}"


def _left_over(match: re.Match[str]) -> str:
    words = match["words"]
    be, it = ("are", "them") if " " in words else ("is", "it")
    return f"{words} {be} not understood: leave {it} out"


def _missing(match: re.Match[str]) -> str:
    names = match["names"].split(", ")
    return f"{_listed(names, 'and')} {'is' if len(names) == 1 else 'are'} missing"


def _bare(text: str) -> str:
    """Without the quotes of a programmer."""
    quoted = len(text) > 1 and text[0] == text[-1] and text[0] in "'\""
    return text[1:-1] if quoted else text


def _listed(words: list[str], joined: str) -> str:
    return f" {joined} ".join(filter(None, (", ".join(words[:-1]), words[-1])))


_SENTENCES: tuple[tuple[re.Pattern[str], _Said], ...] = tuple(
    (re.compile(pattern, re.DOTALL), says)
    for pattern, says in (
        (r"argument (?P<name>\S+): invalid choice: (?P<value>.+) \(choose from (?P<choices>.+)\)", _no_choice),
        (r"unrecognized arguments: (?P<words>.+)", _left_over),
        (r"the following arguments are required: (?P<names>.+)", _missing),
        (
            r"argument (?P<name>\S+): expected (one|at least one) argument",
            lambda match: f"something is missing behind {match['name']}",
        ),
        (
            r"argument (?P<name>\S+): ignored explicit argument (?P<value>.+)",
            lambda match: f"{match['name']} takes nothing behind it: leave {_bare(match['value'])} out",
        ),
    )
)
