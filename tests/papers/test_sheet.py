"""The home sheet: two feet, times of day, plain words, nothing that a label could steer, one page."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from store.care.faults import CareFault
from store.care.home_items import changed
from store.care.home_sheet import Sheet, sheet_of
from store.knowledge.home import PICTURES
from store.knowledge.words import Side
from store.papers.drawings import drawing
from store.papers.page import WIDTH
from store.papers.saving import save
from store.papers.sheet import as_html, as_markdown, as_page, as_text, type_size
from tests.care.home_made import AtHome, at_home
from tests.papers.printed import CHROMIUM, NO_BROWSER, printed_pages

EIGHT = (
    "band_mobilisation", "hold_firm", "heel_raises", "band_eversion", "strap_mobilisation", "step_down", "reaches",
    "calf_stretch_bent",
)  # fmt: skip
HOSTILE = "<script>alert(1)</script>\"'&| *x*"


@pytest.fixture
def ward(tmp_path: Path) -> AtHome:
    return at_home(tmp_path)


def sheet(ward: AtHome, n: int = 3) -> Sheet:
    ward.hand_out(*EIGHT[:n])
    return sheet_of(ward.now.care, ward.now.episode.id)


def test_each_foot_has_its_rows_the_left_one_on_the_left(ward: AtHome) -> None:
    band = changed(ward.item("band_mobilisation"), "a_day", 1)
    pumps, hold, two = ward.item("ankle_pumps"), ward.item("hold_firm"), ward.item("heel_raises_two")
    made = sheet_of(ward.now.care, ward.now.episode.id, [band, hold, two, pumps])
    rows = {row.when: (row.left, row.right) for row in made.rows}
    assert rows == {"Morning": ((2, 3), (1, 2, 3, 4)), "In between": ((), (4,)), "Evening": ((), (1, 4))}
    page = as_html(made)
    assert page.index("Left foot") < page.index("Right foot (the sore one)")


def test_without_a_programme_there_is_no_sheet(ward: AtHome) -> None:
    with pytest.raises(CareFault, match="no home programme was handed out yet"):
        sheet_of(ward.now.care, ward.now.episode.id)


def test_it_says_when_to_stop_what_pulls_what_to_hold_and_whom_to_call(ward: AtHome) -> None:
    ward.now.care.settings = ward.now.care.settings._replace(clinic="Hill Clinic 555 0101")
    made = sheet(ward)
    for text in (as_text(made), as_markdown(made), as_html(made)):
        words = " ".join(text.replace("\\", "").split())
        for said in (
            "2 sets of 10. Right foot. Once a day.",
            "3 times, 30 seconds each. One leg, then the other. Once a day, 6 days a week.",
            "The band pulls your ankle BACK and a bit down.",
            "Put a folded towel under the band.",
            "Stop if your foot goes numb, cold or blue",
            "Hold on to a wall or a rail.",
            "Call Hill Clinic 555 0101",
            "call for an ambulance now",
            "9 Dec 2026",
            "Pain next morning, 0 to 10",
            "does not replace",
        ):
            assert said in words, said


def test_without_a_clinic_there_is_a_line_to_write_on(ward: AtHome) -> None:
    assert "our phone number: ____" in as_text(sheet(ward))


def test_a_sheet_without_a_band_says_nothing_of_bands(ward: AtHome) -> None:
    ward.hand_out("hold_firm")
    assert "band" not in as_text(sheet_of(ward.now.care, ward.now.episode.id)).lower()


def test_its_reading_grade_is_shown_and_at_most_six(ward: AtHome) -> None:
    made = sheet(ward, 8)
    assert made.grade <= made.aim == 6
    assert "Reading grade below 1." in as_text(made)
    hard = replace(made, grade=7.24)
    assert "Reading grade 7.2, above 6: read it out together." in " ".join(as_text(hard).split())


def test_a_line_of_text_is_never_too_long(ward: AtHome) -> None:
    assert max(map(len, as_text(sheet(ward, 8)).splitlines())) <= WIDTH


def with_words(made: Sheet, field: str, words: str) -> Sheet:
    """The sheet with other words in one of the fields that somebody types."""
    match field:
        case "label":
            return replace(made, label=words)
        case "goal":
            return replace(made, goal=words)
        case "examiner":
            return replace(made, examiner=words)
    return replace(made, clinic=words)


@pytest.mark.parametrize("field", ["label", "goal", "examiner", "clinic"])
def test_a_label_steers_neither_page_nor_markdown(ward: AtHome, field: str) -> None:
    made = with_words(sheet(ward), field, HOSTILE)
    page = as_html(made)
    assert "<script>" not in page
    assert "&lt;script&gt;alert(1)" in page
    assert "<script>" not in as_markdown(made)
    assert "*x*" not in as_markdown(made).replace("\\*", "")
    assert "\x1b" not in as_text(with_words(made, field, "a\x1b[2Jb"))


def test_the_page_stands_alone(ward: AtHome) -> None:
    page = as_html(sheet(ward, 8))
    assert not re.search(r"(src|href)=|url\(|@import|<script|https?:", page)
    assert page.count("<svg") == 8


@pytest.mark.parametrize("picture", PICTURES)
def test_each_drawing_is_whole_and_says_what_it_shows(picture: str) -> None:
    root = ElementTree.fromstring(drawing(picture))
    title = root.find("title")
    assert title is not None
    assert title.text
    for each in root.iter("polyline"):
        points = [tuple(map(float, pair.split(","))) for pair in each.attrib["points"].split()]
        assert all(0 <= x <= 120 and 0 <= y <= 100 for x, y in points), picture


def test_an_unknown_drawing_is_left_out() -> None:
    assert drawing("a_horse") == ""


@pytest.mark.skipif(CHROMIUM is None, reason=NO_BROWSER)
@pytest.mark.parametrize("n", [1, 3, 4, 8])
def test_it_prints_on_one_page(ward: AtHome, tmp_path: Path, n: int) -> None:
    """The things with the most words, of all that can be done at home."""
    known = ward.now.care.knowledge.home.words
    wordy = sorted(known, key=lambda each: len(str(known[each])), reverse=True)[:n]
    made = sheet_of(ward.now.care, ward.now.episode.id, [ward.item(each) for each in wordy])
    assert printed_pages(as_html(made), tmp_path) == 1


def test_the_fewer_the_things_the_larger_the_type(ward: AtHome) -> None:
    sizes = [type_size(sheet(ward, n)) for n in (1, 2, 4, 6, 8)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] == 15
    assert sizes[2] >= 11
    assert f"font-size: {sizes[-1]:g}pt" in as_html(sheet(ward, 8))


# saving


def test_a_paper_is_saved_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "sheet.txt"
    save(path, "the old one")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(CareFault, match=r"No space left on device\): what was there stays"):
        save(path, "the new one")
    assert path.read_text("utf-8") == "the old one"
    assert [each.name for each in tmp_path.iterdir()] == ["sheet.txt"]


def test_a_folder_and_a_folder_that_is_not_there_are_refused(tmp_path: Path) -> None:
    with pytest.raises(CareFault, match="is a folder"):
        save(tmp_path, "x")
    with pytest.raises(CareFault, match="cannot be written"):
        save(tmp_path / "none" / "sheet.txt", "x")


def test_the_uninjured_side_is_never_called_sore(ward: AtHome) -> None:
    made = sheet(ward)
    assert made.injured is Side.RIGHT
    assert "Left foot (the sore one)" not in as_text(made)


def test_the_page_of_words_for_pdf_says_the_same(ward: AtHome) -> None:
    made = sheet(ward)
    page = as_page(made)
    said = [line for block in page.blocks for line in block.lines]
    assert [block.title for block in page.blocks][:1] == ["1. knee to the front, band pulls back"]
    assert "The band pulls your ankle BACK and a bit down. Your knee goes to the front." in said
    assert any(line.startswith("Morning, Left foot: ") for line in said)


def test_what_is_invented_says_so(ward: AtHome) -> None:
    assert "invented" not in as_text(sheet(ward))
    assert "This person is" in as_text(replace(sheet(ward), invented=True))
