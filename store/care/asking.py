"""What is asked before hands are laid on or the ankle is loaded: once a visit for the same reason,
and each time for a referral that stands.

The same reasons mark the steps of a plan. A yes is kept in the record, as the reason of a revision of the visit.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.care import visits as visiting
from store.care.care import Care
from store.care.plan_words import consent_refused
from store.care.safety_state import REFER, warnings
from store.care.warning import Warned, warned
from store.knowledge.kinds import Activity, Measure
from store.knowledge.words import Episode, Person, Visit
from store.record import amendments, visits

Reasons = tuple[Warned, ...]

GOES_ON = "goes on all the same: "
"""How the revision begins that keeps a yes; the ids of the reasons follow."""

NO_CONSENT = Warned("no_consent", "Consent was refused today: ask again first.", in_force=True)


def reasons(
    care: Care, visit: Visit, thing: Activity | Measure, person: Person, episode: Episode | None
) -> Reasons:
    """What stands against hands-on work or loading with this person today; nothing for what is neither."""
    if not _loads(thing):
        return ()
    found = warned(care.knowledge, thing, episode, person, visit.started.on) if episode is not None else ()
    return (*beside_cautions(care, visit, thing, episode), *(one for one in found if one.in_force))


def beside_cautions(care: Care, visit: Visit, thing: Activity | Measure, episode: Episode | None) -> Reasons:
    """What stands against it beside the cautions in force: a referral, consent that was refused."""
    if not _loads(thing):
        return ()
    referred = warnings(care, episode.id) if episode is not None else ()
    return (*referred, *((NO_CONSENT,) if consent_refused(visit) else ()))


def _loads(thing: Activity | Measure) -> bool:
    return thing.loading or (isinstance(thing, Activity) and thing.hands_on)


def asks(care: Care, visit_id: str, thing: Activity | Measure) -> Reasons:
    """The reasons that nobody said yes to in this visit; a referral that stands asks each time anew.

    Raises CareFault when the visit is not in the record.
    """
    visit = care.visit(visit_id)
    episode = care.episode(visit.episode) if visit.episode else None
    found = reasons(care, visit, thing, care.person(visit.person), episode)
    told = _answered(care, visit) if found else frozenset()
    return tuple(one for one in found if one.id not in told or one.id.startswith(REFER))


def go_on(care: Care, visit_id: str, found: Sequence[Warned]) -> None:
    """Keep that the examiner goes on for all these reasons. Raises CareFault, or RecordFault."""
    visit = care.visit(visit_id)
    visiting.must_be_open(visit)
    because = GOES_ON + ", ".join(one.id for one in found)
    visits.revise_visit(care.record, visit, by=care.examiner, because=because)


def in_words(found: Iterable[Warned]) -> str:
    """Reasons in a few words each: "no consent, day 1, anticoagulants"."""
    return ", ".join(one.because or one.name for one in found)


def question(found: Sequence[Warned], key: str) -> str:
    """What is asked: one reason in its own sentence, several by name."""
    told = found[0].text if len(found) == 1 else f"Ask first: {in_words(found)}."
    return f"{told} {key} again goes on."


def _answered(care: Care, visit: Visit) -> frozenset[str]:
    kept = amendments.amendments_of(care.record, "visit", visit.id)
    said = [one.because.removeprefix(GOES_ON) for one in kept if one.because.startswith(GOES_ON)]
    return frozenset(each for line in said for each in line.split(", "))
