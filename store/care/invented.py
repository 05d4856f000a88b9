"""Whether people are invented: the record says so in its own rows, by the examiner of all that was measured."""

from __future__ import annotations

from store.care.care import Care
from store.knowledge.words import Person
from store.record import examiners, visits

INVENTED = "invented"
"""The examiner of invented people. The word goes with each reading, wherever it is copied to."""

NOTE = "These people are invented, and so is all that was measured of them."
THIS_ONE = "This person is invented, and so is all that stands here."
SOME = f"Some of these people are invented: those whose examiner is called {INVENTED}."


def is_invented(care: Care) -> bool:
    """Whether the record holds invented people."""
    return examiners.examiner_named(care.record, INVENTED) is not None


def invented_note(care: Care) -> str:
    """The sentence to put above a list of everybody; empty where nobody is invented."""
    if not is_invented(care):
        return ""
    return NOTE if all(one.name == INVENTED for one in examiners.examiners(care.record)) else SOME


def is_invented_person(care: Care, person: Person) -> bool:
    """Whether this person is invented, also after a merge with a record of real people."""
    return any(visit.examiner == INVENTED for visit in visits.visits_of_person(care.record, person.id))
