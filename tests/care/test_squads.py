"""A squad is made once, and a person belongs to it once."""

from __future__ import annotations

from pathlib import Path

import pytest

from store.care import squads
from store.care.faults import CareFault
from store.care.people import new_person
from tests.care.begun import begun


def test_a_squad_with_its_people(tmp_path: Path) -> None:
    care = begun(tmp_path).care
    squad = squads.new_squad(care, "  Hockey,  first team ")
    assert squad.name == "Hockey, first team"
    for label in ("Z.B.", "A.C."):
        person, _ = new_person(care, label)
        squads.join(care, squad, person)
    assert [one.label for one in squads.people_of(care, squad)] == ["A.C.", "Z.B."]
    with pytest.raises(CareFault, match="belongs to Hockey, first team already"):
        squads.join(care, squad, person)
    with pytest.raises(CareFault, match="a squad Hockey, first team already"):
        squads.new_squad(care, "Hockey, first team")
    care.close()
