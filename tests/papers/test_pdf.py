"""PDF: the drawings and the chart are in it, the sheet stands on one page, and no letter stops it."""

from __future__ import annotations

import re
import sys
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.care.faults import CareFault
from store.care.home_sheet import Sheet, sheet_of
from store.papers.formats import save_page, save_sheet
from store.papers.letter import letter_page
from store.papers.page import Block, Page
from store.papers.pdf import as_pdf
from store.papers.pdf_font import LACKS, PLAINER, UNJOINED, Font, find_font
from store.papers.pdf_ink import Ink, in_painted_order
from store.papers.pdf_sheet import sheet_pdf
from tests.care.begun import begun
from tests.care.home_made import at_home

EIGHT = (
    "band_mobilisation", "hold_firm", "heel_raises", "band_eversion", "strap_mobilisation", "step_down", "reaches",
    "calf_stretch_bent",
)  # fmt: skip
BUILT_IN = Font(Path("none.ttf"), Path("none.ttf"))
"""A font that is not there, so that the one of every reader is taken."""


def streams(pdf: bytes) -> bytes:
    """All that is written on the pages, unpacked."""
    found = re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL)
    told = []
    for each in found:
        try:
            told.append(zlib.decompress(each))
        except zlib.error:
            told.append(each)
    return b"\n".join(told)


def pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type /Page\b", pdf))


def largest(pdf: bytes) -> float:
    """The size of most of the words: the one that is set most often."""
    sizes = re.findall(rb"/F\d+ ([0-9.]+) Tf", streams(pdf))
    return max(float(each) for each in sizes)


@pytest.fixture
def built_in(monkeypatch: pytest.MonkeyPatch) -> None:
    """A computer without any of the fonts that are looked for."""
    monkeypatch.setattr("store.papers.pdf.find_font", lambda: None)
    monkeypatch.setattr("store.papers.pdf_sheet.find_font", lambda: None)


def handed(tmp_path: Path, n: int) -> Sheet:
    ward = at_home(tmp_path)
    ward.hand_out(*EIGHT[:n])
    return sheet_of(ward.now.care, ward.now.episode.id)


@pytest.mark.parametrize("n", [1, 4, 8])
def test_the_sheet_stands_on_one_page_in_the_largest_type_that_fits(tmp_path: Path, n: int) -> None:
    pdf = sheet_pdf(handed(tmp_path, n))
    assert pages(pdf) == 1
    assert largest(pdf) >= {1: 20, 4: 15, 8: 11}[n]


def test_each_thing_to_do_has_its_drawing_as_lines(tmp_path: Path, built_in: None) -> None:
    del built_in
    sheet = handed(tmp_path, 4)
    bare = replace(sheet, items=tuple(replace(one, picture="") for one in sheet.items))
    drawn, empty = sheet_pdf(sheet), sheet_pdf(bare)
    assert streams(drawn).count(b" l ") > streams(empty).count(b" l ") + 4 * 10
    assert b"/Subtype /Image" not in drawn
    assert b"Standing on one leg, a wall within reach" in drawn


def test_the_letter_has_its_chart_with_both_sides_by_name(tmp_path: Path, built_in: None) -> None:
    del built_in
    hand = begun(tmp_path)
    for line in ("lunge l 10.2 10.3 10.1 r 4.8 4.9 4.7", "lunge l 10.2 10.3 10.1 r 6.8 6.9 6.7 after"):
        hand.clock.move(120)
        hand.line(line)
    page = letter_page(hand.care, hand.episode.id)
    told = streams(as_pdf(page))
    for words in (b"right, injured", b"weeks since the injury", b"(left)"):
        assert words in told
    bare = Page(page.title, page.head, tuple(replace(one, svg="") for one in page.blocks), page.foot)
    assert b"weeks since the injury" not in streams(as_pdf(bare))


@pytest.mark.parametrize(
    ("label", "stands", "says"),
    [
        ("Zoë Ångström", "Zoë Ångström", ()),
        ("Łucja Ćwik", "?ucja Cwik", (LACKS, PLAINER)),
        ("王芳", "??", (LACKS,)),
        ("a → b ≥ 3", "a -> b >= 3", ()),
        ("e\u0301", "e", (PLAINER,)),
        ("\x1b[31m", "U+001B[31m", ()),
    ],
)
def test_a_letter_that_the_built_in_font_lacks_has_a_substitute_and_the_foot_says_so(
    label: str, stands: str, says: tuple[str, ...]
) -> None:
    ink = Ink("note", font=None)
    assert ink.letters(label) == stands
    assert ink.lacks == says


def test_a_font_of_this_computer_writes_more_letters() -> None:
    font = find_font()
    if font is None:
        pytest.skip("this computer has none of the fonts that are looked for")
    ink = Ink("note", font=font)
    assert ink.letters("Łucja Ćwik, Ελένη, Олена") == "Łucja Ćwik, Ελένη, Олена"
    assert ink.lacks == ()


@pytest.mark.parametrize(
    ("text", "painted"),
    [
        ("note of R.K., 10.2 cm", "note of R.K., 10.2 cm"),
        ("\u05d0\u05d1\u05d2", "\u05d2\u05d1\u05d0"),
        ("goal: \u05d0\u05d1 \u05d2\u05d3, 7 Feb", "goal: \u05d3\u05d2 \u05d1\u05d0, 7 Feb"),
        ("\u05d0\u05d1 12 \u05d2, left 10.2 \u05d3\u05d4", "\u05d2 12 \u05d1\u05d0, left 10.2 \u05d4\u05d3"),
        ("", ""),
    ],
)
def test_right_to_left_words_are_painted_from_the_right(text: str, painted: str) -> None:
    assert in_painted_order(text) == painted


def test_arabic_letters_are_told_to_stand_unjoined() -> None:
    font = find_font()
    if font is None or font.more is None:
        pytest.skip("this computer has none of the fonts with these letters")
    ink = Ink("note", font=font)
    assert ink.painted("R.K., \u0633\u0627\u0631\u0629") == "R.K., \u0629\u0631\u0627\u0633"
    assert ink.lacks == (UNJOINED,)


def test_a_font_that_cannot_be_read_is_left(tmp_path: Path) -> None:
    broken = tmp_path / "broken.ttf"
    broken.write_bytes(b"no font at all")
    page = Page("note", ("R.K.",), (Block("plan", ("again on Thursday",)),), ())
    pdf = as_pdf(page, Font(broken, broken, broken))
    assert b"again on Thursday" in streams(pdf)


def test_a_font_is_looked_for_where_systems_keep_them(tmp_path: Path) -> None:
    assert find_font([tmp_path]) is None
    for name in ("LiberationSans-Regular.ttf", "LiberationSans-Bold.ttf", "DejaVuSans.ttf"):
        (tmp_path / name).write_bytes(b"")
    found = find_font([tmp_path])
    assert found is not None
    assert (found.plain.name, found.more) == ("LiberationSans-Regular.ttf", None)
    (tmp_path / "DejaVuSans-Bold.ttf").write_bytes(b"")
    assert find_font([tmp_path]) == found._replace(more=tmp_path / "DejaVuSans.ttf")


def test_without_the_extra_it_says_how_to_get_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("store.papers.pdf", "store.papers.pdf_sheet", "store.papers.pdf_ink"):
        monkeypatch.delitem(sys.modules, name, raising=False)
    monkeypatch.setitem(sys.modules, "fpdf", None)
    for save, paper in ((save_page, Page("note", (), (), ())), (save_sheet, handed(tmp_path, 1))):
        with pytest.raises(CareFault, match=r"PDF needs the extra `pdf`.*ends in .html"):
            save(paper, tmp_path / "paper.pdf")  # type: ignore[arg-type]  # each has its own paper
    assert not (tmp_path / "paper.pdf").exists()


@settings(max_examples=25, deadline=None)
@given(st.text(max_size=60))
def test_no_words_stop_it(text: str) -> None:
    page = Page(text, (text,), (Block(text, (text, text * 3)),), (text,))
    assert as_pdf(page, BUILT_IN).startswith(b"%PDF")


def test_a_long_label_and_many_lines_run_on_over_pages(built_in: None) -> None:
    del built_in
    page = Page("note", ("x" * 10_000,), (Block("plan", ("word " * 50,) * 60),), ())
    assert pages(as_pdf(page)) > 2
