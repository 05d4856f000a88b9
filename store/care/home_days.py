"""The days at home as they are told: kept by day, put right, taken back."""

from __future__ import annotations

from typing import NamedTuple

from store.care.care import Care
from store.care.dates import short_day
from store.care.faults import CareFault
from store.care.home import Handed, HomeStanding
from store.care.in_words import many
from store.care.undoing import undo_said
from store.care.visits import must_be_open, said
from store.entry.home_days import HomeDay, HomeDays, parse_home_days
from store.knowledge.papers import ProgrammeDay
from store.knowledge.words import Visit
from store.record import programmes


class TellingDone(NamedTuple):
    """One act of telling, to be told and taken back: each day as it stood before (None: new) and after; or what
    was said in a visit.
    """

    days: tuple[tuple[ProgrammeDay | None, ProgrammeDay], ...]
    says: str
    visit: Visit | None = None


def tell_days(care: Care, held: HomeStanding, line: str, visit: Visit | None = None) -> TellingDone:
    """Keep what a line says of the days at home. Raises EntryError or CareFault; then nothing is kept.

    Days by themselves go to the programme that was in force then; "5/7" is kept with what the person says in
    the visit that goes on.
    """
    heard = parse_home_days(line, held.on)
    if heard.done is not None:
        return _in_all(care, heard, visit)
    given = [(day, _programme_of(held, day)) for day in heard.days]
    with care.together():
        kept = tuple(_keep(care, one, day) for day, one in given)
    return TellingDone(kept, "saved " + ", ".join(_day_words(after) for _, after in kept))


def _in_all(care: Care, heard: HomeDays, visit: Visit | None) -> TellingDone:
    if visit is None:
        raise CareFault(
            "so many of so many days is kept with what is said in a visit: start it (v), or name the days, "
            "such as mon 3, tue 2"
        )
    morning = f" morning {heard.morning}" if heard.morning is not None else ""
    after = said(care, visit, f"home {heard.done}/{heard.planned}{morning}")
    return TellingDone((), f"saved: {heard.done} of {many(heard.planned or 0, 'day')}{morning}", after)


def _programme_of(held: HomeStanding, day: HomeDay) -> Handed:
    """The programme in force on a day. Raises CareFault where there was none, or it has fewer items."""
    found: Handed | None = next((one for one in reversed(held.handed) if one.since <= day.day), None)
    if found is None:
        first = f": the first is of {short_day(held.handed[0].since)}" if held.handed else ""
        raise CareFault(f"no home programme was handed out before {short_day(day.day)}{first}")
    if day.done > len(found.items):
        raise CareFault(
            f"{short_day(day.day)}: {day.done} were done, and the programme of then has {len(found.items)}: "
            "type how many of it"
        )
    return found


def _keep(care: Care, one: Handed, day: HomeDay) -> tuple[ProgrammeDay | None, ProgrammeDay]:
    """A new day, or the one that was told before put right."""
    before = next((kept for kept in one.days if kept.day == day.day), None)
    if before is None:
        new = ProgrammeDay("", one.programme.id, one.programme.person, day.day, day.done, day.pain_morning)
        return None, programmes.DAY.add(care.record, new, by=care.examiner)
    pain = before.pain_morning if day.pain_morning is None else day.pain_morning
    put_right = before._replace(done=day.done, pain_morning=pain)
    return before, programmes.DAY.revise(care.record, put_right, by=care.examiner, because="told again")


def take_back(care: Care, act: TellingDone) -> str:
    """Take an act of telling back. Raises CareFault, or RecordFault where a day was told anew meanwhile."""
    if act.visit is not None:
        visit = care.visit(act.visit.id)
        must_be_open(visit)
        if visit.said != act.visit.said:
            raise CareFault("something else was said in this visit since: u in the visit takes it back first")
        return undo_said(care, visit)
    with care.together():
        for before, after in act.days:
            programmes.DAY.take_back(care.record, before, after, by=care.examiner)
    return f"took back: {act.says.removeprefix('saved ')}"


def days_words(one: Handed) -> str:
    """The days that were told of a programme, the last ones: "Mon 23 Nov 3, pain 1; ..."."""
    return "; ".join(_day_words(day) for day in one.days[-7:])


def _day_words(day: ProgrammeDay) -> str:
    pain = f", pain {day.pain_morning} next morning" if day.pain_morning is not None else ""
    return f"{short_day(day.day)} {day.done} done{pain}"
