"""What is commonly said of the lunge, and that the tables own up to having no source for it."""

from __future__ import annotations

from store.knowledge.kinds import CutOff
from store.knowledge.load import load
from store.knowledge.words import Mark

LUNGE = load().measures["lunge"]


def only(lines: tuple[CutOff, ...], value: float) -> CutOff:
    found = [line for line in lines if line.figure.value == value]
    assert len(found) == 1
    return found[0]


def test_a_healthy_lunge_is_about_ten_centimetres() -> None:
    # Common practice, no source. Read ones beside it: 12 cm, SD 2.8 (Hoch and McKeon 2011); 11.6 and 11.8 cm
    # (Calatayud and others 2015).
    figure = only(LUNGE.healthy, 10).figure
    assert (figure.mark, figure.source) == (Mark.COMMON, "")
    assert only(LUNGE.healthy, 12).figure.source == "hoch_2011"
    assert only(LUNGE.healthy, 11.6).figure.source == "calatayud_2015"


def test_about_eight_centimetres_are_wanted_before_jogging() -> None:
    # Common practice, no source: a line that a clinician may change, and never a verdict by itself.
    line = only(LUNGE.cut_offs, 8)
    assert (line.figure.mark, line.figure.source) == (Mark.COMMON, "")
    assert "jogging" in line.says


def test_most_healthy_people_are_even_within_a_centimetre_and_a_half() -> None:
    # Hoch and McKeon 2011: 68 % of healthy adults.
    assert only(LUNGE.healthy, 1.5).figure.source == "hoch_2011"
