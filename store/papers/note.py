"""The note of a visit as a paper: who and when, the four sections, additions, and who signed it."""

from __future__ import annotations

from store.care.care import Care
from store.care.dates import stamp_text
from store.care.in_words import visible
from store.care.invented import THIS_ONE, is_invented_person
from store.care.noting import SECTIONS, NoteView
from store.care.past_words import title
from store.care.people import age
from store.care.shown import CAVEAT
from store.papers.page import Block, Page


def note_page(care: Care, shown: NoteView) -> Page:
    """The note as it stands, signed or a draft that says so."""
    known = shown.facts
    years = age(known.person.born, shown.visit.started.on)
    side = f", {care.episode(shown.visit.episode).side} ankle" if shown.visit.episode else ""
    who = f"{visible(known.person.label)}{f', {years} years' if years is not None else ''}{side}"
    when = title(known.past) if known.past is not None else stamp_text(shown.visit.started)
    clinic = (visible(care.settings.clinic),) if care.settings.clinic else ()
    invented = (THIS_ONE,) if is_invented_person(care, known.person) else ()
    blocks = [Block(name, tuple(shown.sections[name].split("\n"))) for name in SECTIONS]
    for one in shown.additions:
        by = f" by {visible(one.signed_by)}" if one.signed_by else ""
        lines = tuple(one.sections.get("addition", "").split("\n"))
        blocks.append(Block(f"addition of {stamp_text(one.drafted)}{by}", lines))
    return Page("visit note", (*clinic, who, when, *invented), tuple(blocks), (*signature(shown), CAVEAT))


def signature(shown: NoteView) -> tuple[str, ...]:
    """Who signed when and by which rules; that it is a draft, a late entry, or waits for a countersign."""
    kept = shown.kept
    if kept is None or kept.signed is None:
        return ("DRAFT, not signed",)
    late = ", a late entry" if shown.late else ""
    student = " (student)" if kept.student else ""
    lines = [f"signed {stamp_text(kept.signed)} by {visible(kept.signed_by)}{student}{late}"]
    if kept.countersigned is not None:
        lines.append(f"countersigned {stamp_text(kept.countersigned)} by {visible(kept.countersigned_by)}")
    elif kept.student:
        lines.append("waits for a countersign")
    if kept.rules:
        lines.append(f"rules {kept.rules[:12]}")
    return tuple(lines)
