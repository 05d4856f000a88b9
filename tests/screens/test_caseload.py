from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.widgets import Input

from store.care import visits
from store.care.appointments import plan
from store.care.care import name_examiner, open_care
from store.care.caseload import CaseloadRow
from store.care.invented import INVENTED
from store.care.people import EpisodeForm, new_person
from store.care.stages import decide
from store.care.standing import standing
from store.knowledge.criteria import Stage
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import episodes, people
from store.record.file import Record
from tests.helpers.burst import write
from tests.helpers.fit import misfits, text_of
from tests.screens.filled import Ward
from tests.screens.made import opened, take
from tests.screens.theatre import Theatre
from tui.screens.caseload import PAGE, CaseloadScreen
from tui.widgets import commands
from tui.widgets.caseload_list import CaseloadList, columns_of, gap_cell, header_pieces, injury_cell
from tui.widgets.keyed_screen import unmet


@pytest.fixture
def app(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


def row_of(app: Theatre, label: str) -> str:
    return next(line for line in text_of(app).splitlines() if label in line)


def labels_of(app: Theatre) -> list[str]:
    return [row.label for row in app.screen.query_one(CaseloadList).rows]


async def test_the_head_tells_day_time_and_counts(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        first, second = text_of(app).splitlines()[:2]
        assert first.split() == ["bothfeet", "Wed", "25", "Nov", "2026", "10:38"]
        assert "6 open, 1 seen today" in second


async def test_a_record_of_invented_people_says_so(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    name_examiner(care, INVENTED)
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "invented people" in text_of(app).splitlines()[0]


async def test_a_line_has_the_side_in_words_the_week_and_the_widest_gap(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.pause()
        told = " ".join(row_of(app, "R.K.").split())
        assert told == "! R.K. right ▶ lateral ligament II 4 none lunge, 5.4 short none"
        assert row_of(app, "A.O.").lstrip("▸! ").split()[:3] == ["A.O.", "◀", "left"]
        assert ", 9 short" in row_of(app, "A.O.")
        assert "not yet" in row_of(app, "J.V.")
        assert "not measured" in row_of(app, "J.V.")
        assert "P.D." not in text_of(app)


async def test_letters_find_people_and_enter_opens_the_one_under_the_cursor(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"s.l")
        await pilot.pause()
        assert "R.K." not in text_of(app)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert app.opened == [(commands.EPISODE, {"episode": app.episodes["S.L. right"].id})]
        await pilot.press("escape")
        await pilot.pause()
        assert "s.l" in text_of(app)  # what was typed stands, and so does the cursor
        assert "▸!S.L." in text_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert "R.K." in text_of(app)


async def test_every_letter_goes_to_find_and_f8_starts_the_visit(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"j.v?")
        await pilot.pause()
        assert app.screen.query_one(Input).value == "j.v?"
        assert app.opened == []
        await pilot.press("backspace", "f8")
        await pilot.pause()
        visit = visits.open_visit(app.care, app.episodes["J.V."])
        assert visit is not None
        assert app.opened == [(commands.VISIT, {"visit": visit.id})]
        await pilot.press("f8")
        assert app.opened[-1] == (commands.VISIT, {"visit": visit.id})  # back into it, not another one


async def test_nobody_found_says_what_to_do_and_f2_takes_the_label_along(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*"Z.Z.")
        await pilot.pause()
        assert "Nobody here has a label with Z.Z. in it, nor a sport or a goal." in text_of(app)
        assert "F2 adds a new person." in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "Nobody is in the list" in text_of(app)
        await pilot.press("f2")
        await pilot.pause()
        assert app.opened == [(commands.PERSON, {"label": "Z.Z."})]
        await pilot.press("escape", "y")
        await pilot.pause()
        assert "Nobody is in the list" not in text_of(app)  # said before, and stale now


async def test_an_empty_file_says_what_to_do_first(tmp_path: Path) -> None:
    care, clock = opened(tmp_path)
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "F2 adds the first person and the injured ankle" in text_of(app)
        assert "0 open, 0 seen today" in text_of(app)


async def test_f5_shows_the_closed_ones_too_and_hides_them_again(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert "closed" in row_of(app, "P.D.")
        await pilot.press(*"P.D", "f8")
        await pilot.pause()
        assert "The episode of P.D. is closed" in text_of(app)
        await pilot.press("f5")
        await pilot.pause()
        assert "Nobody here has a label with P.D in it" in text_of(app)


async def test_another_windows_change_is_noticed(app: Ward, tmp_path: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
        new_person(other, "N.N.", "", EpisodeForm(Side.LEFT))
        other.close()
        screen = app.screen
        assert isinstance(screen, CaseloadScreen)
        screen.tick()
        await pilot.pause()
        assert "N.N." in text_of(app)
        assert "Another window changed the record" in text_of(app)
        assert "7 open" in text_of(app)


async def test_the_clock_on_show_moves(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.set_clock.move(60)
        screen = app.screen
        assert isinstance(screen, CaseloadScreen)
        screen.tick()
        await pilot.pause()
        assert "10:39" in text_of(app)


async def test_while_a_blind_re_test_waits_no_gap_shows(app: Ward) -> None:
    episode = app.episodes["R.K."]
    visit = visits.start_visit(app.care, episode)
    take(app.care, visit, "lunge l 10.7 10.7 10.7 r 5.7 5.7 5.7 before")
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        await pilot.pause()
        assert "hidden until re-test" in row_of(app, "R.K.")
        assert "5.0" not in text_of(app)
        assert "5.4" not in text_of(app)


async def test_gaps_are_worked_out_for_the_rows_in_sight_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    care, clock = opened(tmp_path)
    asked: list[str] = []

    def noted(_: object, episode: str) -> str:
        asked.append(episode)
        return "not measured"

    monkeypatch.setattr("store.care.caseload.widest_gap", noted)
    with care.together():
        for n in range(PAGE + 30):
            _add(care.record, clock, f"P.{n:04d}")
    app = Theatre(care, clock, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        people_shown, last = app.screen.query_one(CaseloadList), f"P.{PAGE + 29:04d}"
        for _ in range(40):
            await pilot.pause()
        room = people_shown.room
        assert 10 < room < 24
        assert len(asked) == len(set(asked)) == room
        assert len(people_shown.rows) == PAGE  # the rest is not read yet
        await pilot.press("pagedown")
        for _ in range(40):
            await pilot.pause()
        assert len(asked) == len(set(asked)) <= 2 * room
        await pilot.press("ctrl+end")
        await pilot.pause()
        assert len(people_shown.rows) == PAGE + 30
        await pilot.press("ctrl+end")
        await pilot.pause()
        assert last in text_of(app)
        assert people_shown.chosen is not None
        assert people_shown.chosen.label == last


def _add(record: Record, clock: SetClock, label: str) -> None:
    person = people.add_person(record, Person("", label))
    episodes.add_episode(record, Episode("", person.id, Side.LEFT, clock.now()))


async def test_the_gap_of_a_change_elsewhere_is_worked_out_again(app: Ward, tmp_path: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.pause()
        other = open_care(tmp_path / "ward.sqlite", app.set_clock, examiner="CD")
        visit = visits.start_visit(other, app.episodes["J.V."], planned=False)
        take(other, visit, "lunge l 4.0 4.0 4.0 r 9.0 9.0 9.0")
        other.close()
        screen = app.screen
        assert isinstance(screen, CaseloadScreen)
        screen.tick()
        for _ in range(10):
            await pilot.pause()
        assert "lunge, 5.0 short" in row_of(app, "J.V.")


async def test_somebody_is_found_by_sport_or_goal_and_a_label_comes_first(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await write(pilot, "FENC")
        await pilot.pause()
        assert labels_of(app) == ["S.L.", "S.L."]
        await pilot.press("escape")
        await write(pilot, "hockey")
        await pilot.pause()
        assert labels_of(app) == ["A.O."]
        new_person(app.care, "Z hockey", "", EpisodeForm(Side.LEFT))
        await pilot.press("escape")
        await write(pilot, "hock")
        await pilot.pause()
        assert labels_of(app) == ["Z hockey", "A.O."]
        await pilot.press("escape")
        await write(pilot, "ho")  # too short for more than labels
        await pilot.pause()
        assert labels_of(app) == ["Z hockey"]


async def test_a_closed_episode_has_no_week_and_no_doubt_about_it(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert "?" not in row_of(app, "P.D.")


async def test_escape_on_the_first_screen_says_how_to_close(app: Ward) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        assert "ctrl+q closes the program" in text_of(app)
        await pilot.press("x")
        assert app.screen.query_one(Input).value == "x"  # the field still has the keys


async def test_a_label_in_wide_letters_or_markup_stays_in_its_column(app: Ward) -> None:
    new_person(app.care, "漢字漢字漢字漢字漢字", "", EpisodeForm(Side.LEFT))
    new_person(app.care, "[bold]=1+1[/]", "", replace(EpisodeForm(Side.RIGHT), structure="s" * 80))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "[bold" in text_of(app)
        lines = [line for line in text_of(app).splitlines() if "漢" in line or "[bold" in line]
        assert all("…" in line for line in lines)
        assert misfits(app) == []


@pytest.mark.parametrize("size", [(80, 24), (60, 20), (120, 40)])
async def test_it_fits(app: Ward, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert misfits(app) == []
        assert "right ▶" in row_of(app, "R.K.")


@pytest.mark.parametrize("width", [58, 70, 78, 90, 100, 119, 200])
def test_the_columns_are_within_the_width(width: int) -> None:
    columns = columns_of(width)
    assert columns.width <= (width if width < 100 else width - 1)  # no word touches the edge where there is room
    assert columns.gap >= len("none beyond error")
    assert columns.next >= len("today 10:40")
    assert columns.who >= 7


async def test_each_stage_is_told_whole_on_the_least_terminal_of_all(app: Ward) -> None:
    care = app.care
    for label, stage in zip(("R.K.", "T.M.", "A.O."), (Stage.AGILITY, Stage.SPORT, Stage.WALK), strict=True):
        decide(care, standing(care, app.episodes[label].id), stage, "as it stands")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for label, word in (("R.K.", "agility"), ("T.M.", "sport"), ("A.O.", "walk")):
            assert row_of(app, label).rstrip().endswith(f" {word}")
        assert misfits(app) == []


def test_the_header_stands_over_its_columns() -> None:
    for width in (58, 78, 118):
        columns = columns_of(width)
        assert sum(len(text) for text, _, _ in header_pieces(columns)) == columns.width


def test_the_grade_stays_where_the_injury_is_too_long() -> None:
    row = CaseloadRow("p", "R.K.", "e", Side.LEFT, "", Grade.III, 4, structure="lateral ligament")
    assert injury_cell(row, 22) == "lateral ligament III  "
    assert injury_cell(row, 20) == "lateral ligament III"
    assert injury_cell(row._replace(grade=Grade.I), 20) == "lateral ligament I  "
    assert injury_cell(row, 17) == "lateral liga… III"
    assert injury_cell(row._replace(grade=None), 20) == "not yet graded      "
    assert injury_cell(row._replace(episode=None), 20) == "no episode          "


async def test_who_comes_today_is_first_and_the_next_visit_has_its_column(app: Ward) -> None:
    for label, line in (("T.M.", "today 10:40"), ("A.O.", "thu 9:00"), ("R.K.", "3 dec 14:00")):
        plan(app.care, app.care.person(app.episodes[label].person), line)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "next visit" in text_of(app).splitlines()[3]
        await pilot.pause()
        await pilot.pause()
        first = " ".join(text_of(app).splitlines()[4].split())
        assert first == "▸!T.M. ◀ left lateral ligament I 2 today 10:40 not measured none"
        assert " Thu " in row_of(app, "A.O.")
        assert " 3 Dec " in row_of(app, "R.K.")
        await pilot.resize_terminal(120, 40)
        await pilot.pause()
        assert "Thu 09:00" in row_of(app, "A.O.")
        assert "3 Dec 14:00" in row_of(app, "R.K.")


async def test_f5_lists_people_without_an_episode_last_and_enter_opens_their_page(app: Ward) -> None:
    person, _ = new_person(app.care, "B.B.")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f5")
        await pilot.pause()
        assert "no episode" in row_of(app, "B.B.")
        assert text_of(app).index("P.D.") < text_of(app).index("B.B.")
        await pilot.press(*"b.b", "f8")
        await pilot.pause()
        assert "B.B. has no episode" in text_of(app)
        await pilot.press("enter")
        await pilot.pause()
        assert app.opened[-1] == (commands.PAGE, {"person": person.id})


def test_a_gap_that_is_too_long_keeps_its_figure() -> None:
    assert gap_cell("stance, eyes open, 28.1 short", 22) == "stance, e…, 28.1 short"
    assert gap_cell("lunge, 5.4 short", 20) == "lunge, 5.4 short    "


def test_no_key_does_nothing_silently() -> None:
    assert unmet(CaseloadScreen) == []


async def test_whose_recall_is_due_stands_below_the_open_ones(app: Ward) -> None:
    """P.D. was discharged long ago: nobody has seen them since."""
    care = app.care
    (person,) = people.people_labelled(care.record, "P.D.")
    (episode,) = episodes.episodes_of_person(care.record, person.id)
    closed = episode._replace(closed=Stamp.of(datetime(2026, 8, 20, 12, tzinfo=UTC)))
    episodes.revise_episode(care.record, closed, by="AB", because="the day of discharge")
    async with app.run_test(size=(80, 24)) as pilot:
        while "1 recall due" not in text_of(app):  # they are looked for once the rows are painted
            await pilot.pause()
        assert "recall due 20 Nov" in row_of(app, "P.D.")
        lines = text_of(app).splitlines()
        rows = [line for line in lines if any(label in line for label in ("R.K.", "T.M.", "P.D."))]
        assert "P.D." in rows[-1]
        assert misfits(app) == []
        await pilot.press(*"t.m")
        await pilot.pause()
        assert "P.D." not in text_of(app)
        await pilot.press("escape", *"p.d", "enter")
        await pilot.pause()
        assert app.opened == [(commands.EPISODE, {"episode": episode.id})]
