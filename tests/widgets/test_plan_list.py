"""The rows of a plan: nothing that they say is cut, at any width that is used."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from store.care.dose_words import dose_words
from store.knowledge.load import load
from store.knowledge.words import Side
from tui.widgets.plan_list import PlanRow, Stand, row_lines

KNOWN = load()
NAMES = {
    *(measure.name for measure in KNOWN.measures.values()),
    *(f"{measure.name}, re-test" for measure in KNOWN.measures.values()),
    *(activity.name for activity in KNOWN.activities.values()),
    "what has changed", "safety re-asked", "home programme", "note",
}  # fmt: skip
LEFT = {
    *(f"{activity.name} opened, nothing done yet" for activity in KNOWN.activities.values()),
    *(f"{activity.name} kept paused at set 2" for activity in KNOWN.activities.values()),
}
SAYS = {
    *(dose_words(activity, Side.RIGHT) for activity in KNOWN.activities.values()),
    *(f"nothing done yet: {dose_words(activity, Side.RIGHT)}" for activity in KNOWN.activities.values()),
    "not in this version", "skipped today", "pain, consent", "not known to this copy", "done, cannot be read",
    "pain 2 worst 4 morning 1 walk 3 confidence 6 gave way 0 home 5/7", "no consent pain 2", "consent given",
    "left in, the other side waits", "3 trials a side", "left 10.2, right 4.8", "left unable, right cap reached",
    "right +2.0, clear gain, but only 2 trials of 3: the error is larger than the one used",
    "left 3 holds, no fault, pain 0 0 0; right 3 holds, 12 faults, pain 10 10 10", "left 1 x 10; right to go",
    "right 6 of 12 in control; left to go", "kept paused", "done",
}  # fmt: skip
MINDS = "no consent, day 1, anticoagulants, loss of feeling, hypermobility, 15 years old"
WIDTHS = {"80x24": 46, "100x30": 54, "120x40": 74, "60x20": 26}


def joined(row: PlanRow, width: int) -> str:
    lines = ["".join(text for text, _, _ in line) for line in row_lines(row, width, at_cursor=True)]
    assert all(cell_len(line) <= width for line in lines), lines
    return "\n".join(lines)


def words(text: str) -> list[str]:
    return text.replace("\n", " ").split()


def holds(whole: str, part: str) -> bool:
    """Whether all words of a part stand in the whole, in their order, or one under the other without a gap."""
    rest = iter(words(whole))
    return all(word in rest for word in words(part)) or "".join(words(part)) in "".join(words(whole))


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
@pytest.mark.parametrize("says", sorted(SAYS))
def test_every_saying_of_a_plan_stands_whole(says: str, width: int) -> None:
    for stand in (Stand.OPEN, Stand.DONE, Stand.DROPPED):
        for drop in (False, True):
            whole = joined(PlanRow("a", "stance, eyes closed, re-test", says, stand, 12, drop), width)
            assert "…" not in whole
            assert holds(whole, says)


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_every_name_of_a_plan_stands_whole(width: int) -> None:
    for name in sorted(NAMES):
        assert holds(joined(PlanRow("a", name, "3 x 10", Stand.OPEN, 5), width).replace("5 min", ""), name)


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_a_bout_that_was_left_stands_whole(width: int) -> None:
    for name in sorted(LEFT):
        whole = joined(PlanRow("a", name, "space goes on", Stand.PAUSED), width)
        assert holds(whole, name)
        assert holds(whole, "space goes on")


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_what_to_mind_is_marked_and_stands_whole(width: int) -> None:
    whole = joined(PlanRow("a", "mobilisation, belt", "3 x 10, right", Stand.OPEN, 6, minds=MINDS), width)
    assert "!" in whole
    assert holds(whole, f"mind: {MINDS}")
