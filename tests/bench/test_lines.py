"""What the bench says is right, whatever it measures."""

from __future__ import annotations

import pytest

from tests.bench.lines import Against, Line, Waits, alternate, nearest_rank, table


@pytest.mark.parametrize(
    ("share", "expected"), [(0.01, 1.0), (0.5, 50.0), (0.99, 99.0), (0.991, 100.0), (1.0, 100.0)]
)
def test_a_percentile_is_by_nearest_rank(share: float, expected: float) -> None:
    assert nearest_rank([float(n) for n in range(100, 0, -1)], share) == expected


def test_a_percentile_of_few_is_the_largest() -> None:
    assert nearest_rank([3.0, 1.0, 2.0], 0.99) == 3.0
    with pytest.raises(ValueError, match="needs values"):
        nearest_rank([], 0.99)


def test_arms_take_turns_and_turn_round() -> None:
    order: list[str] = []

    def arm(name: str, values: list[float]) -> float:
        order.append(name)
        return values.pop()

    ours, peer = [9.0, 1.0, 2.0], [5.0, 5.0, 4.0]
    assert alternate(3, lambda: arm("ours", ours), lambda: arm("peer", peer)) == [2.0, 5.0]
    assert order == ["ours", "peer", "peer", "ours", "ours", "peer"]


@pytest.mark.parametrize(
    ("against", "at_most", "figure", "met"),
    [
        (Against.RATIO, 1.5, 1.5, True),
        (Against.RATIO, 1.4, 1.5, False),
        (Against.MORE, 1.0, 1.0, True),
        (Against.ALONE, 2.0, 3.0, False),
    ],
)
def test_a_figure_is_held_against_its_bound(against: Against, at_most: float, figure: float, met: bool) -> None:
    line = Line("a key", "ms", ours=3.0, at_most=at_most, against=against, peer_is="bare", peer=2.0)
    assert line.figure == pytest.approx(figure)
    assert line.met is met
    assert ("met" if met else "missed") in table([line])


def test_what_waits_is_not_called_met() -> None:
    text = table([Waits("a cue", "nothing to time yet")])
    assert "waits" in text
    assert "met" not in text
