"""`bothfeet settings`, and the other verbs under a settings file that is right, wrong or missing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import tui.command
from store.care.care import Care
from store.care.invented import INVENTED
from tests.command.conftest import Shell

TYPO = 'clinic = "Room 2"\ntheme = "drak"\n[fresh_days]\nlunge = 10\n'
TOLD = "settings: line 2: theme: not one of the themes; did you mean dark?; the default holds"


def test_settings_says_where_the_file_is_and_what_it_changes(shell: Shell) -> None:
    shell.settings("slot_min = 40\n\n[fresh_days]\nlunge = 10\n")
    done = shell("settings")
    assert done.out.splitlines() == [
        f"settings file: {shell.settings_path}",
        "it changes:",
        "  line 1: slot_min: 40 (by default 30)",
        "  line 4: fresh_days.lunge: 10 days (by default 14 days)",
    ]
    assert (done.status, done.err) == (0, "")


def test_settings_that_change_nothing_say_so(shell: Shell) -> None:
    shell.settings("# nothing yet\n")
    assert shell("settings").out.splitlines()[1] == "it changes nothing: the defaults hold"


def test_what_is_wrong_is_told_and_the_status_is_2(shell: Shell) -> None:
    shell.settings(TYPO)
    done = shell("settings")
    assert done.status == 2
    assert done.out.splitlines()[2:] == [
        "  line 1: clinic: Room 2 (by default not set)",
        "  line 4: fresh_days.lunge: 10 days (by default 14 days)",
        "what is wrong in it:",
        "  line 2: theme: not one of the themes; did you mean dark?; the default holds",
    ]
    assert done.err == ""


def test_settings_as_data(shell: Shell) -> None:
    shell.settings(TYPO)
    found = json.loads(shell("settings", "--json").out)
    assert (found["path"], found["there"]) == (str(shell.settings_path), True)
    assert found["changes"][0] == {"entry": "clinic", "default": "not set", "now": "Room 2", "line": 1}
    assert [(one["entry"], one["line"]) for one in found["faults"]] == [("theme", 2)]


def test_the_usual_place_is_told_where_no_file_is(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("BOTHFEET_SETTINGS")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    done = shell("settings")
    assert done.out.startswith("settings file: ")
    assert "settings.toml" in done.out.splitlines()[0]
    assert done.out.splitlines()[1].startswith("it is not there: the defaults hold; `bothfeet settings --example`")
    assert (done.status, done.err) == (0, "")
    assert not (tmp_path / "config").exists(), "nothing is made"


def test_the_example_can_be_saved_and_changes_nothing(shell: Shell) -> None:
    example = shell("settings", "--example").out
    shell.settings(example)
    assert "#theme" in example
    assert shell("settings").out.splitlines()[1] == "it changes nothing: the defaults hold"


@pytest.mark.parametrize("verb", [["show"], ["show", "K.L."], ["measures"], ["backup"]], ids=" ".join)
def test_a_typo_is_told_on_stderr_and_the_verb_goes_on(own: Shell, verb: list[str]) -> None:
    own.settings(TYPO)
    done = own(*verb)
    assert (done.status, done.err) == (0, f"bothfeet: {TOLD}\n")
    assert done.out


def test_a_named_file_that_is_not_there_is_told(shell: Shell) -> None:
    shell.settings_path.unlink()
    done = shell("measures", "lunge")
    assert done.status == 0
    assert done.err == (
        f"bothfeet: settings: there is no file {shell.settings_path}, which BOTHFEET_SETTINGS names; "
        "the defaults hold\n"
    )


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"x = " + b"[" * 5000, b"slot_min = " + b"9" * 5000])
def test_a_file_that_is_no_settings_file_at_all_stops_nothing(shell: Shell, content: bytes) -> None:
    shell.settings_path.write_bytes(content)
    done = shell("measures", "lunge")
    assert done.status == 0
    assert "settings" in done.err
    assert done.err.count("\n") == 1


def test_a_folder_in_its_place_is_told(shell: Shell) -> None:
    shell.settings_path.unlink()
    shell.settings_path.mkdir()
    assert "cannot be read: is a directory; the defaults hold" in shell("measures", "lunge").err


def test_the_page_of_a_measure_says_what_this_clinic_set(shell: Shell) -> None:
    shell.settings('[errors]\nlunge = "ankle_patients"\n[fresh_days]\nlunge = 10\n')
    page = " ".join(shell("measures", "lunge").out.split())
    assert "fresh: a reading counts as fresh for 10 days set by this clinic; by default 14 days" in page
    assert "choice: people with ankle injuries, in place of the program's own default set by this clinic" in page
    assert "one side, between visits: SEM 0.36, MDC 1 cm; the error of the mean of 3 trials, people with" in page


def test_a_measure_of_the_clinic_is_listed_typed_and_shown(own: Shell) -> None:
    table = Path(__file__).parents[2] / "store" / "knowledge" / "settings_example.toml"
    lines = table.read_text(encoding="utf-8").split("\n")
    entries = [line[1:] if line.startswith("#") and not line.startswith("# ") else line for line in lines]
    at = next(n for n, line in enumerate(entries) if line.startswith("[sources]"))
    own.settings("\n".join(entries[at:]))
    assert "towel_curl: towel curls, reps, left and right" in own("measures").out
    assert own("measures").out.rstrip().endswith("added by this clinic")
    assert own("add", "K.L.", "curls 20 14", "--examiner", "X").out.startswith("saved towel curls")
    assert "towel curls" in own("show", "K.L.").out
    own.settings("")
    again = own("show", "K.L.")
    assert again.status == 0, "without the settings it is a measure that this copy does not know"


def test_the_examiner_of_the_settings_measures_unless_one_is_named(own: Shell) -> None:
    own.settings('examiner = "S.E."\n')
    own("add", "K.L.", "lunge 10.2 4.8")
    own("add", "K.L.", "girth 51 52", "--examiner", "X.Y.")
    data = json.loads(own("show", "K.L.", "--json").out)
    assert "S.E." in json.dumps(data)
    assert "X.Y." in json.dumps(data)


def test_what_is_done_in_the_demo_stays_invented(shell: Shell) -> None:
    shell.settings('examiner = "S.E."\nslot_min = 40\n')
    seen: list[tuple[str, int]] = []

    def shown(care: Care, options: object, why: str) -> int:
        del options, why
        seen.append((care.examiner, care.settings.slot_min))
        return 0

    shell.monkeypatch.setattr(tui.command, "_show_screens", shown)
    assert shell("demo").status == 0
    assert seen == [(INVENTED, 40)]
