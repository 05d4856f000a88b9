"""All that is held on one person, as one frozen object: what leaves for other programs is made of it.

While a re-test is blind, the values that it is held against are left out, and `hidden` names their measures.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from store.care import plan as planning
from store.care import visits as visiting
from store.care.care import Care
from store.care.invented import INVENTED
from store.care.past_visits import PastVisit, is_blind, past_visit
from store.entry.said import MEASURES
from store.knowledge.appointment import Appointment
from store.knowledge.papers import Note, Programme, ProgrammeDay, SafetyScreen
from store.knowledge.planned import ForecastMade, Squad, StageDecision
from store.knowledge.rechecks import Recheck
from store.knowledge.resprain import Resprain
from store.knowledge.runs import RunPlan, RunSession
from store.knowledge.words import Amendment, BoutEvent, BoutRow, Episode, Person, Reading, Visit
from store.record import bouts, episodes, everything, notes, readings, squads, visits


@dataclass(frozen=True, slots=True)
class HeldVisit:
    """A visit with what was made of it, where it belongs to an episode."""

    visit: Visit
    told: PastVisit | None = None


@dataclass(frozen=True, slots=True)
class Everything:
    """All rows of a person, also those that were taken back, oldest first; `events` are by their bout.

    `hidden` are the measures whose values before treatment are left out, by the visit in hand. `rules` are those
    by which notes and safety screens were made, by hash. `rungs` are those of the sessions of running, by session,
    as they are written.
    """

    person: Person
    invented: bool
    episodes: tuple[Episode, ...]
    visits: tuple[HeldVisit, ...]
    readings: tuple[Reading, ...]
    bouts: tuple[BoutRow, ...]
    events: Mapping[str, tuple[BoutEvent, ...]]
    decisions: tuple[StageDecision, ...]
    programmes: tuple[Programme, ...]
    days: tuple[ProgrammeDay, ...]
    notes: tuple[Note, ...]
    screens: tuple[SafetyScreen, ...]
    resprains: tuple[Resprain, ...]
    rechecks: tuple[Recheck, ...]
    run_plans: tuple[RunPlan, ...]
    run_sessions: tuple[RunSession, ...]
    rungs: Mapping[str, str]
    appointments: tuple[Appointment, ...]
    forecasts: tuple[ForecastMade, ...]
    squads: tuple[Squad, ...]
    amendments: tuple[Amendment, ...]
    rules: Mapping[str, Mapping[str, object]]
    hidden: Mapping[str, frozenset[str]]

    @property
    def standing_readings(self) -> tuple[Reading, ...]:
        """The readings that were not taken back."""
        return tuple(reading for reading in self.readings if reading.retracted is None)


def everything_of(care: Care, person: Person) -> Everything:
    """All that is held on a person, but for what a blind re-test hides. Raises RecordFault."""
    record = care.record
    own = tuple(episodes.episodes_of_person(record, person.id))
    seen = visits.visits_of_person(record, person.id)
    hidden, waiting = _blind(care, own)
    held = tuple(_held(care, visit, own, hidden) for visit in seen)
    taken = tuple(
        one
        for one in readings.every_of_person(record, person.id)
        if not is_blind(one.measure, one.moment, hidden.get(one.visit or "", frozenset()))
    )
    timed = tuple(
        one
        for one in everything.bouts(record, person.id)
        if not is_blind(one.measure, one.moment, waiting.get(one.visit or "", frozenset()))
    )
    written = tuple(
        one for one in everything.notes(record, person.id) if one.signed is not None or one.visit not in hidden
    )
    found = Everything(
        person=person,
        invented=any(visit.examiner == INVENTED for visit in seen),
        episodes=own,
        visits=held,
        readings=taken,
        bouts=timed,
        events={bout.id: tuple(bouts.events_of(record, bout.id)) for bout in timed},
        decisions=tuple(everything.decisions(record, person.id)),
        programmes=tuple(everything.programmes(record, person.id)),
        days=tuple(everything.programme_days(record, person.id)),
        notes=written,
        screens=tuple(everything.screens(record, person.id)),
        resprains=tuple(everything.resprains(record, person.id)),
        rechecks=tuple(everything.rechecks(record, person.id)),
        run_plans=tuple(everything.run_plans(record, person.id)),
        run_sessions=tuple(everything.run_sessions(record, person.id)),
        rungs={},
        appointments=tuple(everything.appointments(record, person.id)),
        forecasts=tuple(everything.forecasts(record, person.id)),
        squads=tuple(squads.squads_of(record, person.id)),
        amendments=(),
        rules={},
        hidden=hidden,
    )
    found = replace(found, rungs=_rungs(care, found))
    return replace(found, amendments=_amendments(care, found), rules=_rules(care, found))


def everything_of_everybody(care: Care) -> Iterator[Everything]:
    """One person after another, by label, so that no more than one is held at once. Raises RecordFault."""
    for person_id in everything.ids_of_everybody(care.record):
        yield everything_of(care, care.person(person_id))


def hidden_words(found: Everything) -> str:
    """A sentence on what was left out for a blind re-test; empty where nothing was."""
    measures = sorted(frozenset[str]().union(*found.hidden.values()))
    if not measures:
        return ""
    return (
        f"left out, while their re-test is blind: the values of today before treatment of {', '.join(measures)}. "
        "Export again once the re-test is in"
    )


_ByVisit = dict[str, frozenset[str]]


def _blind(care: Care, own: tuple[Episode, ...]) -> tuple[_ByVisit, _ByVisit]:
    """By the visits in hand: measures whose values before are hidden, and those whose re-test is awaited."""
    hidden: _ByVisit = {}
    waiting: _ByVisit = {}
    for episode in own:
        visit = visiting.open_visit(care, episode)
        if visit is None or not care.blind:
            continue
        taken = readings.readings_of_visit(care.record, visit.id)
        waiting[visit.id] = planning.awaiting_retest(visit, taken)
        if found := visiting.hidden(care, visit, taken):
            hidden[visit.id] = found
    return hidden, waiting


def _held(care: Care, visit: Visit, own: tuple[Episode, ...], hidden: _ByVisit) -> HeldVisit:
    episode = next((one for one in own if one.id == visit.episode), None)
    if hidden.get(visit.id, frozenset()) & set(MEASURES.values()):
        visit = visit._replace(said=None)  # what was typed holds the figures
    return HeldVisit(visit, past_visit(care, visit, episode) if episode is not None else None)


def _amendments(care: Care, found: Everything) -> tuple[Amendment, ...]:
    """What stood before each correction of the rows that are told; of a blind visit nothing."""
    rows: dict[str, list[str]] = defaultdict(list)
    rows["person"] = [found.person.id]
    rows["episode"] = [one.id for one in found.episodes]
    rows["visit"] = [one.visit.id for one in found.visits if one.visit.id not in found.hidden]
    rows["reading"] = [one.id for one in found.readings if one.visit not in found.hidden]
    rows["bout"] = [one.id for one in found.bouts]
    rows["stage_decision"] = [one.id for one in found.decisions]
    rows["programme"] = [one.id for one in found.programmes]
    rows["programme_day"] = [one.id for one in found.days]
    rows["note"] = [one.id for one in found.notes if one.visit not in found.hidden]
    rows["safety_screen"] = [one.id for one in found.screens]
    rows["resprain"] = [one.id for one in found.resprains]
    rows["recheck"] = [one.id for one in found.rechecks]
    rows["run_plan"] = [one.id for one in found.run_plans]
    rows["run_session"] = [one.id for one in found.run_sessions]
    rows["appointment"] = [one.id for one in found.appointments]
    rows["forecast_made"] = [one.id for one in found.forecasts]
    told = (everything.amendments(care.record, table, ids) for table, ids in rows.items() if ids)
    return tuple(one for each in told for one in each)


def _rungs(care: Care, found: Everything) -> dict[str, str]:
    if not found.run_sessions:
        return {}  # the table is read only where somebody runs
    plans = {one.id: one.ladder for one in found.run_plans}
    known = care.knowledge.running.ladders
    ladders = {one.id: known.get(plans.get(one.plan or "", "")) for one in found.run_sessions}
    return {
        one.id: ladder.rung(one.rung).words if (ladder := ladders[one.id]) is not None else f"rung {one.rung}"
        for one in found.run_sessions
    }


def _rules(care: Care, found: Everything) -> dict[str, Mapping[str, object]]:
    named = {one.rules for one in found.notes} | {one.rules for one in found.screens}
    kept = {name: notes.rules(care.record, name) for name in sorted(filter(None, named))}
    return {name: data for name, data in kept.items() if data is not None}
