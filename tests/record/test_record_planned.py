"""Squads, appointments, decisions and forecasts: kept, amended, taken back, found."""

from __future__ import annotations

from datetime import timedelta

from store.knowledge.appointment import Appointment
from store.knowledge.criteria import Stage
from store.knowledge.planned import Member, Squad, StageDecision
from store.knowledge.time import SetClock
from store.knowledge.words import Person, Visit
from store.record import appointments, decisions, forecasts, people, squads
from store.record.amendments import amendments_of
from store.record.check import check
from store.record.file import Record
from tests.record.made import forecast


def test_a_squad_and_its_people(record: Record, person: Person) -> None:
    other = people.add_person(record, Person("", "B.B."))
    hockey = squads.SQUAD.add(record, Squad("", "hockey"), by="AB")
    squads.SQUAD.add(record, Squad("", "Fencers"), by="AB")
    for one in (person, other):
        squads.MEMBER.add(record, Member("", hockey.id, one.id), by="AB")
    assert [one.name for one in squads.squads(record)] == ["Fencers", "hockey"]
    assert {one.id for one in squads.people_of(record, hockey.id)} == {person.id, other.id}
    assert [one.name for one in squads.squads_of(record, other.id)] == ["hockey"]
    belongs = squads.membership(record, hockey.id, other.id)
    assert belongs is not None
    squads.MEMBER.retract(record, belongs, by="AB", because="left the squad")
    assert [one.id for one in squads.people_of(record, hockey.id)] == [person.id]
    assert squads.membership(record, hockey.id, other.id) is None
    assert len(amendments_of(record, "squad_member", belongs.id)) == 1
    assert squads.squad_named(record, "hockey") == hockey
    assert squads.squad_named(record, "chess") is None
    assert check(record) == []


def test_the_next_appointment_of_a_person(record: Record, person: Person, clock: SetClock) -> None:
    soon, later = clock.now(), clock.now()
    clock.move(3600)
    later = clock.now()
    kept = [
        appointments.APPOINTMENT.add(record, Appointment("", person.id, due), by="AB") for due in (later, soon)
    ]
    assert [one.due for one in appointments.appointments_of(record, person.id)] == [soon, later]
    assert appointments.next_of(record, [person.id, "nobody"], soon.on)[person.id].due == soon
    appointments.APPOINTMENT.retract(record, kept[1], by="AB", because="called off")
    assert appointments.next_of(record, [person.id], soon.on)[person.id].due == later
    assert appointments.next_of(record, [person.id], soon.on + timedelta(days=1)) == {}


def test_the_last_decision_stands(record: Record, visit: Visit, clock: SetClock) -> None:
    assert visit.episode is not None
    assert decisions.last_of(record, [visit.episode]) == {}
    for stage, reason in ((Stage.WALK, "no limp"), (Stage.JOG, "hops without pain")):
        clock.move(60)
        made = StageDecision("", visit.person, visit.episode, stage, clock.now(), "AB", reason, ({"id": "range"},))
        jog = decisions.DECISION.add(record, made, by="AB")
    assert decisions.last_of(record, [visit.episode])[visit.episode] == jog
    assert jog.answers == ({"id": "range"},)
    decisions.DECISION.retract(record, jog, by="AB", because="undo")
    assert decisions.last_of(record, [visit.episode])[visit.episode].stage is Stage.WALK
    found = decisions.DECISION.get(record, jog.id)
    assert found is not None
    assert found.retracted is not None


def test_a_forecast_is_kept_as_it_was_shown(record: Record, visit: Visit, clock: SetClock) -> None:
    made = forecasts.FORECAST.add(record, forecast(visit, clock), by="AB")
    assert forecasts.FORECAST.get(record, made.id) == made
    assert forecasts.forecasts_of_visit(record, visit.id) == [made]
    assert forecasts.every_forecast(record) == [made]
    flat = forecasts.FORECAST.revise(record, made._replace(flat=True), by="AB", because="again")
    assert forecasts.forecasts_of_visit(record, visit.id) == [flat]
