"""What the key line of a small terminal names: the ways that a visit takes, before what is seldom wanted."""

from __future__ import annotations

from pathlib import Path

from store.care import safety
from tests.helpers.fit import text_of
from tests.screens.every_screen import House, settled
from tests.screens.timing_room import timed
from tui.widgets import commands


def key_line(app: House) -> str:
    return text_of(app).splitlines()[-1].strip()


async def test_eighty_columns_name_what_is_wanted_most(tmp_path: Path) -> None:
    app = House(tmp_path)
    other = app.episodes["T.M."].id
    safety.keep(app.care, safety.answer(safety.begin(app.care, other), "calf_squeeze", "no"))
    of_rk: dict[str, object] = {"episode": app.episode.id}
    async with app.run_test(size=(80, 24)) as pilot:
        for name, arguments, wanted in (
            (
                commands.EPISODE,
                {"episode": other},
                "v visit  m measure  t timer  g gap  c criteria  h home  r run  n note  F1 help",
            ),
            (commands.CHART, of_rk | {"measure": "lunge"}, "e put right"),
            (commands.PAPERS, of_rk | {"visit": app.visit.id}, "PgDn PgUp more"),
        ):
            app.open(name, **arguments)
            await settled(pilot)
            assert wanted in key_line(app), name
            app.pop_screen()


async def test_in_a_rest_the_end_is_named(tmp_path: Path) -> None:
    async with timed(tmp_path) as at:
        await at.start(61)
        assert "x end, keep" in at.text.splitlines()[-1]
