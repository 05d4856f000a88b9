"""A form typed ahead in one burst, in a real terminal: what was typed is what is kept."""

from __future__ import annotations

from pathlib import Path

from tests.terminal.driver import Terminal
from tests.terminal.peek import rows
from tests.terminal.programs import installed


def test_the_form_typed_right_behind_the_key_that_opens_it(tmp_path: Path) -> None:
    file = tmp_path / "record.sqlite"
    with Terminal(installed(file), home=tmp_path / "home") as terminal:
        terminal.wait_for("Nobody is in this record yet")
        f2 = "\x1bOQ"
        terminal.type(f2 + "R.K.\r1995\rA.B.\rr\r\r\x1b[C\x1b[C\r2026-11-02\rbrace\rthe stairs\r")
        terminal.wait_for("the stairs", "2 Nov 2026")
        terminal.type("\x0f")
        terminal.wait_for("saved R.K., right ankle")
    assert rows(file, "SELECT label, born FROM person") == [("R.K.", "1995")]
    wanted = [("right", "lateral ligament", "II", "2026-11-02", "brace", "the stairs")]
    assert rows(file, "SELECT side, structure, grade, injured_on, brace, goal FROM episode") == wanted
