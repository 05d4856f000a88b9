"""New people and episodes: what a form or a shell hands in, checked and kept."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, fields
from datetime import date, datetime, time

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Grade, Person, Side
from store.record import episodes, people, visits

LABEL_MOST = 40


@dataclass(frozen=True, slots=True)
class EpisodeForm:
    """What is asked of a new episode, by the names of Episode. None means: not asked, or not yet known."""

    side: Side
    structure: str = "lateral ligament"
    grade: Grade | None = None
    injured_on: date | None = None
    goal: str | None = None
    goal_on: date | None = None
    sport: str | None = None
    level: str | None = None
    sprains_left: int | None = None
    sprains_right: int | None = None
    anticoagulant: bool | None = None
    loss_of_feeling: bool | None = None
    hypermobility: bool | None = None
    brace: str | None = None


def clean_label(text: str) -> str:
    """A label fit to show and keep. Raises CareFault on one that is empty, too long or has control characters."""
    label = " ".join(text.split())
    if not label:
        raise CareFault("a person needs a short label, such as initials: type one")
    _showable(label, "the label")
    if len(label) > LABEL_MOST:
        raise CareFault(f"a label has at most {LABEL_MOST} characters: initials will do")
    return label


def clean_words(text: str, what: str) -> str | None:
    """Free words fit to show and keep; None for an empty text. Raises CareFault on control characters."""
    words = " ".join(text.split())
    _showable(words, what)
    return words or None


def _showable(text: str, what: str) -> None:
    if any(unicodedata.category(char) in {"Cc", "Cf", "Co", "Cs"} for char in text):
        raise CareFault(f"{what} holds characters that cannot be shown: type it again")


def same_label(care: Care, label: str) -> int:
    """How many people have exactly this label already. It need not be unique; the form says so once."""
    return len(people.people_labelled(care.record, " ".join(label.split())))


def clean_born(text: str, today: date) -> str | None:
    """A date of birth, whole or the year only; None for an empty text. Raises CareFault with what to type."""
    text = text.strip()
    if not text:
        return None
    if re.fullmatch(r"[0-9]{4}", text):
        first = date(int(text), 1, 1) if int(text) > 0 else date.max
    else:
        try:
            first = date.fromisoformat(text)
        except ValueError:
            raise CareFault("born: type a year such as 1995, or a date such as 1995-04-12") from None
    if first > today:
        raise CareFault(f"born {text} lies in the future: type it again")
    if first.year < today.year - 120:
        raise CareFault(f"born {text} is more than 120 years ago: type it again")
    return text


def age(born: str | None, on: date) -> int | None:
    """Whole years on a day. With the year of birth alone it is the lower of the two possible ages."""
    if born is None:
        return None
    if len(born) == 4:
        return max(0, on.year - int(born) - 1)
    day = date.fromisoformat(born)
    return on.year - day.year - ((on.month, on.day) < (day.month, day.day))


def check_episode(form: EpisodeForm, born: str | None, today: date) -> None:
    """Refuse dates that cannot be. Raises CareFault."""
    if form.injured_on is not None:
        if form.injured_on > today:
            raise CareFault(f"injured on {form.injured_on} lies in the future: type the day it happened")
        if born is not None and form.injured_on.isoformat() < born:
            raise CareFault(f"injured on {form.injured_on} is before birth ({born}): type one of them again")
    if form.goal_on is not None:
        if form.injured_on is not None and form.goal_on < form.injured_on:
            raise CareFault(f"the goal's day {form.goal_on} is before the injury: type it again")
        if form.goal_on.year > today.year + 20:
            raise CareFault(f"the goal's day {form.goal_on} is more than 20 years ahead: type it again")
    for side, count in (("left", form.sprains_left), ("right", form.sprains_right)):
        if count is not None and not 0 <= count <= 99:
            raise CareFault(f"previous sprains, {side}: type a number from 0 to 99")


def new_person(
    care: Care, label: str, born: str = "", form: EpisodeForm | None = None
) -> tuple[Person, Episode | None]:
    """Keep a new person, and their episode where there is one. Raises CareFault; then nothing is kept."""
    today = care.clock.now().on
    person = Person(care.new_id(), clean_label(label), clean_born(born, today))
    if form is not None:
        check_episode(form, person.born, today)
    with care.together():
        person = people.add_person(care.record, person)
        episode = _keep_episode(care, person, form) if form is not None else None
    return person, episode


def new_episode(care: Care, person: Person, form: EpisodeForm) -> Episode:
    """Keep a new episode. An open one of the other ankle is linked: two injured ankles are two linked episodes."""
    check_episode(form, person.born, care.clock.now().on)
    for open_one in _open_episodes(care, person.id):
        if open_one.side is form.side:
            raise CareFault(
                f"{person.label} has an open episode of the {form.side} ankle: open that, or close it first"
            )
    with care.together():
        return _keep_episode(care, person, form)


def close_episode(care: Care, episode: Episode, on: date | None = None, reason: str = "discharged") -> Episode:
    """Close an episode, at discharge: it leaves the caseload for the closed ones. Raises CareFault.

    `on` is the day of it, today when it is not given; a visit left open on an earlier day is ended with it.
    """
    if episode.closed is not None:
        raise CareFault("this episode is closed already")
    must_have_no_visit(care, episode)
    closed = episode._replace(closed=_closed_at(care, episode, on))
    with care.together():
        visiting.end_left_open(care, episode)
        return episodes.revise_episode(care.record, closed, by=care.examiner, because=reason.strip() or "closed")


def must_have_no_visit(care: Care, episode: Episode) -> None:
    """Raise CareFault while a visit of the episode goes on."""
    if visiting.open_visit(care, episode) is not None:
        raise CareFault("a visit of this episode is still open: end it first, then close the episode")


def _closed_at(care: Care, episode: Episode, on: date | None) -> Stamp:
    """Now, or the end of an earlier day. Raises CareFault on a day on which it cannot have been closed."""
    now = care.clock.now()
    if on is None or on == now.on:
        return now
    if on > now.on:
        raise CareFault(f"{on} lies in the future: type the day the episode was closed")
    first = max(
        [episode.opened.on, *(visit.started.on for visit in visits.visits_of_episode(care.record, episode.id))]
    )
    if on < first:
        raise CareFault(f"something was done in this episode on {first}: type that day or a later one")
    return Stamp.of(datetime.combine(on, time(23, 59, 59), tzinfo=care.clock.zone))


def _keep_episode(care: Care, person: Person, form: EpisodeForm) -> Episode:
    asked = {field.name: getattr(form, field.name) for field in fields(form)}
    return keep_episode(care, Episode(care.new_id(), person.id, opened=care.clock.now(), **asked))


def keep_episode(care: Care, episode: Episode) -> Episode:
    """Keep an episode that was checked, linked both ways with an open one of the other ankle."""
    others = _open_episodes(care, episode.person)
    other = next((one for one in others if one.side is not episode.side), None)
    episode = episodes.add_episode(care.record, episode._replace(linked_episode=other.id if other else None))
    if other is not None and other.linked_episode is None:
        linked = other._replace(linked_episode=episode.id)
        episodes.revise_episode(care.record, linked, by=care.examiner, because="other ankle injured too")
    return episode


def _open_episodes(care: Care, person_id: str) -> list[Episode]:
    return [episode for episode in episodes.episodes_of_person(care.record, person_id) if episode.closed is None]
