"""The most pain through which a bout runs on: shown with its mark, changed in one table, refused when wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.knowledge.load import KnowledgeError, load
from store.knowledge.pain import what_for
from store.knowledge.words import BoutKind, Mark
from tests.knowledge.small_tables import write_tables


def test_the_shipped_figures_say_that_they_are_recalled() -> None:
    found = load().most_pain
    assert {what: (figure.value, figure.mark) for what, figure in found.items()} == {
        "exercise": (5, Mark.RECALLED),
        "running": (2, Mark.RECALLED),
    }
    assert all(figure.says for figure in found.values())
    assert "silbernagel_2007" in load().sources


def test_a_walk_run_has_the_figure_of_running() -> None:
    assert {kind for kind in BoutKind if what_for(kind) == "running"} == {BoutKind.WALK_RUN}


@pytest.mark.parametrize("value", ["11", "-1", "2.5"])
def test_a_pain_that_nobody_can_tell_is_refused(tmp_path: Path, value: str) -> None:
    file = write_tables(tmp_path) / "pain.toml"
    file.write_text(file.read_text().replace("value = 5", f"value = {value}"))
    with pytest.raises(KnowledgeError, match="a whole number from 0 to 10 is wanted"):
        load(tmp_path).check()
