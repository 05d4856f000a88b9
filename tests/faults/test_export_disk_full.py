"""A file that data is written to is whole or as it was before: on a full disk, and where it may not be written."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from store.care.faults import CareFault, FaultKind, RecordFault
from store.papers.saving import save, save_parts
from tests.faults.full import fill_up


def test_on_a_full_disk_the_old_file_stays_whole(small_disk: Path) -> None:
    out = small_disk / "all.json"
    save(out, "the old one")
    fill_up(small_disk)
    with pytest.raises(CareFault, match=r"all.json cannot be written \(No space left on device\): what was there"):
        save_parts(out, [b"x" * 4096] * 3)
    assert out.read_text("utf-8") == "the old one"
    assert sorted(each.name for each in small_disk.iterdir()) == ["all.json", "ballast"]


def test_a_disk_that_fills_while_parts_come_leaves_the_old_file(small_disk: Path) -> None:
    out = small_disk / "all.csv"
    save(out, "the old one")
    with pytest.raises(CareFault, match="No space left"):
        save_parts(out, (b"x" * 100_000 for _ in range(100)))
    assert out.read_text("utf-8") == "the old one"
    assert [each.name for each in small_disk.iterdir()] == ["all.csv"]


def test_a_record_that_fails_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    out = tmp_path / "all.csv"
    save(out, "the old one")

    def half() -> Iterator[bytes]:
        yield b"half"
        raise RecordFault(FaultKind.LOCKED, "Another program keeps it locked.")

    with pytest.raises(RecordFault, match="locked"):
        save_parts(out, half())
    assert out.read_text("utf-8") == "the old one"
    assert [each.name for each in tmp_path.iterdir()] == ["all.csv"]
