"""Practice: what is offered, an assessment against its budgets, a person on paper, one's own error."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.care import drilling, paper_cases, practising
from store.care.care import Care, open_care
from store.care.drilling import Drill
from store.care.faults import FAULTS, CareFault
from store.care.practising import Walk
from store.care.statements import Section
from store.knowledge.load import load
from store.knowledge.practice import Outcome
from store.knowledge.time import SetClock
from store.knowledge.tries import TryKind
from store.reckon.reliability import summary

WHOLE = load().practice.sequences["whole"]
LUNGE = load().measures["lunge"]


@pytest.fixture
def clock() -> SetClock:
    return SetClock(datetime(2026, 9, 12, 14, 0, tzinfo=UTC))


@pytest.fixture
def care(tmp_path: Path, clock: SetClock) -> Iterator[Care]:
    care = open_care(tmp_path / "practice.sqlite", clock, examiner="AB", create=True)
    yield care
    care.close()


def words(sections: list[Section]) -> str:
    return "\n".join(f"{one.about}: {one.says}" for section in sections for one in section.statements)


# what is offered, and kept


def test_assessments_people_on_paper_and_measures_are_offered(care: Care) -> None:
    found = practising.offers(care)
    assert [one.kind for one in found] == sorted((one.kind for one in found), key=list(TryKind).index)
    refs = {one.ref for one in found if one.kind is TryKind.DRILL}
    assert {"lunge", "lunge_angle", "girth"} <= refs
    assert not refs & {"pain_now", "pitting", "limp", "reach_composite", "confidence"}


def test_the_last_try_stands_beside_what_was_tried(care: Care) -> None:
    def says() -> str:
        return next(one.says for one in practising.offers(care) if one.ref == "lunge" and one.kind is TryKind.CASE)

    assert says() == "not tried yet"
    kept = practising.begin(care, TryKind.CASE, "lunge", {})
    assert says().startswith("begun ")
    practising.keep(care, kept, {"outcome": "films"}, ended=True)
    assert says().startswith("last ")


def test_a_try_that_was_left_goes_on_the_same_day_only(care: Care, clock: SetClock) -> None:
    drill = drilling.planned(LUNGE, "3 x 2")
    kept = practising.begin(care, TryKind.DRILL, "lunge", drill.data)
    drill, _ = drilling.with_value(care, drill, "10.2")
    practising.keep(care, kept, drill.data)
    left = practising.left_today(care, TryKind.DRILL, "lunge")
    assert left is not None
    assert drilling.resumed(care, left) == drill
    assert practising.left_today(care, TryKind.DRILL, "girth") is None
    clock.move(24 * 3600)
    assert practising.left_today(care, TryKind.DRILL, "lunge") is None


# an assessment in order and time


def test_the_seconds_of_a_block_run_down_and_past_nought() -> None:
    walk = Walk(WHOLE)
    assert walk.left_s(0) == 60
    walk = walk.on(70.0)
    assert walk.block is WHOLE.blocks[1]
    assert walk.left_s(70.0) == 90
    assert walk.left_s(170.0) == -10
    assert walk.back() == Walk(WHOLE)


@given(st.lists(st.floats(0, 3600), max_size=14))
def test_no_block_takes_less_than_nothing_and_together_they_take_all(at: list[float]) -> None:
    walk = Walk(WHOLE)
    for second in at:
        walk = walk.on(second)
    assert len(walk.ended_s) == min(len(at), len(WHOLE.blocks))
    assert all(seconds >= 0 for seconds in walk.taken_s)
    assert sum(walk.taken_s) == pytest.approx(walk.ended_s[-1] if walk.ended_s else 0)
    assert (walk.block is None) == (len(at) >= len(WHOLE.blocks))


def test_what_costs_the_station_is_named_first() -> None:
    done = {step.id: True for step in WHOLE.steps} | {"before": False, "consent": False}
    assert [step.id for step in practising.left_out(WHOLE, done)] == ["consent", "before"]
    walk = Walk(WHOLE).on(75.0)
    told = words(practising.walked(walk, done))
    count = len(WHOLE.steps)
    assert f"steps: {count - 2} of {count} steps done, 1 left out that cost the station" in told
    assert "left out: what you will do, and a yes to it (needed)" in told
    assert "begin: 1:15 of 1:00, 0:15 over" in told
    assert "in all: 1:15 of 10:00" in told


def test_nothing_answered_is_nothing_done() -> None:
    assert len(practising.left_out(WHOLE, {})) == len(WHOLE.steps)


# a person on paper


def test_the_milder_way_is_said_and_what_was_not_asked() -> None:
    knowledge = load()
    case = knowledge.practice.cases["lunge"]
    told = words(paper_cases.judged(knowledge, case, ["how"], Outcome.TREAT))
    assert "the rules: films first, by the fracture rule" in told
    assert "the milder way" in told
    assert "not asked: base of the fifth metatarsal: sore on the bone" in told


def test_only_who_is_treated_here_would_have_gone_on_unseen() -> None:
    knowledge = load()
    case = knowledge.practice.cases["rally"]
    said = {
        decided: words(paper_cases.judged(knowledge, case, ["calf_squeeze"], decided))
        for decided in (Outcome.TREAT, Outcome.FILMS)
    }
    assert "gone on unseen" in said[Outcome.TREAT]
    assert "the milder way" in said[Outcome.FILMS]
    assert "unseen" not in said[Outcome.FILMS]


def test_right_by_all_that_it_hangs_on() -> None:
    knowledge = load()
    case = knowledge.practice.cases["lunge"]
    told = words(paper_cases.judged(knowledge, case, case.needed, Outcome.FILMS))
    assert "the rules: films first, by the fracture rule: the same" in told
    assert "all that it hangs on was asked" in told
    assert "milder" not in told
    right = words(paper_cases.judged(knowledge, case, case.needed[:1], Outcome.FILMS))
    assert "Right, but not by all that it hangs on." in right


def test_the_graver_way_is_no_milder_one() -> None:
    knowledge = load()
    told = words(paper_cases.judged(knowledge, knowledge.practice.cases["root"], [], Outcome.REFER))
    assert "milder" not in told


# one's own error


@pytest.mark.parametrize(
    ("line", "plan"), [("8 x 2", (8, 2)), ("8x3", (8, 3)), (" 10 ", (10, 2)), ("4 × 2", (4, 2)), ("6*2", (6, 2))]
)
def test_how_many_and_how_often(line: str, plan: tuple[int, int]) -> None:
    drill = drilling.planned(LUNGE, line)
    assert (drill.ankles, drill.repeats) == plan


@pytest.mark.parametrize("line", ["", "eight", "1 x 2", "8 x 1", "8 x 6", "41", "8 x", "-8", "8 x 2 x 2", "٨ x ٢"])
def test_what_is_no_plan_says_what_to_type(line: str) -> None:
    with pytest.raises(CareFault, match="how many ankles, how often: 8 x 2"):
        drilling.planned(LUNGE, line)


def test_values_come_round_by_round(care: Care) -> None:
    drill = drilling.planned(LUNGE, "3 x 2")
    seen = []
    for text in ("10.2", "4,8", "91mm", "10.0", "5.2", "9.3"):
        seen.append((drill.round, drill.ankle))
        drill, asks = drilling.with_value(care, drill, text)
        assert asks == ()
    assert seen == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2), (2, 3)]
    assert drill.done
    assert drill.table == [[10.2, 10.0], [4.8, 5.2], [9.1, 9.3]]
    assert drilling.without_last(drill).ankle == 3


@pytest.mark.parametrize("text", ["", "10 11", "abc", "unable", "99", "10kg", "-1"])
def test_what_is_no_value_is_refused_with_a_sentence(care: Care, text: str) -> None:
    with pytest.raises(FAULTS) as found:
        drilling.with_value(care, drilling.planned(LUNGE, "3"), text)
    assert str(found.value)


def test_an_odd_value_is_asked_about_without_a_side(care: Care) -> None:
    _, asks = drilling.with_value(care, drilling.planned(LUNGE, "3"), "24")
    assert len(asks) == 1
    assert "left" not in asks[0]


def test_what_the_error_is_said_to_be_is_what_reckon_makes_of_it() -> None:
    values = (10.2, 4.8, 9.1, 10.0, 5.2, 9.3)
    found = summary([[10.2, 10.0], [4.8, 5.2], [9.1, 9.3]])
    told = words(drilling.told(Drill(LUNGE, 3, 2, values)))
    assert f"SEM: {found.sem:.2g} cm" in told
    assert f"MDC: {found.mdc:.2g} cm" in told
    assert f"ICC(2,1): {found.icc.value:.2f} (95 %" in told
    assert "of 3 ankles measured 2 times" in told
    assert "no more than the 0.5 cm that the program reckons with within a visit" in told
    assert "3 ankles are few" in told


def test_nought_has_no_sign() -> None:
    told = words(drilling.told(Drill(LUNGE, 3, 2, (10.0, 9.0, 8.0, 10.01, 9.0, 7.98))))
    assert "between rounds: 0.0 cm, 95 of 100 differences from 0.0 to 0.0" in told


def test_a_round_that_is_not_whole_counts_for_nothing() -> None:
    assert drilling.told(Drill(LUNGE, 3, 2, (10.2, 4.8, 9.1, 10.0, 5.2))) == []
    whole = Drill(LUNGE, 2, 3, (10.2, 4.8, 10.0, 5.2, 9.9))
    assert whole.enough
    assert drilling.told(whole) == drilling.told(Drill(LUNGE, 2, 2, whole.values[:4]))


def test_the_same_value_each_time_tells_of_no_icc() -> None:
    told = words(drilling.told(Drill(LUNGE, 2, 2, (9.0, 9.0, 9.0, 9.0))))
    assert "SEM: 0 cm" in told
    assert "cannot be told of 2 ankles measured 2 times: nothing differs" in told


def test_an_unknown_error_is_said() -> None:
    unknown = LUNGE._replace(errors=())
    told = words(drilling.told(Drill(unknown, 2, 2, (9.0, 10.0, 9.2, 10.1))))
    assert "no error of this measure is known to the program" in told
