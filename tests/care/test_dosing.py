from __future__ import annotations

from pathlib import Path

import pytest

from store.care import dosing, timing
from store.care.faults import CareFault
from store.care.timing import Overrides
from store.knowledge.load import load
from store.knowledge.words import Side
from tests.care.bouts import ward

KNOWN = load()


def dose(activity: str, *keys: tuple[str, int], asked: Overrides | None = None) -> str:
    """The dose as it is written after these keys."""
    known, asked = KNOWN.activities[activity], asked or Overrides()
    for part, by in keys:
        asked = dosing.changed_before(known, timing.planned(known, Side.RIGHT, asked), asked, part, by)
    plan = timing.planned(known, Side.RIGHT, asked)
    return ", ".join(part.says for part in dosing.parts_before(known, plan))


@pytest.mark.parametrize(
    ("activity", "says"),
    [
        ("mobilisation_belt", "3 sets, 10 reps, lunge 2 s, hold 2 s, back 2 s, rest 60 s, right"),
        ("hold_firm", "3 sets, hold 30 s, rest 20 s, left then right"),
        ("stance_open_test", "3 trials, at most 45 s, rest 20 s, left then right"),
        ("direction_shifts", "1 set, 12 shifts, 5 s each, rest 30 s, right"),
        ("heel_raise_test", "1 trial, as many reps as can be, up 1 s, down 1 s, rest 120 s, left then right"),
    ],
)
def test_a_dose_is_told_by_the_parts_that_can_be_changed(activity: str, says: str) -> None:
    assert dose(activity) == says


def test_each_key_changes_its_own_part_by_one_step() -> None:
    assert dose("mobilisation_belt", ("sets", -1), ("reps", 1), ("phase 1", 1), ("rest_s", -1)) == (
        "2 sets, 11 reps, lunge 2 s, hold 2.5 s, back 2 s, rest 55 s, right"
    )
    assert dose("direction_shifts", ("shifts", 1), ("shift_s", -1)) == (
        "1 set, 13 shifts, 4 s each, rest 30 s, right"
    )
    assert dose("stance_open_test", ("cap_s", -1)).startswith("3 trials, at most 40 s")
    assert dose("hold_firm", ("hold_s", 1)).startswith("3 sets, hold 35 s")


def test_the_keys_stop_at_the_ends() -> None:
    assert dose("mobilisation_belt", *[("sets", -1)] * 5).startswith("1 set,")
    assert "1 rep," in dose("mobilisation_belt", *[("reps", -1)] * 15)
    assert "rest 0 s" in dose("mobilisation_belt", *[("rest_s", -1)] * 15)
    assert "as many reps as can be" in dose("heel_raises", *[("reps", -1)] * 15)
    assert "lunge 0.5 s" in dose("mobilisation_belt", *[("phase 0", -1)] * 15)


def test_an_odd_time_goes_to_the_next_whole_step() -> None:
    assert "hold 30 s" in dose("hold_firm", ("hold_s", -1), asked=Overrides(hold_s=32))
    assert "hold 35 s" in dose("hold_firm", ("hold_s", 1), asked=Overrides(hold_s=32))


def test_the_sides_go_round() -> None:
    told = [dose("direction_shifts", *[("sides", 1)] * n).split(", ")[-1] for n in range(5)]
    assert told == ["right", "left then right", "right then left", "left", "right"]
    assert dose("hold_firm", ("sides", 1)).endswith("right then left")


def test_in_the_bout_only_the_times_change_and_that_is_an_event(tmp_path: Path) -> None:
    at = ward(tmp_path)
    live = at.begin("mobilisation_belt")
    at.start(live)
    assert [part.id for part in dosing.parts_during(live.plan, live.state.times)] == [
        "phase 0", "phase 1", "phase 2", "rest_s",
    ]  # fmt: skip
    dosing.change_during(live, "phase 0", 1)
    dosing.change_during(live, "rest_s", -1)
    assert [part.says for part in dosing.parts_during(live.plan, live.state.times)] == [
        "lunge 2.5 s", "hold 2 s", "back 2 s", "rest 55 s",
    ]  # fmt: skip
    assert live.look().undo == "change of times"
    hold = at.begin("hold_firm")
    dosing.change_during(hold, "hold_s", 1)
    assert hold.state.times.hold_ms == 35_000
    with pytest.raises(CareFault, match="Only reps and intervals have phases"):
        hold.set_times(phases=live.plan.phases)
