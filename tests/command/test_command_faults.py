"""Every fault is one clear sentence on standard error that says what to do, with status 2, and nothing is lost."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

import tui.command
from store.care.care import open_care
from tests.command.conftest import Done, Shell
from tests.faults.plain_user import as_plain_user, folder_for_everybody, needs_the_program_for_everybody

VERBS: tuple[list[str], ...] = (["show"], ["add", "R.K.", "lunge 10 5"], ["backup"], ["check"], [])


def fault(done: Done) -> str:
    """The one sentence of a fault."""
    assert done.status == 2
    assert done.err.startswith("bothfeet: ")
    assert done.err.count("\n") == 1
    assert "Traceback" not in done.err
    return done.err.removeprefix("bothfeet: ").rstrip("\n")


# the file


@pytest.mark.parametrize("words", VERBS, ids=" ".join)
def test_a_missing_file_is_not_made_by_a_verb(shell: Shell, tmp_path: Path, words: list[str]) -> None:
    path = tmp_path / "nobody.sqlite"
    said = fault(shell(*words, "--file", str(path)))
    assert str(path) in said
    assert "check the name" in said
    assert not path.exists()


@pytest.mark.parametrize("words", VERBS, ids=" ".join)
@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("folder", "is a folder: name the file in it"),
        ("text", "is no record of bothfeet nor any SQLite file"),
        ("theirs", "is the file of another program"),
        ("cut", "is damaged and nothing will be written to it"),
        ("newer", "was made by a newer bothfeet"),
    ],
)
def test_what_is_no_record_is_left_as_it_is(
    shell: Shell, tmp_path: Path, words: list[str], name: str, what: str
) -> None:
    path = tmp_path / f"{name}.sqlite"
    if name == "folder":
        path.mkdir()
    elif name == "text":
        path.write_text("not a record\n" * 20)
    elif name == "theirs":
        with closing(sqlite3.connect(path)) as db:
            db.execute("CREATE TABLE person (name)")
    elif name == "cut":
        path.write_bytes(shell.path.read_bytes()[:50_000])
    else:
        shutil.copy(shell.path, path)
        with closing(sqlite3.connect(path)) as db:
            db.execute("PRAGMA user_version = 99")
    before = path.read_bytes() if path.is_file() else b""
    done = shell(*words, "--file", str(path))
    if words == ["check"] and name == "newer":
        assert done.status == 2  # the check finds what is not as this copy wants it, and says so
        assert "user_version" in done.out
    else:
        assert what in fault(done)
    assert (path.read_bytes() if path.is_file() else b"") == before


def test_a_file_that_may_only_be_read_is_shown_and_not_added_to(shell: Shell) -> None:
    needs_the_program_for_everybody()
    folder = folder_for_everybody()
    try:
        path = folder / "record.sqlite"
        shutil.copy(shell.path, path)
        path.chmod(0o444)
        words = ["--file", str(path)]
        shell("show", "R.K.", *words)  # so that all that is needed is imported
        assert as_plain_user(lambda: shell("show", "R.K.", *words).out).startswith("These people are invented")
        assert "may only be read" in as_plain_user(lambda: fault(shell("add", "R.K.", "lunge 10 5", *words)))
    finally:
        shutil.rmtree(folder)


def test_a_file_that_another_program_holds_is_not_waited_for_without_end(shell: Shell) -> None:
    with closing(sqlite3.connect(shell.path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        assert "close that program and try again" in fault(shell("add", "R.K.", "lunge 10 5"))


def test_the_default_file_is_named_when_there_is_none(
    shell: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("BOTHFEET_FILE")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    said = fault(shell("show"))
    assert said.startswith(f"there is no record yet at {tmp_path / 'data'}")
    assert "`bothfeet demo` shows one" in said


def test_a_new_record_is_only_made_under_a_name_that_means_it(shell: Shell, tmp_path: Path) -> None:
    said = fault(shell(str(tmp_path / "recrod")))
    assert "for a new record, `bothfeet NAME.sqlite` on a terminal makes it" in said
    assert not (tmp_path / "recrod").exists()


# what was typed


@pytest.mark.parametrize(
    ("words", "what"),
    [
        (["shwo"], "did you mean `bothfeet show`?"),
        (["show", "R.K.", "more"], "more is not understood: leave it out: `bothfeet show --help` tells"),
        (["add"], "PERSON and LINE are missing"),
        (["add", "R.K."], "LINE is missing"),
        (["show", "--side", "both"], "--side both is not known: type left or right"),
        (["--nonsense"], "--nonsense is not understood: leave it out"),
        (["merge"], "OTHER is missing"),
        (["measures", "lungee"], "did you mean lunge?"),
        (["measures", "\x1b[2J"], "no measure has the name U+001B[2J"),
        (["show", "Nobody"], "no person has the label Nobody"),
        (["one.sqlite", "--file", "two.sqlite"], "two files are named"),
    ],
)
def test_a_slip_on_the_command_line_is_one_sentence(shell: Shell, words: list[str], what: str) -> None:
    said = fault(shell(*words))
    assert what in said
    assert "\x1b" not in said


def test_the_options_may_stand_before_the_verb(shell: Shell, tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite"
    shutil.copy(shell.path, other)
    shell.path.unlink()
    assert shell("--file", str(other), "show").status == 0
    assert shell(f"--file={other}", "show", "R.K.").status == 0


def test_help_and_version_are_no_faults(shell: Shell) -> None:
    assert shell("--version").out == f"bothfeet {tui.VERSION}\n"
    assert "verbs: demo, add, show" in shell("--help").out
    assert "--side" in shell("add", "--help").out


# the other verbs


def test_a_backup_is_whole_and_never_over_another_file(shell: Shell, tmp_path: Path) -> None:
    to = tmp_path / "copy.sqlite"
    assert shell("backup", str(to)).out == f"copied to {to}\n"
    assert "is there already and stays as it is" in fault(shell("backup", str(to)))
    assert shell("check", "--file", str(to)).out == "the record is whole\n"
    named = shell("backup")
    assert named.out == f"copied to {tmp_path / 'record-2026-11-23-1200.sqlite'}\n"


def test_a_check_says_what_is_wrong(shell: Shell) -> None:
    with closing(sqlite3.connect(shell.path)) as db, db:
        (name,) = db.execute("SELECT name FROM sqlite_schema WHERE type = 'trigger' LIMIT 1").fetchone()
        db.execute(f"DROP TRIGGER {name}")
    done = shell("check")
    assert (done.status, done.err) == (2, "")
    assert name in done.out


def test_a_merge_brings_in_what_is_new_and_says_how_much(shell: Shell, tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite"
    shell("backup", str(other))
    assert shell("merge", str(other)).out == "nothing new: all of it is here already\n"
    shell("add", "R.K.", "lunge 10 5.5", "--file", str(other))
    assert shell("merge", str(other)).out.startswith("3 entries added")
    assert "5.5" in shell("show", "R.K.").out
    assert "file that is open" in fault(shell("merge", str(shell.path)))


def test_after_a_merge_the_same_person_examines_and_real_people_are_not_called_invented(
    own: Shell, demo_file: Path
) -> None:
    own("add", "K.L.", "lunge 10 5", "--examiner", "AB")
    assert own("merge", str(demo_file)).status == 0
    care = own.care()
    assert care.examiner == "AB"
    care.close()
    assert own("show").out.startswith("Some of these people are invented: those whose examiner is called invented")
    assert "invented" not in own("show", "K.L.").out
    assert own("show", "R.K.").out.startswith("These people are invented")


def test_a_merge_into_a_record_that_knows_no_examiner_says_whose_name_is_used_now(
    own: Shell, demo_file: Path
) -> None:
    said = own("merge", str(demo_file)).out
    assert said.endswith("; the examiner is now invented, and --examiner names another\n")


# the screens


def test_without_a_terminal_the_caseload_is_printed_and_said_why(shell: Shell) -> None:
    done = shell()
    assert "the screens need a terminal" in fault(done)
    assert "R.K., right ankle injured" in done.out
    assert shell(str(shell.path)).status == 2


def test_an_interrupt_is_quiet(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("store.care.adding.add_line", interrupted)
    done = shell("add", "R.K.", "lunge 10 5")
    assert (done.status, done.out, done.err) == (130, "", "")


def test_a_mistake_of_the_program_is_no_fault_of_the_person(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("store.care.caseload.everybody", lambda _: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        shell("show")


# encrypted


def test_an_encrypted_record_asks_for_its_passphrase_and_keeps_it_nowhere(
    shell: Shell, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("sqlcipher3", reason="the extra named encrypted is not installed")
    path = tmp_path / "secret.sqlite"
    open_care(path, shell.clock, create=True, passphrase="a long walk").close()
    assert "give its passphrase" in fault(shell("show", "--file", str(path)))
    shell.answers()
    for verb, said in (("show", "nobody is in this record yet"), ("check", "the record is whole")):
        monkeypatch.setattr("getpass.getpass", lambda _: "a long walk")
        assert said in shell(verb, "--file", str(path)).out
        monkeypatch.setattr("getpass.getpass", lambda _: "a short walk")
        assert "This passphrase does not open" in fault(shell(verb, "--file", str(path)))


@pytest.mark.parametrize("journal", ["DELETE", "WAL"])
@pytest.mark.parametrize(
    "words",
    [
        ["show"],
        ["show", "R.K.", "--json"],
        ["note", "R.K."],
        ["letter", "R.K."],
        ["sheet", "R.K."],
        ["export", "--all", "--to", "json", "--out", "-"],
        ["check"],
    ],
    ids=" ".join,
)
def test_a_verb_that_reads_leaves_the_file_as_it_was(shell: Shell, words: list[str], journal: str) -> None:
    with closing(sqlite3.connect(shell.path)) as db:
        db.execute(f"PRAGMA journal_mode = {journal}").fetchone()
    before = shell.path.read_bytes()
    done = shell(*words)
    assert done.status == 0, done.err
    assert shell.path.read_bytes() == before
    assert list(shell.path.parent.glob(f"{shell.path.name}-*")) == []


def test_an_empty_file_is_told_what_it_is_and_how_it_becomes_a_record(shell: Shell, tmp_path: Path) -> None:
    for name, new in (
        ("empty.sqlite", f"`bothfeet {tmp_path / 'empty.sqlite'}` on a terminal makes a new record of it"),
        ("empty.txt", "a new record wants a name that ends in .sqlite"),
    ):
        (tmp_path / name).touch()
        told = shell("show", "--file", str(tmp_path / name))
        says = (
            f"{tmp_path / name} is empty, no record stands in it: check the name, or bring back your backup; {new}"
        )
        assert (told.status, told.err) == (2, f"bothfeet: {says}\n")
