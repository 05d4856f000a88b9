"""Note and letter from a shell: printed, saved by the ending, addressed, and what cannot be says why."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import pytest

from store.care.addressing import address
from store.care.finding import find_person, shown_episodes
from tests.command.conftest import Shell


def test_a_note_is_printed_or_saved_by_the_ending(shell: Shell, tmp_path: Path) -> None:
    assert "SUBJECTIVE" in shell("note", "R.K.").out
    for ending, begins in ((".html", b"<!DOCTYPE html>"), (".md", b"# visit note"), (".pdf", b"%PDF")):
        out = tmp_path / f"note{ending}"
        assert shell("note", "R.K.", "--out", str(out)).out == f"saved to {out}\n"
        assert out.read_bytes().startswith(begins)


def test_the_letter_goes_to_whom_is_named_else_to_whom_the_settings_say(shell: Shell) -> None:
    assert "To:" not in shell("letter", "R.K.").out
    shell.settings('letter_to = "Dr N. N."\n')
    assert "\nTo: Dr N. N.\n" in shell("letter", "R.K.").out
    assert "\nTo: the coach\n" in shell("letter", "R.K.", "--to", "the coach").out
    assert "To:" not in shell("letter", "R.K.", "--to", "").out
    done = shell("letter", "R.K.", "--to", "x" * 121)
    assert (done.status, "at most 120 characters" in done.err) == (2, True)


def test_the_letter_goes_to_whom_the_episode_names_and_a_name_in_the_line_is_for_this_one_only(
    shell: Shell,
) -> None:
    shell.settings('letter_to = "Dr N. N."\n')
    with closing(shell.care()) as care:
        [episode] = shown_episodes(care, find_person(care, "R.K."))
        address(care, episode.id, "the club's doctor")
    assert "\nTo: the club's doctor\n" in shell("letter", "R.K.").out
    assert "\nTo: the coach\n" in shell("letter", "R.K.", "--to", "the coach").out
    assert "\nTo: the club's doctor\n" in shell("letter", "R.K.").out


@pytest.mark.parametrize("verb", ["note", "letter"])
@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("R.K.", "--out", "paper.doc"), "ends in none of .txt, .md, .html, .htm, .pdf"),
        (("R.K.", "--out", "none/paper.txt"), "cannot be written"),
        (("R.K.", "--out", "/dev/null.d/x.html"), "cannot be written"),
        (("R.K.", "--out", "x" * 300 + ".txt"), "File name too long"),
        (("Nobody",), "no person has the label Nobody"),
    ],
)
def test_what_cannot_be_says_why(shell: Shell, verb: str, words: tuple[str, ...], says: str) -> None:
    done = shell(verb, *words)
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert "Traceback" not in done.err


@pytest.mark.parametrize("verb", ["note", "letter", "sheet"])
def test_a_file_that_is_there_is_replaced_only_when_asked(shell: Shell, tmp_path: Path, verb: str) -> None:
    out = tmp_path / "paper.txt"
    out.write_text("mine", encoding="utf-8")
    done = shell(verb, "R.K.", "--out", str(out))
    assert (done.status, done.out) == (2, "")
    assert done.err == f"bothfeet: {out} is there already and stays as it is: name another file, or add --force\n"
    assert out.read_text("utf-8") == "mine"
    assert shell(verb, "R.K.", "--out", str(out), "--force").out == f"saved to {out}\n"
    assert "R.K." in out.read_text("utf-8")
