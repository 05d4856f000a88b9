"""`export`: where data goes, what is refused with a sentence, and what a blind re-test keeps out of it."""

from __future__ import annotations

import csv
import json
import os
import sys
from pathlib import Path

import pytest

from store.care import visits
from store.care.appointments import plan
from store.care.finding import find_person, shown_episodes
from store.record import people
from tests.command.conftest import Shell


def test_a_person_goes_to_a_file_that_only_its_owner_may_read(shell: Shell, tmp_path: Path) -> None:
    out = tmp_path / "out.csv"
    done = shell("export", "R.K.", "--to", "csv", "--out", str(out))
    assert (done.status, done.out, done.err) == (0, f"saved {out}\n", "")
    with out.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["person"] for row in rows} == {"R.K."}
    assert len(rows) > 50
    assert os.name != "posix" or out.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("to", ["csv", "json", "fhir", "ics"])
def test_everybody_goes_each_way(shell: Shell, tmp_path: Path, to: str) -> None:
    out = tmp_path / f"all.{to}"
    assert shell("export", "--all", "--to", to, "--out", str(out)).status == 0
    text = out.read_bytes().decode("utf-8")
    assert all(label in text for label in ("R.K.", "K.F.", "S.L."))
    printed = shell("export", "--all", "--to", to, "--out", "-")
    assert printed.status == 0
    assert printed.out.splitlines() == text.splitlines()


def test_a_file_that_is_there_stays_unless_force_is_said(shell: Shell, tmp_path: Path) -> None:
    out = tmp_path / "out.json"
    out.write_text("mine", "utf-8")
    done = shell("export", "R.K.", "--to", "json", "--out", str(out))
    assert (done.status, done.out) == (2, "")
    assert done.err == (
        f"bothfeet: {out} is there already and stays as it is: name another file, or add --force\n"
    )
    assert out.read_text("utf-8") == "mine"
    assert shell("export", "R.K.", "--to", "json", "--out", str(out), "--force").status == 0
    assert json.loads(out.read_text("utf-8"))["people"][0]["person"]["label"] == "R.K."
    assert sorted(each.name for each in tmp_path.iterdir() if each.name.startswith(".bothfeet")) == []


def test_the_record_itself_is_never_written_over(shell: Shell) -> None:
    done = shell("export", "R.K.", "--to", "json", "--out", str(shell.path), "--force")
    assert done.status == 2
    assert "is the record itself" in done.err
    assert (shell("check").status, shell("show", "R.K.").status) == (0, 0)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--to", "csv", "--out", "-"], "say whom to export"),
        (["R.K.", "--all", "--to", "csv", "--out", "-"], "say whom to export"),
        (["Nobody", "--to", "csv", "--out", "-"], "no person has the label Nobody"),
        (["R.K.", "--to", "xml", "--out", "-"], "--to xml is not known: type csv, json, fhir or ics"),
        (["R.K.", "--to", "csv"], "--out is missing"),
        (["A.W.", "--to", "ics", "--out", "-"], "no appointment and no run is planned"),
        (["R.K.", "--to", "csv", "--out", "no/such/folder.csv"], "folder.csv cannot be written (No such file"),
        (["R.K.", "--to", "csv", "--out", "."], "is a folder: name the file in it"),
        (["R.K.", "--to", "csv", "--out", "/dev/null", "--force"], "is no plain file"),
    ],
)  # fmt: skip
def test_what_cannot_be_done_is_said(shell: Shell, words: list[str], says: str) -> None:
    if "/dev/null" in words and os.name != "posix":
        pytest.skip("there is no such device here")
    done = shell("export", *words)
    assert done.status == 2
    assert done.out == ""
    assert says in done.err


def test_what_a_blind_re_test_keeps_out_is_said(own: Shell) -> None:
    care = own.care()
    episode = shown_episodes(care, find_person(care, "K.L."), None)[0]
    visits.start_visit(care, episode)
    care.close()
    assert own("add", "K.L.", "lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0", "--examiner", "ZZ", "--yes").status == 0
    for to in ("csv", "json", "fhir"):
        done = own("export", "K.L.", "--to", to, "--out", "-")
        assert done.status == 0
        assert "4.9" not in done.out
        assert done.err.startswith("K.L.: left out, while their re-test is blind: the values of today before")
    own("add", "K.L.", "lunge l 10.2 10.1 10.3 r 5.8 5.9 6.0 after", "--yes")
    done = own("export", "K.L.", "--to", "csv", "--out", "-")
    assert done.err == ""
    assert "4.8|4.9|5," in done.out


def test_on_a_terminal_nothing_steers_it(own: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    care = own.care()
    person = find_person(care, "K.L.")
    plan(care, person, "thu 10:40")
    people.revise_person(care.record, person._replace(label="K\x1b[31mL"), by="AB", because="test")
    care.close()
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    done = own("export", "--all", "--to", "csv", "--out", "-")
    assert "\x1b" not in done.out
    assert "\x1b" not in own("export", "--all", "--to", "ics", "--out", "-").out
