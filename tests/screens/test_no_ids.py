"""No one is told an id: sources stand as what they are, cautions in words, by every verb and on every page of its
own; test_every_screen.py looks at each screen."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from store.care import bout_setting
from store.care.home_items import new_item
from store.knowledge.load import load
from tests.helpers.ids import CAUTIONS, ROOT, SOURCES, told_ids
from tests.screens.every_screen import House
from tui.command import main
from tui.screens.bout_ready import chosen_text, ready_text
from tui.screens.home_lines import item_lines


def test_there_are_ids_to_be_found() -> None:
    assert len(SOURCES) > 100
    assert len(CAUTIONS) > 50
    assert told_ids("dose read, hold_ladder_2013; first_days") == {"hold_ladder_2013", "first_days"}


def test_nothing_that_is_read_before_a_bout_has_one_and_its_cautions_are_words(tmp_path: Path) -> None:
    app = House(tmp_path)
    told: dict[str, str] = {}
    for activity in app.care.knowledge.activities:
        found = bout_setting.setting(app.care, app.visit.id, activity)
        lines = [*chosen_text(found, 70), *ready_text(found, (), "", 70, own_protocol=False)]
        told[activity] = " ".join(" ".join(line.plain for line in lines).split())
        assert told_ids(told[activity]) == set(), activity
        named = found.sources.get(found.activity.dose.source, "")
        assert named in told[activity]
    assert "cautions no pain while it is done; pain: change the glide, then stop; " in told["mobilisation_belt"]
    for words in ("painless,", "change glide", "painful weight", "stance ceiling", "hold on,"):
        assert not [name for name, text in told.items() if words in text], words


def test_nothing_that_is_handed_out_has_one(tmp_path: Path) -> None:
    app = House(tmp_path)
    known = app.care.knowledge
    for activity, words in known.home.words.items():
        item = new_item(app.care, known.activities[activity], app.episode)
        source = known.sources[words.source].text if words.source else ""
        text = " ".join(" ".join(line.plain for line in item_lines(item, source, 70)).split())
        assert told_ids(text) == set(), activity
        assert source in text


def test_no_verb_prints_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = str(tmp_path / "demo.sqlite")
    shutil.copy(ROOT / "demo.sqlite", file)
    for measure in load().measures:
        assert main(["measures", measure, "--file", file]) == 0
    for label in ("R.K.", "K.F.", "N.R.", "H.Z.", "T.M."):
        assert main(["show", label, "--visits", "all", "--file", file]) == 0
    told = capsys.readouterr().out
    assert "how it is measured" in told
    assert "all visits, the newest first" in told
    assert told_ids(told) == set()
