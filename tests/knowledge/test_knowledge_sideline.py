"""The table of the sideline: what is wrong in it is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.fields import KnowledgeError
from store.knowledge.load import load
from tests.knowledge.small_tables import write_tables


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ("ladder = ['no_hop', 'limp']", "ladder = ['limp', 'no_hop']", "ladder: the ids of the last questions"),
        ("ladder = ['no_hop', 'limp']", "ladder = []", "ladder: the ids of the last questions"),
        ("['numb', ", "['limp', ", "questions: at least one is wanted, and none stands in it twice"),
        ("value = 10", "value = 0", "recheck_min: 1 to 120 minutes are wanted"),
        ("['numb', 'refer today'", "['numb', 're-check'", "comes_to"),
        ("'sman_2015'", "'nobody'", "'nobody' is not in sources.toml"),
    ],
)
def test_what_is_wrong_in_the_table_is_named(was: str, now: str, says: str, tmp_path: Path) -> None:
    file = write_tables(tmp_path) / "sideline.toml"
    text = file.read_text(encoding="utf-8")
    assert was in text
    file.write_text(text.replace(was, now, 1), encoding="utf-8")
    with pytest.raises(KnowledgeError, match=says):
        _ = load(tmp_path).sideline
