"""What is held on people as one Bundle of FHIR R4, of the type collection.

Ids are those of the record, so that whoever takes a bundle in twice has nothing twice. Drafts of notes, days at
home, forecasts, new sprains that were told, runs that are only planned, appointments and squads are not in it:
the JSON has them.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from store.care.everything import Everything, HeldVisit
from store.care.faults import CareFault
from store.care.home import items_of
from store.care.home_items import item_says
from store.care.past_visits import PastBout
from store.care.past_words import bout_statements
from store.knowledge.home_item import HomeItem
from store.knowledge.kinds import Measure
from store.knowledge.papers import Programme
from store.knowledge.time import Stamp
from store.knowledge.words import BoutRow, Episode, Person, Side, VisitKind
from store.papers.fhir_observation import observation
from store.papers.fhir_papers import decided, document, screening
from store.papers.fhir_runs import ran
from store.papers.fhir_sets import checked
from store.papers.fhir_words import (
    SNOMED,
    SPRAIN,
    Resource,
    base,
    body_site,
    code,
    coding,
    entry,
    own_code,
    period,
    reference,
    text_of,
    when,
)

AMBULATORY = {"system": "http://terminology.hl7.org/CodeSystem/v3-ActCode", "code": "AMB"}
CLINICAL = "http://terminology.hl7.org/CodeSystem/condition-clinical"
EVERY_DAY = 7
"""Days a week."""


def fhir_parts(people: Iterable[Everything], known: Mapping[str, Measure], made: Stamp) -> Iterator[bytes]:
    """The bundle as JSON in UTF-8, a part a person. Raises WrongCode before anything wrong is written."""
    checked({"resourceType": "Bundle", "type": "collection"})
    head = f'{{"resourceType": "Bundle", "type": "collection", "timestamp": "{when(made)}"'
    between = head + ', "entry": [\n'
    for held in people:
        texts = [json.dumps(entry(dict(checked(one))), ensure_ascii=False) for one in resources(held, known)]
        yield (between + ",\n".join(texts)).encode("utf-8")
        between = ",\n"
    # an empty list is no FHIR
    yield (head + "}\n" if between.startswith(head) else "\n]}\n").encode("utf-8")


def resources(held: Everything, known: Mapping[str, Measure]) -> Iterator[Resource]:
    """The resources of one person, each after those it refers to."""
    yield _patient(held.person, invented=held.invented)
    for episode in held.episodes:
        yield _condition(episode)
        yield _episode(episode)
    wanted = {one.visit for one in held.readings} | {one.visit for one in held.bouts}
    wanted |= {one.visit for one in held.programmes} | {one.visit for one in held.screens}
    wanted |= {one.visit for one in held.notes if one.signed is not None}
    for visit in held.visits:
        if visit.visit.id in wanted or visit.visit.said or visit.visit.consent:
            yield _encounter(visit)
    amended = {one.row_id for one in held.amendments}
    for reading in held.readings:
        yield observation(reading, known, amended=reading.id in amended)
    came_of = {bout.row.id: bout for visit in held.visits if visit.told for bout in visit.told.bouts}
    going_on = {visit.visit.id for visit in held.visits if visit.told and visit.told.goes_on}
    for bout in held.bouts:
        yield _procedure(bout, came_of.get(bout.id), goes_on=bout.visit in going_on)
    for episode in held.episodes:
        own = [one for one in held.programmes if one.episode == episode.id]
        stand = [one for one in own if one.retracted is None]
        ends = {one.id: later.issued for one, later in pairwise(stand)}
        for programme in own:
            yield _care_plan(programme, ends.get(programme.id, episode.closed))
    sides = {episode.id: episode.side for episode in held.episodes}
    for screen in held.screens:
        yield screening(screen, sides.get(screen.episode or ""), amended=screen.id in amended)
    for decision in held.decisions:
        yield decided(decision, sides.get(decision.episode), amended=decision.id in amended)
    for session in held.run_sessions:
        if session.done_on is not None:
            yield ran(session, held.rungs.get(session.id, ""), sides.get(session.episode))
    for note in held.notes:
        if note.signed is not None:
            yield document(note)


def _patient(person: Person, *, invented: bool) -> Resource:
    found = base("Patient", person.id) | {"name": [{"text": text_of(person.label)}]}
    if invented:
        found["meta"] = {"tag": [own_code("tag", "invented", "invented for a demonstration")]}
    return found | ({"birthDate": person.born} if person.born else {})


def _condition(episode: Episode) -> Resource:
    """The injury. A closed episode makes it inactive, never resolved: that is not for a program to say."""
    grade = f" grade {episode.grade}" if episode.grade else ""
    named = [coding(SNOMED, SPRAIN)] if episode.grade or "ligament" in episode.structure.casefold() else []
    found = base("Condition", episode.id, "condition") | {
        "clinicalStatus": {
            "coding": [{"system": CLINICAL, "code": "active" if episode.closed is None else "inactive"}]
        },
        "code": code(*named, own_code("structure", episode.structure), text=f"{episode.structure}{grade}"),
        "bodySite": [body_site(episode.side)],
        "subject": reference(episode.person),
        "recordedDate": when(episode.opened),
    }
    return found | ({"onsetDateTime": episode.injured_on.isoformat()} if episode.injured_on else {})


def _episode(episode: Episode) -> Resource:
    return base("EpisodeOfCare", episode.id) | {
        "status": "active" if episode.closed is None else "finished",
        "diagnosis": [{"condition": reference(episode.id, "condition")}],
        "patient": reference(episode.person),
        "period": period(episode.opened, episode.closed),
    }


def _encounter(held: HeldVisit) -> Resource:
    visit = held.visit
    goes_on = held.told is not None and held.told.goes_on
    open_now = "in-progress" if goes_on else "unknown"
    found = base("Encounter", visit.id) | {
        "status": "finished" if visit.ended is not None else open_now,
        "class": AMBULATORY if visit.kind is VisitKind.CLINIC else own_code("visit-kind", visit.kind),
        "subject": reference(visit.person),
        "period": period(visit.started, visit.ended),
    }
    if visit.examiner:
        found["participant"] = [{"individual": {"display": text_of(visit.examiner)}}]
    return found | ({"episodeOfCare": [reference(visit.episode)]} if visit.episode else {})


def _procedure(bout: BoutRow, came_of: PastBout | None, *, goes_on: bool) -> Resource:
    """A bout: what was done, on which sides, and what came of it in words."""
    name = came_of.name if came_of is not None else bout.activity
    found = base("Procedure", bout.id) | {
        "status": _bout_status(bout, came_of, goes_on=goes_on),
        "code": code(own_code("activity", bout.activity, name), text=name),
        "subject": reference(bout.person),
        "performedPeriod": period(bout.started, bout.ended),
    }
    if bout.visit:
        found["encounter"] = reference(bout.visit)
    if bout.examiner:
        found["performer"] = [{"actor": {"display": text_of(bout.examiner)}}]
    if came_of is None:
        return found
    sides = [side for side in Side if side in came_of.sides]
    says = [f"{one.about} {one.says}".strip() for one in bout_statements(came_of)]
    return (
        found
        | ({"bodySite": [body_site(side) for side in sides]} if sides else {})
        | {"note": [{"text": text_of("; ".join(says))}]}
    )


def _bout_status(bout: BoutRow, came_of: PastBout | None, *, goes_on: bool) -> str:
    if bout.retracted is not None:
        return "entered-in-error"
    if bout.ended is None:
        return "in-progress" if goes_on else "unknown"
    return "stopped" if came_of is not None and came_of.early else "completed"


def _care_plan(programme: Programme, until: Stamp | None) -> Resource:
    """A home programme; it ends where the next one was handed out, or the episode was closed."""
    status = "active" if until is None else "completed"
    status = status if programme.retracted is None else "entered-in-error"
    found = base("CarePlan", programme.id) | {
        "status": status,
        "intent": "plan",
        "title": "Home programme",
        "subject": reference(programme.person),
        "period": period(programme.issued, until),
        "created": when(programme.issued),
        "addresses": [reference(programme.episode, "condition")],
    }
    if programme.visit:
        found["encounter"] = reference(programme.visit)
    if programme.examiner:
        found["author"] = {"display": text_of(programme.examiner)}
    if programme.words:
        found["description"] = text_of(programme.words)
    activities = [_activity(item, status) for item in _items(programme)]
    return found | ({"activity": activities} if activities else {})


def _items(programme: Programme) -> tuple[HomeItem, ...]:
    """The items; none where this copy cannot read them, and the plan then stands without them."""
    try:
        return items_of(programme)
    except CareFault:
        return ()


def _activity(item: HomeItem, status: str) -> Resource:
    every_day = item.days_a_week >= EVERY_DAY
    return {
        "detail": {
            "code": code(own_code("activity", item.activity, item.name), text=item.name),
            "status": {"active": "in-progress"}.get(status, status),
            "scheduledTiming": {
                "repeat": {
                    "frequency": item.a_day if every_day else item.a_day * item.days_a_week,
                    "period": 1,
                    "periodUnit": "d" if every_day else "wk",
                }
            },
            "description": text_of(item_says(item)),
        }
    }
