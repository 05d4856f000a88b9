"""The installed program with a settings file in its usual place."""

from __future__ import annotations

import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care.care import open_care
from store.care.people import EpisodeForm, new_person
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from tests.terminal.driver import Terminal
from tests.terminal.peek import rows

BOTHFEET = Path(sys.executable).with_name("bothfeet")
TEXT = 'clinic = "Room 2"\nthem = "dark"\nexaminer = "S.E."\nslot_min = 20\n'


@pytest.mark.skipif(sys.platform != "linux", reason="the folder for settings is another one elsewhere")
def test_a_typo_is_told_on_the_caseload_and_the_rest_of_the_file_holds(tmp_path: Path) -> None:
    file, home = tmp_path / "record.sqlite", tmp_path / "home"
    with closing(open_care(file, SetClock(datetime(2026, 11, 25, 10, tzinfo=UTC)), create=True)) as care:
        new_person(care, "Q.X.", form=EpisodeForm(Side.LEFT))
    place = home / "config" / "bothfeet" / "settings.toml"
    place.parent.mkdir(parents=True)
    place.write_text(TEXT, encoding="utf-8")
    with Terminal([BOTHFEET, file], home=home, env={"BOTHFEET_SETTINGS": ""}) as program:
        program.wait_for("Q.X.")
        program.wait_for("line 2: them")
        program.wait_for("Room 2")
        program.press("f8")
        program.wait_for("of 20   over by")
        program.press("ctrl+q")
        program.wait_exit()
    assert rows(file, "SELECT examiner, slot_min FROM visit") == [("S.E.", 20)]
    assert place.read_text(encoding="utf-8") == TEXT
