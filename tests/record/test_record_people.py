"""People are found while a name is typed, and told apart when they share a label."""

from __future__ import annotations

import pytest

from store.knowledge.words import Person
from store.record import people
from store.record.faults import RecordFault
from store.record.file import Record


def labels(found: list[Person]) -> list[str]:
    return [person.label for person in found]


@pytest.fixture
def many(record: Record) -> list[Person]:
    return [
        people.add_person(record, Person("", label)) for label in ("R.K.", "r.k. junior", "Mark", "Élodie", "A.O.")
    ]


def test_a_person_comes_back_as_added(record: Record) -> None:
    kept = people.add_person(record, Person("", "R.K.", "1995-04-12"), by="AB")
    assert kept.id
    assert kept.revision
    assert people.person(record, kept.id) == kept
    assert people.person(record, "no such") is None


def test_an_id_given_is_kept(record: Record) -> None:
    wanted = record.new_id()
    assert people.add_person(record, Person(wanted, "R.K.")).id == wanted


def test_starts_come_before_middles_and_case_does_not_matter(record: Record, many: list[Person]) -> None:
    assert labels(people.find_people(record, "R")) == ["R.K.", "r.k. junior", "Mark"]
    assert labels(people.find_people(record, " r.K ")) == ["R.K.", "r.k. junior"]
    assert labels(people.find_people(record, "JUNIOR")) == ["r.k. junior"]
    assert people.find_people(record, "R.K.")[0] == many[0]


def test_accents_are_found_however_they_are_typed(record: Record, many: list[Person]) -> None:
    for typed in ("élo", "ÉLO", "E\u0301lo", "elo"):
        assert labels(people.find_people(record, typed)) == ["Élodie"], typed
    assert people.find_people(record, "xyz") == []
    assert len(many) == 5


def test_nothing_typed_lists_everybody_by_label(record: Record, many: list[Person]) -> None:
    assert labels(people.find_people(record, " ")) == ["A.O.", "Mark", "R.K.", "r.k. junior", "Élodie"]
    assert labels(people.find_people(record, "", limit=2)) == ["A.O.", "Mark"]
    assert many[2].label == "Mark"


def test_signs_of_a_pattern_are_plain_text(record: Record) -> None:
    people.add_person(record, Person("", "100%_*"))
    people.add_person(record, Person("", "1000"))
    assert labels(people.find_people(record, "0%")) == ["100%_*"]
    assert labels(people.find_people(record, "_*")) == ["100%_*"]


def test_two_people_with_one_label_are_both_found(record: Record) -> None:
    first, second = (people.add_person(record, Person("", "R.K.")) for _ in range(2))
    people.add_person(record, Person("", "r.k."))
    assert people.people_labelled(record, "R.K.") == [first, second]


def test_people_by_the_start_of_an_id(record: Record, many: list[Person]) -> None:
    assert people.people_by_id_start(record, many[3].id.upper()) == [many[3]]
    assert len(people.people_by_id_start(record, many[0].id[:6])) == 5
    assert people.people_by_id_start(record, "zz") == []


def test_a_person_is_amended(record: Record) -> None:
    kept = people.add_person(record, Person("", "R.K."))
    changed = people.revise_person(record, kept._replace(label="R.K.-M."), by="AB", because="married")
    assert people.person(record, kept.id) == changed
    assert changed.revision > kept.revision


@pytest.mark.parametrize(
    "wrong",
    [Person("", " "), Person("", "R.K.", "95"), Person("", "R.K.", "1995-02-30"), Person("", "R.K.", "now")],
)
def test_what_is_no_label_or_date_is_refused(record: Record, wrong: Person) -> None:
    with pytest.raises(RecordFault, match=r"needs a label|born is a year"):
        people.add_person(record, wrong)
    assert people.find_people(record, "") == []
