from __future__ import annotations

from datetime import date

import pytest
from textual.widgets import Input

from tests.helpers.fit import misfits, text_of
from tests.helpers.stage import Bare, Stage
from tui.widgets.choice_field import ChoiceField
from tui.widgets.day_text import Towards, day_shown, read_day
from tui.widgets.field import DayField, Field
from tui.widgets.key_line import KeyLine

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2026-11-02", date(2026, 11, 2)),
        ("2026-2-9", date(2026, 2, 9)),
        ("2.11.", date(2026, 11, 2)),
        ("2.11", date(2026, 11, 2)),
        ("24.12.", date(2025, 12, 24)),
        ("2.11.2024", date(2024, 11, 2)),
        ("2. 11. 24", date(2024, 11, 2)),
        ("29.2.", date(2024, 2, 29)),
        ("25.11.", TODAY),
        ("today", TODAY),
        ("  Yesterday ", date(2026, 11, 24)),
        ("-3d", date(2026, 11, 22)),
        ("+2w", date(2026, 12, 9)),
        ("20 Nov", date(2026, 11, 20)),
        ("20 november 2025", date(2025, 11, 20)),
        ("1. Sept", date(2026, 9, 1)),
        ("26 Nov", date(2025, 11, 26)),  # a day that has not come this year was last year's
        ("5 days ago", date(2026, 11, 20)),
        ("2 weeks ago", date(2026, 11, 11)),
    ],
)
def test_days_as_they_are_typed(typed: str, meant: date) -> None:
    assert read_day(typed, TODAY) == meant


def test_a_day_without_a_year_is_looked_for_where_it_makes_sense() -> None:
    assert read_day("14.3.", TODAY, Towards.FUTURE) == date(2027, 3, 14)
    assert read_day("14.3.", TODAY, Towards.PAST) == date(2026, 3, 14)
    assert read_day("25.11.", TODAY, Towards.FUTURE) == TODAY


@pytest.mark.parametrize(
    "typed", ["soon", "31.2.", "2026-13-01", "٢.١١.", "3", "2026/11/02", "20 mai", "31 Nov", "x" * 300]
)
def test_what_is_no_day_says_what_to_type(typed: str) -> None:
    with pytest.raises(ValueError, match="today or -3d") as told:
        read_day(typed, TODAY)
    assert len(str(told.value)) < 120


def test_a_day_is_shown_the_same_in_every_locale() -> None:
    assert day_shown(TODAY) == "Wed 25 Nov 2026"


def four_letters(text: str) -> str | None:
    return None if len(text) <= 4 else "four letters at most: use initials"


async def test_what_is_wrong_stands_under_the_field_when_it_is_left() -> None:
    label = Field("label", check=four_letters, must=True, hint="initials will do")
    other = Field("sport")
    app = Stage(label, other)
    async with app.run_test(size=(100, 24)) as pilot:
        label.focus_field()
        await pilot.pause()
        assert "initials will do" in text_of(app)
        await pilot.press(*"Orienteer")
        assert "four letters" not in text_of(app)
        await pilot.press("tab")
        await pilot.pause()
        assert text_of(app).splitlines()[1].strip() == "! four letters at most: use initials"
        assert label.value == "Orienteer"
        label.value = "R.K."
        await pilot.pause()
        assert "four letters" not in text_of(app)
        assert label.check()
        label.value = ""
        assert not label.check()
        await pilot.pause()
        assert "! label is needed" in text_of(app)
        label.refuse("this label is taken")
        await pilot.pause()
        assert "! this label is taken" in text_of(app)
        assert misfits(app) == []


async def test_brackets_in_what_is_said_are_text() -> None:
    field = Field("label", check=lambda text: f"'{text}' is taken")
    app = Stage(field)
    async with app.run_test(size=(100, 24)) as pilot:
        field.value = "[red]x"
        field.check()
        await pilot.pause()
        assert "'[red]x' is taken" in text_of(app)


async def test_the_cursor_does_not_blink_and_a_long_paste_is_cut() -> None:
    field = Field("label", most=10)
    async with Stage(field).run_test(size=(80, 24)) as pilot:
        field.focus_field()
        box = field.query_one(Input)
        assert not box.cursor_blink
        await pilot.press(*"abcdefghijklmnop")
        assert field.value == "abcdefghij"


async def test_a_day_is_shown_as_it_was_understood() -> None:
    field = DayField("injured on", TODAY, check=lambda day: "the injury cannot lie ahead" if day > TODAY else None)
    app = Stage(field)
    async with app.run_test(size=(100, 24)) as pilot:
        field.focus_field()
        await pilot.press(*"2.11.")
        await pilot.pause()
        assert "Mon 2 Nov 2026" in text_of(app)
        assert field.day == date(2026, 11, 2)
        field.value = "+1d"
        assert not field.check()
        await pilot.pause()
        assert "! the injury cannot lie ahead" in text_of(app)
        field.value = "perhaps"
        assert not field.check()
        await pilot.pause()
        assert "'perhaps' is no day" in text_of(app)


async def test_a_day_to_come_that_is_past_says_so() -> None:
    field = DayField("goal's day", TODAY, towards=Towards.FUTURE)
    app = Stage(field)
    async with app.run_test(size=(100, 24)) as pilot:
        field.value = "yesterday"
        await pilot.pause()
        assert ", past" in text_of(app)
        field.value = "+8w"
        await pilot.pause()
        assert ", past" not in text_of(app)


SIDES = [(None, "not asked"), ("left", "left"), ("right", "right")]


class Hearing(Stage):
    def on_choice_field_changed(self, event: ChoiceField.Changed) -> None:
        self.seen.append(event.field.value)


async def test_a_choice_is_walked_with_arrows_space_and_letters() -> None:
    choice: ChoiceField[str | None] = ChoiceField("side", SIDES)
    app = Hearing(choice)
    async with app.run_test(size=(80, 24)) as pilot:
        choice.focus()
        await pilot.pause()
        assert text_of(app).splitlines()[0].split("side")[1].split() == ["[not", "asked]", "left", "right"]
        await pilot.press("right", "space", "right", "left", "l", "x")
        await pilot.pause()
        assert app.seen == ["left", "right", None, "right", "left"]
        assert "[left]" in text_of(app)
        await pilot.click(choice, offset=(38, 0))
        assert choice.value == "right"


async def test_letters_of_a_choice_are_not_taken_by_the_screen() -> None:
    choice: ChoiceField[str] = ChoiceField("grade", [("I", "mild"), ("II", "middling")])
    screen = Bare(choice, KeyLine())
    async with Stage(screen=screen).run_test(size=(80, 24)) as pilot:
        choice.focus()
        await pilot.press("m")
        assert (choice.value, screen.done) == ("II", [])
        await pilot.press("u")
        assert screen.done == ["undo"]


def is_bold(app: Stage, field: Field) -> bool:
    """Whether the label of a field is painted bold."""
    strip = app.screen._compositor.render_strips()[field.region.y]
    return any(bool(part.style and part.style.bold) for part in strip if field.label in part.text)


async def test_a_field_takes_as_many_lines_as_what_is_said_of_it() -> None:
    one, other = Field("label", check=lambda text: "word " * len(text)), Field("sport")
    app = Stage(one, other)
    async with app.run_test(size=(60, 24)) as pilot:
        heights = []
        for text in ("", "abc", "a" * 40, ""):
            one.value = text
            one.check()
            await pilot.pause()
            heights.append((one.region.height, other.region.y))
        assert heights == [(2, 2), (2, 2), (5, 5), (2, 2)]


async def test_a_text_longer_than_its_field_is_seen_where_the_cursor_is() -> None:
    field = Field("goal")
    app = Stage(field)
    async with app.run_test(size=(80, 24)) as pilot:
        field.focus_field()
        await pilot.press(*(f"{'a' * 60}end"))
        await pilot.pause()
        assert "aaaend" in text_of(app)
        await pilot.press("home")
        await pilot.pause()
        assert "aaa" in text_of(app)
        assert "end" not in text_of(app)


async def test_only_the_label_of_the_field_in_hand_is_bold() -> None:
    one, other = Field("label", id="one"), Field("born", id="other")
    app = Stage(screen=Bare(one, other))
    async with app.run_test(size=(80, 24)) as pilot:
        bold = []
        for field in (one, other, one):
            field.focus_field()
            await pilot.pause()
            bold.append([is_bold(app, each) for each in (one, other)])
        assert bold == [[True, False], [False, True], [True, False]]
