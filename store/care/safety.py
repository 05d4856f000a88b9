"""The acts of the safety screen: answer, keep, ask again as a group, settle what stands, take back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from store.care import visits as visiting
from store.care.care import Care
from store.care.faults import CareFault
from store.care.people import age, clean_words
from store.care.safety_state import AS_A_GROUP, FULL, STANDS, last_full, of_visit, stands
from store.care.safety_words import finding_data, rules_data
from store.knowledge.papers import SafetyScreen
from store.knowledge.safety import Question
from store.knowledge.words import Episode, Person, Visit
from store.reckon.safety import Finding, Outcome, findings, outcome_of
from store.record import amendments, notes, safety

__all__ = ["Draft", "Finding", "Outcome", "outcome_of"]

YES, NO, NONE = "yes", "no", "none"
REASON_MOST = 300
"""Characters of the reason for which a referral is settled."""

CHANGED, SETTLED, TAKEN_BACK = "answers changed", "settled", "taken back by undo"
"""Why a screen was amended."""

_NUMBER = re.compile(r"[0-9]{1,6}([.,][0-9]{0,3})?")

Word = str | float
"""An answer as it is kept: yes, no, none of a number, or the number. What was not asked is not there."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A screen in hand, not yet kept. `told` are the answers that the record gave; `kept` is the one of today that
    it goes on from, so that what stood there first stays as an amendment. `begun` are the answers it began with.
    """

    person: Person
    episode: Episode
    on: date
    answers: Mapping[str, Word]
    told: frozenset[str]
    kept: SafetyScreen | None = None
    begun: Mapping[str, Word] = field(default_factory=dict)

    @property
    def changed(self) -> bool:
        """Whether anything was answered that is not kept yet."""
        if self.kept is not None:
            return dict(self.answers) != self.kept.answers
        return bool(set(self.answers) - self.told)


def screens(care: Care, episode_id: str) -> list[SafetyScreen]:
    """All screens of an episode that stand, oldest first."""
    return safety.screens_of(care.record, episode_id)


def begin(care: Care, episode_id: str) -> Draft:
    """Go on with today's screen of an episode, or begin one in which only what the record knows is answered."""
    episode = care.episode(episode_id)
    person = care.person(episode.person)
    today = care.clock.now().on
    last = last_full(safety.screens_of(care.record, episode_id))
    if last is not None and last.asked.on == today:
        return Draft(person, episode, today, dict(last.answers), frozenset(), last, last.answers)
    told = _told(person, episode, today)
    return Draft(person, episode, today, told, frozenset(told), begun=told)


def _told(person: Person, episode: Episode, today: date) -> dict[str, Word]:
    found: dict[str, Word] = {}
    years = age(person.born, today)
    if years is not None:
        found["age"] = float(years)
    if episode.injured_on is not None:
        found["days"] = float((today - episode.injured_on).days)
    if episode.loss_of_feeling is not None:
        found["no_feeling"] = YES if episode.loss_of_feeling else NO
    return found


def answer(draft: Draft, key: str, word: Word | None) -> Draft:
    """The draft with one answer, or without it where None."""
    answers = dict(draft.answers)
    answers.pop(key, None)
    if word is not None:
        answers[key] = word
    return replace(draft, answers=answers, told=draft.told - {key})


def laid_over(fresh: Draft, mine: Draft) -> Draft:
    """A draft begun anew, with the answers that were given or taken out in another one since that was begun."""
    before = mine.begun
    for key in {*before, *mine.answers}:
        if mine.answers.get(key) != before.get(key):
            fresh = answer(fresh, key, mine.answers.get(key))
    return fresh


def number_of(question: Question, text: str) -> float:
    """A typed number, with point or comma. Raises CareFault with what to type."""
    if not _NUMBER.fullmatch(text):
        raise CareFault(f"type a number in {question.unit}, such as 3 or 2.5")
    found = float(text.replace(",", "."))
    if not 0 <= found <= question.high:
        raise CareFault(f"{text} is out of range: 0 to {question.high:g} {question.unit} are wanted")
    return found


def put(care: Care, draft: Draft) -> tuple[Question, ...]:
    """The questions that are put, by what was answered so far: one that hangs on another only after its yes."""
    adult = care.knowledge.safety.lines["adult_years"].value
    years = draft.answers.get("age")
    grown = isinstance(years, float) and years >= adult
    return tuple(
        question
        for question in care.knowledge.safety.questions
        if (not question.when or draft.answers.get(question.when) == YES) and not (question.young and grown)
    )


def found(care: Care, draft: Draft) -> tuple[Finding, ...]:
    """What the rules come to by what was answered so far."""
    plain = {key: _plain(word) for key, word in draft.answers.items()}
    return findings(care.knowledge.safety, plain, draft.episode.side)


def _plain(word: Word) -> bool | float:
    return word == YES if isinstance(word, str) else float(word)


def keep(care: Care, draft: Draft) -> SafetyScreen:
    """Keep what was answered, with its findings and rules; today's is amended. Raises CareFault, or RecordFault.

    A referral that was settled stands again where the answers now say another thing.
    """
    if draft.episode.closed is not None:
        raise CareFault("this episode is closed: open it again first")
    if not draft.changed:
        raise CareFault("nothing was answered that is not kept already")
    last = last_full(screens(care, draft.episode.id))
    if draft.kept is None and last is not None and last.asked.on == draft.on:
        raise CareFault("another window has kept a screen of today: see what it says, then keep yours")
    came_of = found(care, draft)
    visit = visiting.open_visit(care, draft.episode)
    with care.together():
        made = SafetyScreen(
            id=draft.kept.id if draft.kept else "",
            person=draft.person.id,
            asked=draft.kept.asked if draft.kept else care.clock.now(),
            kind=FULL,
            outcome=outcome_of(came_of).value,
            answers=dict(draft.answers),
            shown=tuple(key for question in put(care, draft) for key in question.keys),
            findings=tuple(finding_data(care, one, draft.answers) for one in came_of),
            episode=draft.episode.id,
            visit=draft.kept.visit if draft.kept else visit.id if visit else None,
            examiner=care.examiner,
            rules=notes.keep_rules(care.record, rules_data(care)),
        )
        if draft.kept is None:
            return safety.SCREEN.add(care.record, made, by=care.examiner)
        made = made._replace(revision=draft.kept.revision)
        if made.outcome not in STANDS or made.findings == draft.kept.findings:
            made = made._replace(settled=draft.kept.settled, settled_because=draft.kept.settled_because)
        return safety.SCREEN.revise(care.record, made, by=care.examiner, because=CHANGED)


def reask(care: Care, visit: Visit) -> SafetyScreen:
    """Keep that the questions on show were asked as a group and no change was told: no single one is answered."""
    visiting.must_be_open(visit)
    if visit.episode is None:
        raise CareFault("this visit belongs to no episode: there is nothing to ask again")
    asked = SafetyScreen(
        id="",
        person=visit.person,
        asked=care.clock.now(),
        kind=AS_A_GROUP,
        outcome=Outcome.UNKNOWN.value,
        answers={},
        shown=tuple(question.id for question in care.knowledge.safety.again),
        episode=visit.episode,
        visit=visit.id,
        examiner=care.examiner,
    )
    with care.together():
        return safety.SCREEN.add(care.record, asked, by=care.examiner)


def settle(care: Care, episode_id: str, reason: str) -> list[SafetyScreen]:
    """Settle all that stands of an episode. Raises CareFault without a reason, or where nothing stands."""
    words = clean_words(reason, "the reason")
    if words is None or len(words) > REASON_MOST:
        raise CareFault(f"type the reason why it is settled, at most {REASON_MOST} characters")
    standing = stands(care, episode_id)
    if not standing:
        raise CareFault("nothing stands to be settled")
    now = care.clock.now()
    with care.together():
        return [
            safety.SCREEN.revise(
                care.record, one._replace(settled=now, settled_because=words), by=care.examiner, because=SETTLED
            )
            for one in standing
        ]


# taking back


def take_back(care: Care, screen_id: str) -> str:
    """Take back the last act on a screen, and say what: a change, a settling, or the screen as a whole."""
    acts = _acts(care, screen_id)
    now = safety.SCREEN.get(care.record, screen_id)
    if not acts or now is None:
        raise CareFault("nothing to undo: this screen is no longer in the record")
    last, because = acts[-1]
    with care.together():
        if len(acts) == 1:
            safety.SCREEN.retract(care.record, now, by=care.examiner, because=TAKEN_BACK)
            return "took back the safety screen" if last.kind == FULL else "took back the asking as a group"
        before = acts[-2][0]._replace(revision=now.revision)
        safety.SCREEN.revise(care.record, before, by=care.examiner, because=TAKEN_BACK)
    return "took back the settling" if because == SETTLED else "took back the changed answers"


def newest_in(care: Care, visit: Visit) -> tuple[str, str]:
    """Revision of the last act on a screen of a visit, and the screen's id; empty where there is none."""
    acts = [(acts[-1][0].revision, one.id) for one in of_visit(care, visit) if (acts := _acts(care, one.id))]
    return max(acts, default=("", ""))


def _acts(care: Care, screen_id: str) -> list[tuple[SafetyScreen, str]]:
    """The screen after each act that stands, oldest first, with why; an undo takes the last one away."""
    now = safety.SCREEN.get(care.record, screen_id)
    if now is None or now.retracted is not None:
        return []
    kept = amendments.amendments_of(care.record, "safety_screen", screen_id)
    versions = [*(_screen(one.was) for one in kept), now]
    acts: list[tuple[SafetyScreen, str]] = []
    for version, because in zip(versions, ["", *(one.because for one in kept)], strict=True):
        if because == TAKEN_BACK and len(acts) > 1:
            acts.pop()
        else:
            acts.append((version, because))
    return acts


def _screen(was: dict[str, Any]) -> SafetyScreen:
    return safety.SCREEN.of(tuple(was[name] for name in safety.SCREEN.columns.split(", ")))
