"""The usual cautions of an activity or a measure, with those that this person puts in force first."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from store.care.people import age
from store.knowledge.kinds import Activity, Measure
from store.knowledge.load import Knowledge
from store.knowledge.words import Episode, Person

FIRST_DAYS = 3
"""Days after the injury that count as the first ones of bleeding (common practice: the inflammatory days)."""

ADULT = 18
"""Years at which the growth plates are taken to be closed."""


class Warned(NamedTuple):
    """One caution. `in_force`: it applies to this person, by what was told, or for the reason in `because`.
    `short` is it in few words, where those of its id would not be plain."""

    id: str
    says: str
    in_force: bool = False
    because: str = ""
    short: str = ""

    @property
    def name(self) -> str:
        """In a few words."""
        return self.short or in_few_words(self.id)

    @property
    def text(self) -> str:
        """The sentence, after the reason where the sentence does not name it."""
        return f"{self.because}: {self.says}" if self.because else self.says


def warned(
    knowledge: Knowledge, thing: Activity | Measure, episode: Episode, person: Person, today: date
) -> tuple[Warned, ...]:
    """The cautions of what is done, those in force first, each group in the order of the table; without those that
    do not concern this person by what is known.

    One that the episode puts in force is told before any hands-on work or loading, though the table does not
    name it.
    """
    because = _in_force(episode, person, today)
    ruled_out = _ruled_out(episode, person, today)
    ids = [each for each in thing.cautions if each not in ruled_out]
    if thing.loading or (isinstance(thing, Activity) and thing.hands_on):
        ids += [each for each in because if each not in ids and each in answers(episode)]
    known = knowledge.cautions
    found = [Warned(one, known[one].says, one in because, because.get(one, ""), known[one].name) for one in ids]
    return tuple(sorted(found, key=lambda one: not one.in_force))


def not_asked(activity: Activity, episode: Episode) -> tuple[str, ...]:
    """What hands-on work or loading hangs on and nobody asked yet, in a few words each."""
    if not (activity.hands_on or activity.loading):
        return ()
    unasked = (name for name, answer in answers(episode).items() if answer is None)
    return tuple(in_few_words(name) for name in unasked if name in activity.cautions)


def answers(episode: Episode) -> dict[str, bool | None]:
    """What was answered of the cautions that are asked of a new episode, by their ids; None: not asked."""
    return {
        "anticoagulants": episode.anticoagulant,
        "loss_of_feeling": episode.loss_of_feeling,
        "hypermobility": episode.hypermobility,
    }


def in_few_words(caution: str) -> str:
    """A caution in a word or two, from its id."""
    return caution.replace("_", " ")


def _in_force(episode: Episode, person: Person, today: date) -> dict[str, str]:
    """The ids of the cautions in force, each with its reason, which is empty where it was told as such."""
    days = (today - episode.injured_on).days if episode.injured_on else None
    years = age(person.born, today)
    found = {each: "" for each, there in answers(episode).items() if there}
    if days is not None and 0 <= days <= FIRST_DAYS:
        found["first_days"] = f"day {days}"
    if years is not None and years < ADULT:
        found["growth_plates"] = f"{years} years old"
    return found


def _ruled_out(episode: Episode, person: Person, today: date) -> frozenset[str]:
    """The ids of the cautions that do not concern this person: answered with no, grown up, past the first days."""
    days = (today - episode.injured_on).days if episode.injured_on else None
    years = age(person.born, today)
    found = {each for each, there in answers(episode).items() if there is False}
    found |= {"first_days"} if days is not None and days > FIRST_DAYS else set()
    found |= {"growth_plates"} if years is not None and years >= ADULT else set()
    return frozenset(found)
