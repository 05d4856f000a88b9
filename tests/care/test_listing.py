"""The measures as text: a line each, and a page on which each figure says how it is known."""

from __future__ import annotations

import pytest

from store.care.faults import CareFault
from store.care.listing import WIDTH, measure_page, measures_text
from store.knowledge.load import load


def test_every_measure_has_a_line_with_its_unit_in_words_and_its_error() -> None:
    lines = measures_text(load()).splitlines()
    assert len(lines) == len(load().measures)
    assert "lunge: lunge, cm, left and right, MDC 1.9 cm; also lun, wall" in lines
    assert "lunge_angle: lunge angle, degrees, left and right, MDC 4.7 degrees; also angle" in lines
    assert "pain_now: pain now, of 10, one value, error unknown; also pain" in lines


@pytest.mark.parametrize("name", sorted(load().measures))
def test_each_page_fits_and_marks_every_figure(name: str) -> None:
    page = measure_page(load(), name)
    assert all(len(line) <= WIDTH for line in page.splitlines())
    measure = load().measures[name]
    marks = ("read", "recalled", "common practice", "derived")
    figures = [cut.figure for cut in (*measure.cut_offs, *measure.healthy, *measure.protocol_figures)]
    known = [line.strip() for line in page.splitlines() if line.strip().startswith(marks)]
    assert len(known) >= len(figures)
    if not measure.errors:
        assert "no change in it can be called clear" in " ".join(page.split())


def test_a_short_form_or_the_name_on_screen_finds_the_page_in_any_case() -> None:
    assert measure_page(load(), "Wall") == measure_page(load(), "lunge")
    assert measure_page(load(), "Reach, front") == measure_page(load(), "reach_ant")


@pytest.mark.parametrize(
    ("typed", "hint"), [("lungee", "did you mean lunge?"), ("xyz", "`bothfeet measures` lists them")]
)
def test_an_unknown_name_is_refused_with_the_nearest(typed: str, hint: str) -> None:
    with pytest.raises(CareFault, match=hint.replace("?", r"\?")):
        measure_page(load(), typed)
