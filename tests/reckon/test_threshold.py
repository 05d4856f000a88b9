"""Verdicts at and about their edges."""

from __future__ import annotations

import pytest

from store.knowledge.words import Better
from store.reckon.threshold import LineVerdict, of_answer, of_chance, past


@pytest.mark.parametrize(
    ("chance", "verdict"),
    [
        (1.0, LineVerdict.CLEARLY_MET),
        (0.90, LineVerdict.CLEARLY_MET),
        (0.8999, LineVerdict.MET_CLOSE),
        (0.5, LineVerdict.MET_CLOSE),
        (0.4999, LineVerdict.SHORT_CLOSE),
        (0.1001, LineVerdict.SHORT_CLOSE),
        (0.10, LineVerdict.CLEARLY_SHORT),
        (0.0, LineVerdict.CLEARLY_SHORT),
    ],
)
def test_the_edges_of_a_probability(chance: float, verdict: LineVerdict) -> None:
    assert of_chance(chance) is verdict


@pytest.mark.parametrize("better", Better)
def test_a_value_of_exactly_the_line_is_met(better: Better) -> None:
    known = past(8.0, 8.0, better, 0.69)
    assert known.probability == pytest.approx(0.5)
    assert known.verdict is LineVerdict.MET_CLOSE
    unknown = past(0.1 + 0.2, 0.3, better, None)
    assert unknown.probability is None
    assert unknown.verdict is LineVerdict.MET_UNKNOWN


def test_lower_is_better_turns_the_line() -> None:
    assert past(1.0, 2.0, Better.LOWER, None).verdict is LineVerdict.MET_UNKNOWN
    assert past(3.0, 2.0, Better.LOWER, None).verdict is LineVerdict.SHORT_UNKNOWN
    above = past(10.0, 8.0, Better.HIGHER, 0.69).probability
    below = past(6.0, 8.0, Better.LOWER, 0.69).probability
    assert above == below


def test_what_counts_as_met() -> None:
    met = {verdict for verdict in LineVerdict if verdict.met}
    assert met == {verdict for verdict in LineVerdict if verdict.value.startswith(("met", "clearly met"))}
    assert of_answer(True).met
    assert not of_answer(False).met
    assert not LineVerdict.STALE.answered
    assert not LineVerdict.NOT_MEASURED.answered


@pytest.mark.parametrize("sem", [None, 0.0, -1.0])
def test_without_an_error_only_the_figures_are_compared(sem: float | None) -> None:
    assert past(9.0, 8.0, Better.HIGHER, sem).verdict is LineVerdict.MET_UNKNOWN
