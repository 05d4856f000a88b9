"""An ankle in words and as data, worked out from the same standing."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from store.care.adding import add_line
from store.care.as_data import episode_data, json_text, measure_data
from store.care.care import Care
from store.care.compared import signed, since_first_text
from store.care.dates import day_text
from store.care.in_words import rough, visible
from store.care.people import EpisodeForm, new_person
from store.care.shown import episode_text, measure_text
from store.care.standing import Standing, standing
from store.knowledge.load import load
from store.knowledge.time import SetClock
from store.knowledge.words import Grade, Side
from tests.screens.made import opened

Shown = Callable[..., Standing]


@pytest.fixture
def made(tmp_path: Path) -> tuple[Care, SetClock]:
    return opened(tmp_path)


@pytest.fixture
def shown(made: tuple[Care, SetClock]) -> Shown:
    """Lines of visits, a day apart, as a standing; further arguments are of the episode's form."""

    def of(*visits: tuple[str, ...], born: str = "1995", **form: object) -> Standing:
        care, clock = made
        asked = EpisodeForm(Side.RIGHT, **form)  # type: ignore[arg-type]  # a test names fields of its choice
        person, episode = new_person(care, "R.K.", born, asked)
        assert episode is not None
        for lines in visits:
            clock.move(24 * 3600)
            for line in lines:
                add_line(care, person, line)
        return standing(care, episode.id)

    return of


def line(held: Standing, name: str) -> str:
    return measure_text(held.of(name))


@pytest.mark.parametrize(
    ("typed", "name", "sides", "gap"),
    [
        ("lunge 10.2 4.8", "lunge", "left 10.2 cm, right 4.8 cm", "5.4 cm short against"),
        ("lunge 10 10", "lunge", "left 10.0 cm, right 10.0 cm", "equal to"),
        ("girth 51 52.4", "girth", "left 51.0 cm, right 52.4 cm", "1.4 cm larger against"),
        ("angle 40 31", "lunge_angle", "left 40 degrees, right 31 degrees", "9 degrees short against"),
        ("stance cap cap", "stance_open", "left 45.0 s, cap reached, right 45.0 s, cap reached", ""),
        ("lunge left 10 right unable", "lunge", "left 10.0 cm, right unable", ""),
        ("lunge right 5", "lunge", "left not measured, right 5.0 cm", ""),
        ("pain 3 after", "pain_now", "3 of 10 after treatment", ""),
    ],
)
def test_a_measure_in_a_line_of_words(shown: Shown, typed: str, name: str, sides: str, gap: str) -> None:
    held = shown((typed,))
    told = f"; the injured right is {gap} the uninjured side" if gap else ""
    assert line(held, name) == f"{held.of(name).measure.name}: {sides}, {day_text(held.on)}{told}"


@pytest.mark.parametrize(
    ("typed", "name", "index"), [("heel 24 7", "heel_raise", "29"), ("stance 40 17", "stance_open", "42")]
)
def test_a_count_and_a_time_have_their_index_in_words(shown: Shown, typed: str, name: str, index: str) -> None:
    assert line(shown((typed,)), name).endswith(f"; LSI {index} % of the uninjured side")


def test_a_side_at_the_cap_makes_a_bound_and_no_figure(shown: Shown) -> None:
    held = shown(("stance cap 17", "stance_closed 12 cap"))
    assert "is at least 28.0 s short against the uninjured side; LSI at most 38 % of" in line(held, "stance_open")
    assert "is at least 33.0 s more against the uninjured side; LSI at least 375 % of" in line(
        held, "stance_closed"
    )
    data = {one["id"]: one for one in map(measure_data, held.measures)}
    bounds = {name: (data[name]["gap_at_least"], data[name]["lsi_bound"]) for name in data}
    assert bounds["stance_open"] == (True, "at most")
    assert bounds["stance_closed"] == (True, "at least")
    assert bounds["lunge"] == (False, None)


def test_a_bound_below_the_other_side_makes_no_gap_and_no_index(shown: Shown) -> None:
    one = shown(("stance cap 17",)).of("stance_open")
    longer = dict(one.courses)
    right = one.of(Side.RIGHT)
    assert right is not None
    raised_cap = right._replace(value=50.0)
    longer[Side.RIGHT] = longer[Side.RIGHT]._replace(latest=raised_cap)
    raised = one._replace(courses=longer)
    assert (raised.gap, raised.deficit, raised.lsi, raised.gap_words, raised.lsi_words) == (
        None,
        None,
        None,
        "",
        "",
    )


@pytest.mark.parametrize(
    ("visits", "unlike"),
    [
        ((("lunge left 10", "lunge right 5 tape"),), "not measured under the same conditions"),
        ((("lunge 10 5",), ("lunge right 6",)), "not measured on the same day"),
        ((("lunge 10 5",),), ""),
    ],
)
def test_a_gap_of_unlike_readings_is_told_with_what_was_not_alike(
    shown: Shown, visits: tuple[tuple[str, ...], ...], unlike: str
) -> None:
    held = shown(*visits)
    said = line(held, "lunge").partition("the injured right is ")[2].partition("; since")[0]
    assert said.partition(" against the uninjured side")[2] == (f", but {unlike}" if unlike else "")
    assert measure_data(held.of("lunge"))["gap_warnings"] == ([unlike] if unlike else [])


def test_a_change_under_other_conditions_is_nowhere_told_without_a_warning(shown: Shown) -> None:
    held = shown(("lunge l 10 r 5 5 5",), ("lunge l 10 r 8 8 8 brace",))
    for said in (line(held, "lunge"), since_first_text(held.of("lunge"))):
        assert "clear gain" in said
        assert "but not under the same conditions: none noted, then brace" in said


def test_an_error_is_told_in_two_figures_however_large() -> None:
    assert [rough(figure) for figure in (0.03, 1.914, 2, 14.3, 123.4)] == ["0.03", "1.9", "2", "14", "120"]


def test_a_change_has_its_verdict_and_nought_has_no_sign(shown: Shown) -> None:
    held = shown(("lunge l 10 r 5 5 5", "heel 20 7"), ("lunge l 10 r 5 5 5", "heel left 20 right unable"))
    assert line(held, "lunge").endswith("since the visit before: 0.0, within measurement error")
    assert line(held, "heel_raise").endswith("since the visit before: measured, then unable: no change in figures")
    assert signed(-0.04, load().measures["lunge"]) == "0.0"


def test_sides_of_two_days_each_say_their_day(shown: Shown) -> None:
    held = shown(("lunge 10 5",), ("lunge right 6",))
    assert line(held, "lunge").startswith("lunge: left 10.0 cm, ")
    assert line(held, "lunge").count(f"{held.on:%Y}") == 2


def test_the_head_says_all_that_was_asked(shown: Shown, made: tuple[Care, SetClock]) -> None:
    today = made[0].clock.now().on
    held = shown(
        grade=Grade.II, injured_on=today - timedelta(days=10), goal="a race", goal_on=today + timedelta(days=30),
        sport="orienteering", level="club", sprains_left=0, sprains_right=2, anticoagulant=True, brace="lace-up",
        born=str(today.year - 15),
    )  # fmt: skip
    text = episode_text(held)
    for says in (
        "R.K., 14 years, right ankle injured, lateral ligament, grade II",
        "week 2, day 10 since the injury of",
        "goal: a race, ",
        "in 4 weeks",
        "sport: orienteering, club",
        "sprains before this one: left 0, right 2",
        "wears: lace-up",
        "caution: anticoagulants, growth plates, under 18",
        "nothing measured yet",
    ):
        assert says in text


def test_what_was_not_asked_is_not_said(shown: Shown) -> None:
    text = episode_text(shown())
    assert "not yet graded" in text
    assert "the day of the injury is not known" in text
    assert not any(word in text for word in ("goal", "sport", "sprains", "wears", "caution", "None"))


def test_sections_part_by_one_empty_line(shown: Shown) -> None:
    text = episode_text(shown(("lunge 10 5",)), invented=True)
    assert len(text.split("\n\n")) == 4
    assert "\n\n\n" not in text
    assert text.endswith(".\n")


def test_the_index_is_decided_by_the_measure(shown: Shown) -> None:
    held = shown(("lunge 10 5", "girth 50 52", "heel 20 10", "pain 3 after", "ant 60 50", "rpm 100 90"))
    data = {one["id"]: one["lsi"] for one in map(measure_data, held.measures)}
    assert (data["lunge"], data["heel_raise"], data["girth"], data["pain_now"]) == (50, 50, None, None)
    assert data["reach_ant"] == pytest.approx(100 * 50 / 60)
    words = {one.measure.id: one.lsi_words for one in held.measures}
    assert (words["lunge"], words["girth"], words["reach_ant"], words["pain_now"]) == ("", "", "", "")
    assert (words["heel_raise"], words["reach_pm"]) == ("LSI 50 %", "LSI 90 %")


def test_data_says_null_where_nothing_is_known(shown: Shown) -> None:
    data = episode_data(shown(("lunge right 5",)))
    (lunge,) = data["measures"]
    assert lunge["left"] is None
    assert all(lunge[name] is None for name in ("reference", "gap", "deficit", "lsi", "change", "retest"))
    assert data["episode"]["grade"] is None
    assert data["episode"]["stage"] is None


def test_what_cannot_be_seen_is_named_or_escaped() -> None:
    assert visible("a\tb\x1b[2J\u202e\n") == "aU+0009bU+001B[2JU+202EU+000A"
    assert visible("Zoë 腫れ 👩‍🔬") == "Zoë 腫れ 👩‍🔬"
    text = json_text({"label": "\x1b\x9b\u202eé\U000e0001"})
    assert not any(char in text for char in "\x1b\x9b\u202e\U000e0001")
    assert json.loads(text) == {"label": "\x1b\x9b\u202eé\U000e0001"}
    assert "é" in text
