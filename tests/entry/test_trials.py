"""Values typed trial by trial."""

from __future__ import annotations

import pytest

from store.entry.entry import SideEntry
from store.entry.errors import EntryError
from store.entry.trials import values_in
from store.knowledge.load import load
from store.knowledge.words import Side, Status
from tests.reckon.made import LUNGE, STANCE


def test_a_value_alone() -> None:
    assert values_in("10,2", LUNGE, Side.LEFT) == SideEntry(Side.LEFT, (10.2,), Status.MEASURED)
    assert values_in("102 mm", LUNGE).trials == (10.2,)
    assert values_in("10.2 10.4, 10.3", LUNGE).trials == (10.2, 10.4, 10.3)


def test_unable_and_cap() -> None:
    assert values_in("unable", LUNGE).status is Status.UNABLE
    assert values_in("cap", STANCE) == SideEntry(None, (45.0,), Status.CAP)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("left 10", "left: not a value: type a figure, unable or cap"),
        ("ten", "ten: not a value: type a figure, unable or cap"),
        ("31", "31: lunge goes from 0 to 30 cm: did you mean 3.1?"),
        ("85", "85: lunge goes from 0 to 30 cm: did you mean 8.5?"),
        ("850", "850: lunge goes from 0 to 30 cm"),
        ("1 2 3 4", "4: too many trials: lunge counts 3"),
        ('"8"', '"8": not a value: type a figure, unable or cap'),
        ("mm", "mm: a unit stands behind its value"),
    ],
)
def test_what_is_no_value(text: str, says: str) -> None:
    with pytest.raises(EntryError) as caught:
        values_in(text, LUNGE)
    assert str(caught.value) == says


def test_yes_and_no_are_taken_by_one_key_where_they_are_asked() -> None:
    hops = load().measures["hop_spot"]
    assert values_in("y", hops, Side.LEFT).trials == (1.0,)
    assert values_in("n", hops, Side.LEFT).trials == (0.0,)
    with pytest.raises(EntryError, match=r"maybe: not a value: type yes, no \(y, n\) or unable"):
        values_in("maybe", hops)
    with pytest.raises(EntryError, match="y: not a value: type a figure"):
        values_in("y", LUNGE)
