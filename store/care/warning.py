"""The usual cautions of an activity or a measure, with those that this person puts in force first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.care.people import age
from store.knowledge.kinds import Activity, Measure
from store.knowledge.load import Knowledge
from store.knowledge.words import Episode, Person

FIRST_DAYS = 3
"""Days after the injury that count as the first ones of bleeding (common practice: the inflammatory days)."""

ADULT = 18


@dataclass(frozen=True, slots=True)
class Warned:
    """One caution. `because` says what of this person puts it in force; empty for one that only may apply."""

    id: str
    says: str
    because: str = ""

    @property
    def in_force(self) -> bool:
        """Does it apply to this person, as far as was told?"""
        return bool(self.because)


def warned(
    knowledge: Knowledge, thing: Activity | Measure, episode: Episode, person: Person, today: date
) -> tuple[Warned, ...]:
    """The cautions of what is done, those in force first, each group in the order of the table.

    One that the episode puts in force is told before any hands-on work or loading, though the table does not
    name it.
    """
    because = _in_force(episode, person, today)
    ids = list(thing.cautions)
    if thing.loading or (isinstance(thing, Activity) and thing.hands_on):
        ids += [each for each in because if each not in ids and each in _OF_THE_EPISODE]
    found = [Warned(each, knowledge.cautions[each].says, because.get(each, "")) for each in ids]
    return tuple(sorted(found, key=lambda one: not one.in_force))


def not_asked(activity: Activity, episode: Episode) -> tuple[str, ...]:
    """What hands-on work or loading hangs on and nobody asked yet, in a few words each."""
    if not (activity.hands_on or activity.loading):
        return ()
    asked = {
        "anticoagulants": episode.anticoagulant,
        "loss_of_feeling": episode.loss_of_feeling,
        "hypermobility": episode.hypermobility,
    }
    return tuple(
        name.replace("_", " ") for name, answer in asked.items() if answer is None and name in activity.cautions
    )


_OF_THE_EPISODE = ("anticoagulants", "loss_of_feeling", "hypermobility")


def _in_force(episode: Episode, person: Person, today: date) -> dict[str, str]:
    """The ids of the cautions in force, each with its reason in a few words."""
    days = (today - episode.injured_on).days if episode.injured_on else None
    years = age(person.born, today)
    found = {
        "anticoagulants": "on an anticoagulant" if episode.anticoagulant else "",
        "loss_of_feeling": "loss of feeling" if episode.loss_of_feeling else "",
        "hypermobility": "hypermobility" if episode.hypermobility else "",
        "first_days": f"day {days}" if days is not None and 0 <= days <= FIRST_DAYS else "",
        "growth_plates": f"{years} years old" if years is not None and years < ADULT else "",
    }
    return {each: reason for each, reason in found.items() if reason}
