"""The home sheet from a shell: printed, saved by its ending, and what cannot be says why."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest

from store.care import home
from store.care.care import open_care
from store.care.finding import find_person, shown_episodes
from store.care.home_items import new_item
from tests.command.conftest import Shell


@pytest.fixture
def handed(shell: Shell) -> Shell:
    """R.K. of the demo has a home programme of two things, invented."""
    with closing(open_care(shell.path, shell.clock, examiner="AB")) as care:
        episode = shown_episodes(care, find_person(care, "R.K."))[0]
        held = home.home_standing(care, episode.id)
        known = care.knowledge.activities
        items = [new_item(care, known[each], episode) for each in ("band_mobilisation", "hold_firm")]
        home.issue(care, held, items, held.on)
    return shell


def test_it_is_printed_or_saved_by_the_ending(handed: Shell, tmp_path: Path) -> None:
    done = handed("sheet", "R.K.")
    assert done.status == 0
    assert done.out.startswith("YOUR ANKLE AT HOME: R.K.")
    for ending, begins in ((".html", "<!doctype html>"), (".md", "# Your ankle"), (".txt", "YOUR ANKLE")):
        out = tmp_path / f"paper{ending}"
        assert handed("sheet", "R.K.", "--out", str(out)).out == f"saved to {out}\n"
        assert out.read_text("utf-8").startswith(begins)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("R.K.", "--out", "paper.doc"), "ends in none of .txt, .md, .html, .htm, .pdf"),
        (("R.K.", "--out", "none/paper.txt"), "cannot be written"),
        (("Nobody",), "no person has the label Nobody"),
        (("J.V.",), "no home programme was handed out yet"),
        (("A.O.",), "both ankles are in an episode: say which one with --side left or --side right"),
    ],
)
def test_what_cannot_be_says_why(handed: Shell, words: tuple[str, ...], says: str) -> None:
    done = handed("sheet", *words)
    assert done.status == 2
    assert says in done.err


def test_of_two_injured_ankles_the_side_says_which(handed: Shell) -> None:
    left, right = (handed("sheet", "A.O.", "--side", side) for side in ("left", "right"))
    assert (left.status, "Left foot (the sore one)" in left.out) == (0, True)
    assert (right.status, "no home programme was handed out yet" in right.err) == (2, True)
