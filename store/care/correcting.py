"""What was asked of a person and an episode, put right later; an episode opened again. All stays in the file.

A row is corrected against the revision as read when the form was opened: another window's change is not lost.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from store.care.bout_undo import BECAUSE
from store.care.care import Care
from store.care.dates import day_text
from store.care.faults import CareFault
from store.care.people import EpisodeForm, check_episode, clean_born, clean_label, must_have_no_visit
from store.knowledge.time import Stamp
from store.knowledge.words import Episode, Person, Side
from store.record import amendments, bouts, episodes, people, readings, visits
from store.record.rows import EPISODE_COLUMNS, PERSON_COLUMNS, episode_of, episode_values, person_of, person_values

CORRECTED = "corrected"
WITH_EPISODE = "corrected, with the episode"
WITH_PERSON = "corrected, with the person"
OPENED_AGAIN = "opened again"
_WORDS = {"injured_on": "injured on", "goal_on": "the goal's day", "loss_of_feeling": "loss of feeling"}


def form_of(episode: Episode) -> EpisodeForm:
    """What was asked of an episode, as a form to fill in again."""
    return EpisodeForm(**{field.name: getattr(episode, field.name) for field in fields(EpisodeForm)})


def with_form(episode: Episode, form: EpisodeForm) -> Episode:
    """The episode with what a form asks put in its place."""
    return episode._replace(**{field.name: getattr(form, field.name) for field in fields(form)})


# acts


def correct(
    care: Care, person: Person, episode: Episode, label: str, born: str, form: EpisodeForm
) -> tuple[Person, Episode]:
    """Put right what was asked; `person` and `episode` are as read when the form opened. Raises CareFault or
    RecordFault, also when either was changed meanwhile; then nothing is kept.
    """
    now = person._replace(label=clean_label(label), born=clean_born(born, care.clock.now().on))
    asked = with_form(episode, form)
    _must_be_possible(care, now, asked)
    if asked.side is not episode.side:
        _side_may_change(care, episode, asked.side)
    both = now != person and asked != episode
    with care.together():
        if now != person:
            because = WITH_EPISODE if both else CORRECTED
            now = people.revise_person(care.record, now, by=care.examiner, because=because)
        if asked != episode:
            because = WITH_PERSON if both else CORRECTED
            asked = episodes.revise_episode(care.record, asked, by=care.examiner, because=because)
    return now, asked


def open_again(care: Care, episode: Episode) -> Episode:
    """Take an episode that was closed up again. Raises CareFault when another of that ankle was opened since."""
    if episode.closed is None:
        raise CareFault("this episode is open: there is nothing to open again")
    _no_later_one(care, episode)
    again = episode._replace(closed=None)
    return episodes.revise_episode(care.record, again, by=care.examiner, because=OPENED_AGAIN)


# what stands in the way


def _must_be_possible(care: Care, person: Person, asked: Episode) -> None:
    today = care.clock.now().on
    check_episode(form_of(asked), person.born, today)
    if asked.injured_on is not None and asked.injured_on > asked.opened.on:
        first = day_text(asked.opened.on)
        raise CareFault(f"injured on {asked.injured_on} is after the first contact on {first}: type it again")
    for other in episodes.episodes_of_person(care.record, person.id):
        if other.id != asked.id:
            check_episode(EpisodeForm(other.side, injured_on=other.injured_on), person.born, today)


def _side_may_change(care: Care, episode: Episode, side: Side) -> None:
    if measured_or_timed(care, episode):
        raise CareFault(
            f"the side stays {episode.side}: something was measured or timed in this episode; "
            "close it and open another one of the other ankle"
        )
    others = [one for one in episodes.episodes_of_person(care.record, episode.person) if one.id != episode.id]
    if episode.linked_episode is not None or any(one.closed is None and one.side is side for one in others):
        raise CareFault(f"the side stays {episode.side}: the {side} ankle has an episode of its own")


def measured_or_timed(care: Care, episode: Episode) -> bool:
    """Whether a reading or a bout stands in an episode."""
    if any(one.episode == episode.id for one in readings.readings_of_person(care.record, episode.person)):
        return True
    own = visits.visits_of_episode(care.record, episode.id)
    return any(bouts.bouts_of_visit(care.record, visit.id) for visit in own)


def _no_later_one(care: Care, episode: Episode) -> None:
    assert episode.closed is not None
    for one in episodes.episodes_of_person(care.record, episode.person):
        if one.id != episode.id and one.side is episode.side and one.opened >= episode.closed:
            since = day_text(one.opened.on)
            raise CareFault(f"another episode of the {episode.side} ankle was opened on {since}: open that one")


# taking back


@dataclass(frozen=True, slots=True)
class Act:
    """One amendment that can be taken back: the row's columns before and after it."""

    table: str
    revision: str
    because: str
    at: Stamp
    before: dict[str, Any]
    after: dict[str, Any]

    @property
    def changed(self) -> list[str]:
        """The columns that it changed, but for its own."""
        return [name for name in self.after if name != "revision" and self.before[name] != self.after[name]]

    @property
    def says(self) -> str:
        """What it was, in words."""
        if "closed_at" in self.changed:
            return "the closing" if self.after["closed_at"] else "the opening again"
        return f"the correction of {', '.join(_WORDS.get(name, name.replace('_', ' ')) for name in self.changed)}"


def newest(care: Care, episode: Episode) -> Act | None:
    """The correction, closing or opening again that `undo` would take back: of today, and not taken back yet."""
    own = _acts(care, "episode", episode.id, _episode_row(care.episode(episode.id)))
    of_person = _acts(care, "person", episode.person, _person_row(care.person(episode.person)))
    both = [*own, *(act for act in of_person if act.because == CORRECTED)]
    today = care.clock.now().on
    return max((act for act in both if act.at.on == today), key=lambda act: act.revision, default=None)


def undo(care: Care, episode: Episode) -> str:
    """Take the newest of them back, and say what; what was changed by others since stands. Raises CareFault."""
    episode = care.episode(episode.id)
    act = newest(care, episode)
    if act is None:
        raise CareFault("nothing to undo here today")
    with care.together():
        if act.table == "person":
            _put_back_person(care, episode, act)
            return f"took back {act.says}"
        back = episode_of(_restored(EPISODE_COLUMNS, _episode_row(episode), act))
        _may_be(care, episode, back)
        episodes.revise_episode(care.record, back, by=care.examiner, because=BECAUSE)
        says = act.says
        if act.because == WITH_PERSON:
            row = _person_row(care.person(episode.person))
            acts = [one for one in _acts(care, "person", episode.person, row) if one.because == WITH_EPISODE]
            mate = max((one for one in acts if one.revision < act.revision), key=lambda one: one.revision)
            _put_back_person(care, episode, mate)
            says = f"{mate.says}, {says.removeprefix('the correction of ')}"
    return f"took back {says}"


def _may_be(care: Care, episode: Episode, back: Episode) -> None:
    if back.side is not episode.side:
        _side_may_change(care, episode, back.side)
    if back.closed is None and episode.closed is not None:
        _no_later_one(care, episode)
    if back.closed is not None and episode.closed is None:
        must_have_no_visit(care, episode)


def _put_back_person(care: Care, episode: Episode, act: Act) -> None:
    row = _person_row(care.person(episode.person))
    people.revise_person(
        care.record, person_of(_restored(PERSON_COLUMNS, row, act)), by=care.examiner, because=BECAUSE
    )


def _episode_row(episode: Episode) -> dict[str, Any]:
    return {**episode_values(episode), "revision": episode.revision}


def _person_row(person: Person) -> dict[str, Any]:
    return {**person_values(person), "revision": person.revision}


def _restored(columns: str, row: dict[str, Any], act: Act) -> tuple[Any, ...]:
    """The row with what the act changed as it was before, where nobody has changed it since."""
    back = {name: act.before[name] for name in act.changed if row[name] == act.after[name]}
    whole = row | back
    return tuple(whole[name.strip().partition(".")[2]] for name in columns.split(","))


def _acts(care: Care, table: str, row_id: str, row: dict[str, Any]) -> list[Act]:
    """The acts of a row that stand, oldest first: each undo takes away the last one that changed the same."""
    found = amendments.amendments_of(care.record, table, row_id)
    afters = [*(one.was for one in found[1:]), row] if found else []
    standing: list[Act] = []
    for one, after in zip(found, afters, strict=True):
        before, left = ({name: each.get(name) for name in row} for each in (one.was, after))  # or not a column yet
        act = Act(table, one.revision, one.because, one.at, before, left)
        if one.because == BECAUSE:
            undone = next((each for each in reversed(standing) if set(act.changed) <= set(each.changed)), None)
            standing = [each for each in standing if each is not undone]
        elif one.because in (CORRECTED, WITH_EPISODE, WITH_PERSON) or "closed_at" in act.changed:
            standing.append(act)
    return standing
