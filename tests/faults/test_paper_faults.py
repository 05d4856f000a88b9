"""Papers where they cannot be saved: a clear sentence, and the old file as it was."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from store.care.faults import CareFault
from store.care.home_sheet import sheet_of
from store.papers.formats import FORMATS, save_page, save_sheet
from store.papers.page import Block, Page
from store.papers.saving import typed_path
from tests.care.home_made import at_home
from tests.faults.full import fill_up

PAGE = Page("visit note", ("R.K.",), (Block("plan", ("again on Thursday",)),), ())


@pytest.mark.parametrize("ending", FORMATS)
def test_a_disk_that_is_full_leaves_the_old_paper_whole(small_disk: Path, ending: str) -> None:
    old = save_page(PAGE, small_disk / f"note{ending}")
    before = old.read_bytes()
    fill_up(small_disk)
    longer = Page("visit note", ("R.K.",), (Block("plan", ("word " * 200,) * 20),), ())
    with pytest.raises(CareFault, match=r"cannot be written \(No space left on device\): what was there stays"):
        save_page(longer, old)
    assert old.read_bytes() == before
    assert sorted(each.name for each in small_disk.iterdir()) == ["ballast", old.name]


def test_a_full_disk_leaves_the_old_home_sheet_whole(small_disk: Path, tmp_path: Path) -> None:
    ward = at_home(tmp_path)
    ward.hand_out()
    sheet = sheet_of(ward.now.care, ward.now.episode.id)
    old = save_sheet(sheet, small_disk / "sheet.html")
    before = old.read_bytes()
    fill_up(small_disk)
    with pytest.raises(CareFault, match="No space left"):
        save_sheet(sheet, old)
    assert old.read_bytes() == before


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("none/note.txt", r"cannot be written \(No such file or directory\)"),
        ("file.txt/note.txt", r"cannot be written \(Not a directory\)"),
        ("folder.txt", "is a folder: name the file in it"),
        ("pipe.txt", "is no plain file, and nothing was written to it"),
        ("x" * 300 + ".txt", r"cannot be written \(File name too long\)"),
        ("a\0b.txt", "cannot be written"),
        ("note.doc", "ends in none of .txt, .md, .html, .htm, .pdf"),
        ("note", "ends in none of"),
    ],
)
def test_a_path_that_cannot_be_written_says_why(tmp_path: Path, name: str, says: str) -> None:
    (tmp_path / "file.txt").write_text("old", "utf-8")
    (tmp_path / "folder.txt").mkdir()
    os.mkfifo(tmp_path / "pipe.txt")
    before = sorted(each.name for each in tmp_path.iterdir())
    with pytest.raises(CareFault, match=says) as told:
        save_page(PAGE, tmp_path / name)
    assert len(str(told.value)) < 500
    assert sorted(each.name for each in tmp_path.iterdir()) == before


def test_a_home_folder_of_nobody_is_told(tmp_path: Path) -> None:
    with pytest.raises(CareFault, match="there is no folder ~nobody-of-this-name here: type the whole path"):
        typed_path("~nobody-of-this-name/note.txt")
    assert typed_path(str(tmp_path / "note.txt")) == tmp_path / "note.txt"
