from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from store.care import safety, visits
from store.care.care import open_care
from store.care.people import EpisodeForm, new_person
from store.care.stages import decide
from store.care.standing import standing
from store.knowledge.criteria import Stage
from store.knowledge.words import Episode, Side
from store.record import readings
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tests.screens.made import at, opened, take
from tests.screens.theatre import Theatre
from tui.screens.episode import EpisodeScreen
from tui.widgets import commands
from tui.widgets.keyed_screen import unmet
from tui.widgets.mirror import MirrorTable

SIZE = (80, 24)


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


async def on_screen(app: Theatre, pilot: Pilot[Any], episode: Episode) -> EpisodeScreen:
    app.open(commands.EPISODE, episode=episode.id)
    await pilot.pause()
    await pilot.pause()
    assert isinstance(app.screen, EpisodeScreen)
    app.opened.clear()
    return app.screen


def line_of(app: Theatre, word: str) -> str:
    return " ".join(next(line for line in text_of(app).splitlines() if word in line).split())


async def test_the_head_tells_whose_ankle_since_when_and_what_for(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        first, second = (" ".join(line.split()) for line in text_of(app).splitlines()[:2])
        assert first == "R.K. 30 right ankle ▶ lateral ligament, grade II week 4, day 24"
        assert second == "goal 21 km forest race, 14 Mar 2027, in 109 days repair into remodelling"


async def test_the_table_has_left_on_the_left_the_gap_in_words_and_the_change_with_its_verdict(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        shown = text_of(app)
        assert "▶ RIGHT injured" in shown
        lunge = line_of(app, "lunge, cm")
        assert lunge.index("10.2") < lunge.index("lunge") < lunge.index("4.8")
        assert lunge.endswith("5.4 short ▲ +2.1")
        assert "1.2 larger ▲ -1.2" in line_of(app, "girth, cm")
        assert "45.0 cap" in line_of(app, "stance")
        assert "○" in line_of(app, "stance")  # its error is not known
        assert "≈ +3" in line_of(app, "heel raise")
        assert "▲ lunge: +2.1 cm since 5 Nov: clear gain (MDC 1.9)" in shown
        assert line_of(app, "▲ lunge").endswith("gap to uninjured side")
        assert "next stage walk: " in shown


async def test_the_chart_follows_the_cursor(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        assert "jog 8" in text_of(app)
        await pilot.press("down")
        await pilot.pause()
        assert "jog 52" in text_of(app)
        assert "secondary to lunge" in text_of(app)
        await pilot.press("down")
        await pilot.pause()
        assert "jog 30" in text_of(app)


async def test_a_caution_in_force_stands_in_the_head(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["T.M."])
        assert "caution: anticoagulant" in text_of(app)


async def test_an_empty_episode_says_what_to_do(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["J.V."])
        assert "Nothing has been measured yet: v starts the visit." in text_of(app)
        await pilot.press("i")
        await pilot.press("g")
        await pilot.press("enter")
        assert app.opened == []
        assert misfits(app) == []
        await pilot.press("v")
        await pilot.pause()
        visit = visits.open_visit(app.care, app.episodes["J.V."])
        assert visit is not None
        assert app.opened == [(commands.VISIT, {"visit": visit.id})]


async def test_v_starts_one_visit_and_goes_back_into_it(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await on_screen(app, pilot, app.episodes["R.K."])
        assert "v visit" in text_of(app)
        await pilot.press("v")
        await pilot.pause()
        assert "visit started at 10:38" in text_of(app)
        screen.on_screen_resume()
        await pilot.pause()
        assert "v back to visit" in text_of(app)
        await pilot.press("v")
        assert app.opened[0] == app.opened[1]


async def test_measuring_outside_a_visit_starts_it_first_and_says_so(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        await pilot.press("down", "m")
        await pilot.pause()
        visit = visits.open_visit(app.care, app.episodes["R.K."])
        assert visit is not None
        assert [name for name, _ in app.opened] == [commands.VISIT, commands.TRIALS]
        assert app.opened[1][1]["measure"] == "girth"
        assert "visit started at 10:38" in text_of(app)
        app.opened.clear()
        await pilot.press("t")
        await pilot.pause()
        assert app.opened == [(commands.VISIT, {"visit": visit.id}), (commands.PICK, {"visit": visit.id})]


async def test_undo_takes_back_what_was_saved_last_and_shows_it(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        visit = visits.start_visit(app.care, app.episodes["R.K."], planned=False)
        take(app.care, visit, "heel l 24 r 12")
        await on_screen(app, pilot, app.episodes["R.K."])
        assert "12 short" in line_of(app, "heel raise")
        await pilot.press("u")
        await pilot.pause()
        assert "took back heel raise" in text_of(app)
        assert "17 short" in line_of(app, "heel raise")


async def test_who_was_not_screened_says_so_and_names_the_key(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        episode = app.episodes["T.M."]
        await on_screen(app, pilot, episode)
        assert "! not screened yet: s; caution: anticoagulant" in text_of(app)
        assert "s safety" in text_of(app).splitlines()[-1]
        await pilot.press("escape")
        safety.keep(app.care, safety.answer(safety.begin(app.care, episode.id), "cold_foot", "no"))
        await on_screen(app, pilot, episode)
        assert "not screened yet" not in text_of(app)
        assert "s safety" not in text_of(app).splitlines()[-1]


async def test_undo_without_a_visit_says_why_not(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        await pilot.press("u")
        await pilot.pause()
        assert "Nothing to undo: no visit is open here." in text_of(app)


async def test_a_closed_episode_can_be_looked_at_and_not_written(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["P.D."])
        assert "closed 25 Nov 2026" in text_of(app)
        await pilot.press("v")
        await pilot.press("m")
        await pilot.pause()
        assert app.opened == []
        assert "This episode was closed on 25 Nov 2026: open it again first" in text_of(app)


async def test_while_a_blind_re_test_waits_nothing_shows(app: Ward) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        visit = visits.start_visit(app.care, app.episodes["R.K."])
        take(app.care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
        screen = await on_screen(app, pilot, app.episodes["R.K."])
        assert line_of(app, "lunge, cm").split() == ["▸", "hidden", "lunge,", "cm", "hidden"]
        assert "today's values are hidden until the re-test is in" in text_of(app)
        for value in ("10.7", "5.7", " 5.0 short", "+3.0", "5.4", "+2.1"):
            assert value not in text_of(app)
        take(app.care, visit, "lunge l 10.7 10.7 10.7 r 7.0 7.0 7.0 after")
        screen.on_screen_resume()
        await pilot.pause()
        assert "5.0 short ▲ +3.0" in line_of(app, "lunge, cm")


async def test_a_measure_in_the_file_that_this_copy_does_not_know_is_said(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        episode = app.episodes["R.K."]
        known = readings.readings_of_person(app.care.record, episode.person, "lunge")[-1]
        strange = known._replace(id="", revision="", measure="toe_grip", unit="kg", value=3.0)
        readings.add_readings(app.care.record, [strange])
        await on_screen(app, pilot, episode)
        assert "in the file, but this copy does not know the measure: toe_grip" in text_of(app)
        assert misfits(app) == []


async def test_another_windows_change_is_noticed(app: Ward, tmp_path: Path) -> None:
    async with app.run_test(size=SIZE) as pilot:
        screen = await on_screen(app, pilot, app.episodes["R.K."])
        await pilot.press("down", "down", "down")
        other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
        visit = visits.start_visit(other, app.episodes["R.K."], planned=False)
        take(other, visit, "heel l 24 r 13")
        other.close()
        screen.tick()
        await pilot.pause()
        assert "11 short" in line_of(app, "heel raise")
        assert "Another window changed the record" in text_of(app)
        assert "v back to visit" in text_of(app)
        assert screen.query_one(MirrorTable).chosen is not None
        assert line_of(app, "▸").startswith("▸ 24")  # the cursor stayed with its measure


async def test_unable_is_a_word_and_no_bar(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        visit = visits.start_visit(app.care, app.episodes["J.V."], planned=False)
        take(app.care, visit, "heel l unable r 20")
        await on_screen(app, pilot, app.episodes["J.V."])
        row = next(line for line in text_of(app).splitlines() if "heel raise" in line)
        assert "unable" in row
        assert "▄" not in row[: row.index("heel raise")]
        assert "short" not in row


async def test_both_ankles_injured_show_values_and_no_gap(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        visit = visits.start_visit(app.care, app.episodes["S.L."], planned=False)
        take(app.care, visit, "lunge l 6.0 6.0 6.0 r 9.0 9.0 9.0")
        await on_screen(app, pilot, app.episodes["S.L."])
        assert "short" not in line_of(app, "lunge, cm")
        assert "injured LEFT ◀" in text_of(app)


async def test_without_a_day_of_injury_nothing_breaks(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    _, episode = new_person(care, "N.N.", "", EpisodeForm(Side.LEFT))
    assert episode is not None
    visit = visits.start_visit(care, episode, planned=False)
    take(care, visit, "lunge l 6.0 6.0 6.0 r 9.0 9.0 9.0")
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, episode)
        assert "day of injury not known" in text_of(app)
        assert "no goal set" in text_of(app)
        assert "3.0 short" in text_of(app)


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
@pytest.mark.parametrize("label", ["R.K.", "T.M.", "J.V."])
async def test_it_fits(app: Ward, size: tuple[int, int], label: str) -> None:
    async with app.run_test(size=size) as pilot:
        await on_screen(app, pilot, app.episodes[label])
        assert misfits(app) == []
        assert "next stage" in text_of(app)


def test_no_key_does_nothing_silently() -> None:
    assert unmet(EpisodeScreen) == []


async def test_after_the_last_stage_it_tells_that_and_what_follows(app: Ward) -> None:
    one = app.episodes["R.K."]
    decide(app.care, standing(app.care, one.id), Stage.SPORT, "a full session, no trouble")
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, one)
        assert "ready for sport, decided 25 Nov 2026; x closes the episode" in text_of(app)
        assert "next stage" not in text_of(app)
        await pilot.press("x")
        await pilot.pause()
        assert "recall 3 months after discharge, 25 Feb 2027" in text_of(app)


async def test_the_day_before_the_goal_is_tomorrow(app: Ward) -> None:
    app.set_clock.put(at(date(2027, 3, 13)))
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        assert "14 Mar 2027, tomorrow" in text_of(app)


async def test_what_is_no_longer_fresh_has_its_age_beside_it(app: Ward) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await on_screen(app, pilot, app.episodes["R.K."])
        assert "lunge, cm" in text_of(app)
        app.set_clock.put(app.set_clock.now().at + timedelta(days=40))
        app.pop_screen()
        await on_screen(app, pilot, app.episodes["R.K."])
        assert "lunge, 42 days ago" in text_of(app)
        assert "lunge, cm" not in text_of(app).split("────")[1]
        assert misfits(app) == []


@pytest.mark.parametrize(("days", "asks"), [(4, False), (5, True)])
async def test_a_grade_that_nobody_gave_is_asked_for_from_the_fifth_day_on(
    app: Ward, days: int, asks: bool
) -> None:
    episode = app.episodes["J.V."]
    assert episode.injured_on is not None
    async with app.run_test(size=SIZE) as pilot:
        app.set_clock.put(at(episode.injured_on + timedelta(days=days)))
        await on_screen(app, pilot, episode)
        assert ("grade it: e" in text_of(app)) is asks
        assert standing(app.care, episode.id).to_grade is asks
        assert misfits(app) == []
