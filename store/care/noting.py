"""The note of a visit: drafted from what is kept, edited by section, signed and locked, added to, countersigned.

Of a draft only the sections that somebody edited are kept; the others are drafted afresh each time they are read.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from store.care import ending
from store.care import visits as visiting
from store.care.care import Care, clean_examiner
from store.care.faults import CareFault
from store.care.in_words import visible
from store.care.note_rules import rules_of
from store.care.note_state import ADDITION
from store.care.note_words import Facts, facts, sections
from store.care.past_visits import visits_that_count
from store.knowledge.papers import Note
from store.knowledge.words import Visit
from store.record import notes

__all__ = ["ADDITION", "SECTIONS", "NoteView", "note_of"]

SECTIONS = ("subjective", "objective", "assessment", "plan")
"""The parts of a note, in their order."""

LONGEST = 10_000
"""Characters of one section."""

LOCKED = "this note is signed and locked: add to it instead (a)"


class NoteView(NamedTuple):
    """The note of a visit as it stands. `sections` are all four, edited or drafted; `edited` names the former.

    `kept` is the row in the record, None while nothing of the draft was edited; `additions` are oldest first.
    """

    visit: Visit
    facts: Facts
    sections: Mapping[str, str]
    edited: frozenset[str]
    kept: Note | None
    additions: tuple[Note, ...]

    @property
    def signed(self) -> bool:
        """Whether it is signed, and so locked."""
        return self.kept is not None and self.kept.signed is not None

    @property
    def wants_countersign(self) -> bool:
        """Whether it is a student's and nobody has countersigned it."""
        kept = self.kept
        return kept is not None and self.signed and kept.student and kept.countersigned is None

    @property
    def late(self) -> bool:
        """Whether it was signed on a later day than the visit began: a late entry."""
        signed = self.kept.signed if self.kept is not None else None
        return signed is not None and signed.on > self.visit.started.on


def note_of(care: Care, visit_id: str) -> NoteView:
    """The note of a visit, drafted where nobody edited it. Nothing blind is in it. Raises CareFault."""
    visit = care.visit(visit_id)
    kept = notes.notes_of_visit(care.record, visit.id)
    own = next((one for one in reversed(kept) if one.kind != ADDITION), None)
    known = facts(care, visit)
    if own is not None and own.signed is not None:
        words = dict(own.sections)
    else:
        words = sections(care, known) | (own.sections if own is not None else {})
    return NoteView(
        visit=visit,
        facts=known,
        sections={name: words.get(name, "") for name in SECTIONS},
        edited=frozenset(own.sections) if own is not None and own.signed is None else frozenset(),
        kept=own,
        additions=tuple(one for one in kept if one.kind == ADDITION),
    )


def edit(care: Care, visit_id: str, section: str, text: str) -> NoteView:
    """Keep the clinician's own words of a section; an empty text gives it back to the draft.

    Raises CareFault on a signed note, an unknown section and a text that is too long.
    """
    shown = note_of(care, visit_id)
    if shown.signed:
        raise CareFault(LOCKED)
    if section not in SECTIONS:
        raise CareFault(f"a note has no section {section}: it has {', '.join(SECTIONS)}")
    own = dict(shown.kept.sections) if shown.kept is not None else {}
    own.pop(section, None)
    if text.strip():
        own[section] = clean(text)
    _keep(care, shown, own)
    return note_of(care, visit_id)


def sign(care: Care, visit_id: str, *, student: bool = False) -> NoteView:
    """Sign the note and lock it with its rules; a visit that goes on is ended first. All of it or nothing.

    What is signed is what was on show: while a blind re-test waits it cannot be. Raises CareFault.
    """
    shown = note_of(care, visit_id)
    if shown.signed:
        raise CareFault(LOCKED)
    if not care.examiner:
        raise CareFault("a note is signed by somebody: name the examiner first (--examiner)")
    waiting = ending.hidden_words(care, shown.visit)
    if waiting:
        raise CareFault(
            f"the re-test of {waiting} is still to come: measure it, leave it out (d in the plan) or end the "
            "visit (x in the plan), then sign"
        )
    with care.together():
        if shown.visit.ended is None:
            ending.end_visit(care, shown.visit)
        draft = _keep(care, shown, dict(shown.sections))
        signed = draft._replace(
            signed=care.clock.now(),
            signed_by=care.examiner,
            student=student,
            rules=notes.keep_rules(care.record, rules_of(care, shown.facts)),
        )
        kept = notes.NOTE.revise(care.record, signed, by=care.examiner, because="signed")
    if shown.visit.ended is None:  # it was ended with this, and is told otherwise now
        return note_of(care, visit_id)
    return shown._replace(edited=frozenset(), kept=kept)


def add(care: Care, visit_id: str, text: str) -> NoteView:
    """Keep an addition to a signed note, with its own time and name. Raises CareFault."""
    shown = note_of(care, visit_id)
    if not shown.signed or shown.kept is None:
        raise CareFault("this note is not signed yet: edit it instead (e)")
    if not text.strip():
        raise CareFault("type what is to be added")
    now = care.clock.now()
    added = Note(
        id="",
        person=shown.visit.person,
        drafted=now,
        sections={ADDITION: clean(text)},
        kind=ADDITION,
        adds_to=shown.kept.id,
        episode=shown.visit.episode,
        visit=shown.visit.id,
        signed=now,
        signed_by=care.examiner,
    )
    with care.together():
        notes.NOTE.add(care.record, added, by=care.examiner)
    return note_of(care, visit_id)


def countersign(care: Care, visit_id: str, name: str) -> NoteView:
    """Keep that another examiner stands behind a student's note. Raises CareFault."""
    shown, name = note_of(care, visit_id), clean_examiner(name)
    kept = shown.kept
    if kept is None or not shown.wants_countersign:
        raise CareFault("only a student's signed note takes a countersign, and only one")
    if name.casefold() == kept.signed_by.casefold():
        raise CareFault(f"{visible(kept.signed_by)} wrote this note: somebody else countersigns it")
    counter = kept._replace(countersigned=care.clock.now(), countersigned_by=name)
    with care.together():
        notes.NOTE.revise(care.record, counter, by=name, because="countersigned")
    return note_of(care, visit_id)


def visit_to_note(care: Care, episode_id: str) -> str | None:
    """The visit whose note is of interest: the one in hand, else the last that counts; None without one."""
    episode = care.episode(episode_id)
    current = visiting.open_visit(care, episode)
    if current is not None:
        return current.id
    counted = visits_that_count(care, episode, 1)
    return counted[0].id if counted else None


def clean(text: str) -> str:
    """Words fit to keep: lines without what cannot be seen. Raises CareFault on more than a section holds."""
    if len(text) > LONGEST:
        raise CareFault(f"a section holds at most {LONGEST} characters: shorten it, or add the rest after signing")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ").strip("\n").split("\n")
    return "\n".join(visible(line.rstrip()) for line in lines)


def _keep(care: Care, shown: NoteView, own: dict[str, str]) -> Note:
    """The draft with these sections, made where there is none yet."""
    visit = shown.visit
    with care.together():
        if shown.kept is not None:
            changed = shown.kept._replace(sections=own)
            return notes.NOTE.revise(care.record, changed, by=care.examiner, because="draft edited")
        made = Note("", visit.person, care.clock.now(), own, episode=visit.episode, visit=visit.id)
        return notes.NOTE.add(care.record, made, by=care.examiner)
