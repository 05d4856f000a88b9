"""A person of any name on every paper in every format: the words stay words, and all of them are there."""

from __future__ import annotations

from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from store.care import noting
from store.care.home_sheet import sheet_of
from store.care.in_words import visible
from store.papers.formats import FORMATS, SHEET_FORMATS, save_page, save_sheet
from store.papers.letter import letter_page
from store.papers.note import note_page
from store.record.people import revise_person
from tests.care.home_made import AtHome, at_home

LABELS = {
    "formula": '=HYPERLINK("http://x";"y")',
    "minus": "-2+3",
    "quotes": "a \"b\" 'c' `d`",
    "lines": "two\r\nlines\n\nand more",
    "marks": "<script>alert(1)</script> & *x* _y_ [z](w) | # q",
    "long": "x" * 10_240,
    "long words": "word " * 2048,
    "steering": "\x1b[2J\x07\u202eabc",
    "half a letter": "half \ud83d",
    "letters": "Łucja 王芳 é e\u0301 ‘’ →",
}


@pytest.fixture(autouse=True)
def _built_in(monkeypatch: pytest.MonkeyPatch) -> None:
    """The font that every reader has: the one that lacks most letters, and that is quick."""
    monkeypatch.setattr("store.papers.pdf.find_font", lambda: None)
    monkeypatch.setattr("store.papers.pdf_sheet.find_font", lambda: None)


@pytest.fixture
def ward(tmp_path: Path) -> AtHome:
    found = at_home(tmp_path)
    found.now.says("pain 2")
    found.hand_out()
    return found


def named(ward: AtHome, label: str) -> None:
    care = ward.now.care
    care.examiner = "AB"
    person = care.person(ward.now.episode.person)
    revise_person(care.record, person._replace(label=label), by="AB", because="typed so")


@pytest.mark.parametrize("kind", [kind for kind in LABELS if kind != "half a letter"])
def test_every_paper_is_written_in_every_format(ward: AtHome, tmp_path: Path, kind: str) -> None:
    named(ward, LABELS[kind])
    care, episode = ward.now.care, ward.now.episode.id
    for page in (note_page(care, noting.note_of(care, ward.now.visit_id)), letter_page(care, episode)):
        for ending in FORMATS:
            assert save_page(page, tmp_path / f"paper{ending}").stat().st_size > 300
        _is_told(tmp_path, LABELS[kind])
    sheet = sheet_of(care, episode)
    for ending in SHEET_FORMATS:
        assert save_sheet(sheet, tmp_path / f"paper{ending}").stat().st_size > 300
    _is_told(tmp_path, LABELS[kind])


def _is_told(folder: Path, label: str) -> None:
    html, text = ((folder / f"paper{ending}").read_text("utf-8") for ending in (".html", ".txt"))
    shown = visible(label)
    assert " ".join(shown.split()) in " ".join(unescape(html).split())
    assert "".join(shown.split()) in "".join(text.split())
    assert "<script" not in html
    assert "\x1b" not in html + text


def test_half_a_letter_is_taken_for_what_it_is(ward: AtHome, tmp_path: Path) -> None:
    """It cannot be kept in the record, yet nothing that shows it may fail."""
    page = letter_page(ward.now.care, ward.now.episode.id)
    page = replace(page, head=(*page.head, LABELS["half a letter"]))
    for ending in FORMATS:
        assert save_page(page, tmp_path / f"paper{ending}").stat().st_size > 300
