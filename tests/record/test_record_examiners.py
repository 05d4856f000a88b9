"""An examiner is kept once by name."""

from __future__ import annotations

import pytest

from store.record import examiners
from store.record.faults import RecordFault
from store.record.file import Record


def test_the_same_name_is_the_same_examiner(record: Record) -> None:
    first = examiners.add_examiner(record, "AB")
    assert examiners.add_examiner(record, "AB") == first
    other = examiners.add_examiner(record, "AA")
    assert examiners.examiners(record) == [other, first]
    assert examiners.examiner_named(record, "AB") == first
    assert examiners.examiner_named(record, "ab") is None


def test_an_examiner_is_amended(record: Record) -> None:
    first = examiners.add_examiner(record, "AB")
    changed = examiners.revise_examiner(record, first._replace(name="A.B."), by="AB", because="spelling")
    assert examiners.examiners(record) == [changed]


def test_an_examiner_needs_a_name(record: Record) -> None:
    with pytest.raises(RecordFault, match="name or initials"):
        examiners.add_examiner(record, " ")
