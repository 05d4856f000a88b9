"""A slip on the command line is told in plain words, whatever the reader of it calls it."""

from __future__ import annotations

import re

import pytest

from tests.command.conftest import Shell
from tui.command import VERBS
from tui.in_plain_words import in_plain_words

PROGRAMMERS = re.compile(r"\bargument|\binvalid|\bint\b|\bvalue\b|\bchoice|\brequired|\bexpected\b|\bNone\b|\[|'")
"""Words of a programmer, and signs of them."""


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["serve", "--port", "abc"], "--port abc is no port: type one from 1 to 65535, as 8000"),
        (["serve", "--port", "0"], "--port 0 is no port: type one from 1 to 65535, as 8000"),
        (["serve", "--port", "65536"], "--port 65536 is no port: type one from 1 to 65535, as 8000"),
        (["serve", "--port", "٨٠٠٠"], "--port ٨٠٠٠ is no port: type one from 1 to 65535, as 8000"),
        (["serve", "--port", "8_000"], "--port 8_000 is no port: type one from 1 to 65535, as 8000"),
        (["show", "R.K.", "--on", "tomorrow"], "--on tomorrow is no day: type it as 2026-12-24"),
        (["show", "R.K.", "--on", ""], "nothing stands behind --on: type a day, as 2026-12-24"),
        (["show", "R.K.", "--visits", "many"], "--visits many is no number: type how many visits, as 5, or all"),
        (
            ["show", "R.K.", "--side", "both"],
            "--side both is not known: type left or right: `bothfeet show --help` tells what to type",
        ),
        (
            ["export", "R.K.", "--to", "xml", "--out", "-"],
            "--to xml is not known: type csv, json, fhir or ics: `bothfeet export --help` tells what to type",
        ),
        (
            ["export", "R.K."],
            "--to and --out are missing: `bothfeet export --help` tells what to type",
        ),
        (["add", "R.K."], "LINE is missing: `bothfeet add --help` tells what to type"),
        (
            ["show", "R.K.", "--on"],
            "something is missing behind --on: `bothfeet show --help` tells what to type",
        ),
        (
            ["show", "--json=yes"],
            "--json takes nothing behind it: leave yes out: `bothfeet show --help` tells what to type",
        ),
        (
            ["show", "R.K.", "more", "yet"],
            "more yet are not understood: leave them out: `bothfeet show --help` tells what to type",
        ),
        (["--nonsense"], "--nonsense is not understood: leave it out: `bothfeet --help` tells what to type"),
    ],
)
def test_a_slip_is_told_in_plain_words(shell: Shell, words: list[str], says: str) -> None:
    done = shell(*words)
    assert (done.status, done.out, done.err) == (2, "", f"bothfeet: {says}\n")
    assert not PROGRAMMERS.search(done.err)


@pytest.mark.parametrize("verb", VERBS)
@pytest.mark.parametrize(
    "slip", [["--nonsense"], ["--file"], ["--examiner"], ["--side", "both"], ["--no-sound=1"]]
)
def test_no_verb_speaks_in_words_of_programmers(shell: Shell, verb: str, slip: list[str]) -> None:
    done = shell(verb, *slip)
    assert (done.status, done.out) == (2, "")
    assert not PROGRAMMERS.search(done.err)


def test_what_it_does_not_know_is_left_as_it_is() -> None:
    assert in_plain_words("something else") == "something else"
    assert in_plain_words("argument --side: invalid choice: 'x' (choose from left, right)") == (
        "--side x is not known: type left or right"
    )
