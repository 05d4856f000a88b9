"""A bundle held against FHIR R4B by a library that is not ours, and against what that library lets pass.

It knows R4B (4.3.0) and not R4 (4.0.1); in the elements that are written here the two do not differ, as far as we
recall. It takes any code in a required value set, so codes are held against our own lists; and it writes +00:00 as
Z, so times are compared as instants. Codes of an ankle's side: SNOMED CT 51636004 left and 6685009 right, as in
published value sets. UCUM: `cm`, `deg`, `s`, `N`, `%`, `{reps}`, `{score}` are units, `Nm` is none.
"""

from __future__ import annotations

import json
import shutil
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care import home, home_items, run_acts
from store.care.care import open_care
from store.care.everything import everything_of, everything_of_everybody
from store.knowledge.load import load
from store.knowledge.time import SetClock
from store.knowledge.units import UNIT_WORDS, YES_NO
from store.papers.fhir_out import fhir_parts, resources
from store.papers.fhir_sets import REQUIRED, WrongCode, checked
from store.papers.fhir_words import UNITS
from store.record import readings
from tests.care.begun import begun, walked
from tests.outside.bundle import Found, taken, written

ROOT = Path(__file__).parents[2]
MONDAY = datetime(2026, 11, 23, 12, tzinfo=UTC)

UCUM_CHECKED = {"cm", "mm", "m", "deg", "s", "min", "d", "wk", "N", "N.m", "kg", "%", "1", "{score}", "{reps}"}
"""Units that a parser of UCUM took."""


def of_kind(found: list[Found], kind: str) -> list[Found]:
    return [one for one in found if one["resourceType"] == kind]


def references(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        if "reference" in value:
            yield value["reference"]
        for each in value.values():
            yield from references(each)
    elif isinstance(value, list):
        for each in value:
            yield from references(each)


def test_the_bundle_of_all_invented_people_is_taken(tmp_path: Path) -> None:
    shutil.copy(ROOT / "demo.sqlite", tmp_path / "demo.sqlite")
    with closing(open_care(tmp_path / "demo.sqlite", SetClock(MONDAY))) as care:
        held = list(everything_of_everybody(care))
        data, again = (b"".join(fhir_parts(held, care.knowledge.measures, care.clock.now())) for _ in range(2))
    assert data == again
    bundle = json.loads(data)
    assert taken(data).type == "collection"
    addresses = [each["fullUrl"] for each in bundle["entry"]]
    assert len(set(addresses)) == len(addresses)
    assert {each["fullUrl"].removeprefix("urn:uuid:") == each["resource"]["id"] for each in bundle["entry"]} == {
        True
    }
    assert set(references(bundle)) <= set(addresses)
    kinds = Counter(each["resource"]["resourceType"] for each in bundle["entry"])
    assert kinds["Patient"] == len(held) == 18
    assert kinds["Observation"] == sum(len((*one.readings, *one.screens, *one.decisions)) for one in held)
    assert kinds["DocumentReference"] == sum(note.signed is not None for one in held for note in one.notes)
    ran = [one for each in held for one in each.run_sessions if one.done_on is not None]
    assert ran
    assert kinds["Procedure"] == sum(len(one.bouts) for one in held) + len(ran)
    assert kinds["EpisodeOfCare"] == kinds["Condition"] == sum(len(one.episodes) for one in held)
    tags = [
        each["resource"].get("meta") for each in bundle["entry"] if each["resource"]["resourceType"] == "Patient"
    ]
    assert any(tags)


def test_the_sides_units_and_times_of_readings(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.care.blind = False
    now.line('lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0 before tape note "stiff"')
    now.line("stance l cap r 12")
    now.line("heel r unable")
    now.line("full_session yes")
    now.says("pain 3")
    found = of_kind(written(now), "Observation")
    left, right = (one for one in found if one["code"]["coding"][0]["code"] == "lunge")
    assert left["bodySite"]["coding"][0] == {
        "system": "http://snomed.info/sct", "code": "51636004", "display": "Structure of left ankle",
    }  # fmt: skip
    assert right["bodySite"]["coding"][0]["code"] == "6685009"
    assert left["valueQuantity"] == {
        "value": 10.2, "unit": "cm", "system": "http://unitsofmeasure.org", "code": "cm",
    }  # fmt: skip
    assert [one.get("valueQuantity", {}).get("value") for one in left["component"]] == [
        10.2,
        10.1,
        10.3,
        None,
        None,
    ]
    assert [one.get("valueString") for one in left["component"]][3:] == ["before treatment", "tape"]
    assert datetime.fromisoformat(left["effectiveDateTime"]) == now.clock.now().at
    assert left["note"] == [{"text": "stiff"}]
    by_code = {one["code"]["coding"][0]["code"]: one for one in found}
    assert by_code["heel_raise"]["dataAbsentReason"]["text"] == "unable"
    assert "valueQuantity" not in by_code["heel_raise"]
    assert by_code["full_session"]["valueBoolean"] is True
    assert by_code["pain_now"]["code"]["coding"][1]["code"] == "72514-3"
    assert "category" not in by_code["pain_now"]
    assert left["category"][0]["coding"][0]["code"] == "exam"
    capped = [one for one in found if one.get("valueQuantity", {}).get("comparator")]
    assert [one["valueQuantity"]["comparator"] for one in capped] == [">="]


def test_no_measure_but_pain_now_has_a_code_of_others(tmp_path: Path) -> None:
    """There is no published code for a range of motion of the ankle: none is made up."""
    shutil.copy(ROOT / "demo.sqlite", tmp_path / "demo.sqlite")
    with closing(open_care(tmp_path / "demo.sqlite", SetClock(MONDAY))) as care:
        found = [one for held in everything_of_everybody(care) for one in resources(held, care.knowledge.measures)]
    coded = {
        (each["system"], each["code"])
        for one in of_kind(found, "Observation")
        for each in one["code"]["coding"]
        if not each["system"].startswith("urn:bothfeet")
    }
    assert coded == {("http://loinc.org", "72514-3")}


def test_what_was_corrected_or_taken_back_says_so_under_the_same_id(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    before = {one["id"]: one["status"] for one in of_kind(written(now), "Observation")}
    assert set(before.values()) == {"final"}
    left, right = now.kept
    readings.retract_readings(now.care.record, [left.id], by="AB", because="wrong tape")
    readings.revise_reading(now.care.record, right._replace(value=53.5), by="AB", because="misread")
    after = {one["id"]: one["status"] for one in of_kind(written(now), "Observation")}
    assert after == {left.id: "entered-in-error", right.id: "amended"}


def test_bouts_and_home_programmes(tmp_path: Path) -> None:
    now = begun(tmp_path)
    live = walked(now.bout("hold_firm"), now.clock, 40)
    live.end()
    held = home.home_standing(now.care, now.episode.id)
    activity = now.care.knowledge.activities["hold_firm"]
    item = home_items.new_item(now.care, activity, now.episode)._replace(a_day=2, days_a_week=3)
    home.issue(now.care, held, [item], home.review_day(now.care, held), now.visit)
    found = written(now)
    [procedure] = of_kind(found, "Procedure")
    assert procedure["status"] == "stopped"
    assert procedure["performedPeriod"]["start"] < procedure["performedPeriod"]["end"]
    assert procedure["bodySite"]
    assert procedure["note"][0]["text"]
    [plan] = of_kind(found, "CarePlan")
    assert (plan["status"], plan["intent"]) == ("active", "plan")
    detail = plan["activity"][0]["detail"]
    assert detail["scheduledTiming"]["repeat"] == {"frequency": 6, "period": 1, "periodUnit": "wk"}
    assert "twice a day, 3 days a week" in detail["description"]
    [encounter] = of_kind(found, "Encounter")
    assert encounter["status"] == "in-progress"


def test_a_run_is_a_procedure_of_its_day_and_what_was_not_told_is_left_out(tmp_path: Path) -> None:
    now = begun(tmp_path)
    run_acts.plan(now.care, now.episode.id, "wed fri", all_the_same=True)
    told = run_acts.tell(now.care, now.episode.id, 'pain 1 note "new shoes"')
    [procedure] = of_kind(written(now), "Procedure")  # the planned ones are in the calendar
    assert (procedure["status"], procedure["performedDateTime"]) == ("completed", "2026-11-25")
    assert procedure["code"]["text"] == "walk-run 1:4x5"
    assert procedure["note"][0]["text"] == "pain during 1 of 10; 5 min run; new shoes"
    assert procedure["bodySite"]
    run_acts.take_back(now.care, told)
    assert of_kind(written(now), "Procedure") == []  # it is a planned one again


def test_labels_of_any_kind_make_a_bundle_that_is_taken(tmp_path: Path) -> None:
    now = begun(tmp_path)
    held = everything_of(now.care, now.care.person(now.episode.person))
    for label in ('=a "b"\nnext', "x" * 10_000, "\x1b[31m", "half \ud83d", "é"):
        given = replace(held, person=held.person._replace(label=label, born="1995"))
        data = b"".join(fhir_parts([given], now.care.knowledge.measures, now.clock.now()))
        taken(data)
        name = json.loads(data)["entry"][0]["resource"]["name"][0]["text"]
        assert name == label.replace("\x1b", "\ufffd").replace("\ud83d", "\ufffd")


def test_nobody_is_a_bundle_without_entries(tmp_path: Path) -> None:
    now = begun(tmp_path)
    data = b"".join(fhir_parts([], {}, now.clock.now()))
    assert taken(data).entry is None


def test_each_unit_of_the_record_is_one_of_ucum() -> None:
    assert set(UNITS) | {YES_NO} == set(UNIT_WORDS)
    assert set(UNITS.values()) <= UCUM_CHECKED
    assert {measure.unit for measure in load().measures.values()} <= set(UNITS) | {YES_NO}


@pytest.mark.parametrize("path", sorted(REQUIRED))
def test_a_code_outside_its_required_set_is_never_written(path: str) -> None:
    """The library takes `done` as a status; our own lists do not."""
    kind, *names = path.split(".")
    value: object = "done"
    for name in reversed(names):
        value = {name: value}
    assert isinstance(value, dict)
    with pytest.raises(WrongCode, match="'done' is none of"):
        checked({"resourceType": kind} | value)
