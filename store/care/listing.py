"""The measures as plain text: a line each, or one measure's page."""

from __future__ import annotations

import textwrap

from store.care.faults import CareFault
from store.care.in_words import rough, with_unit
from store.care.known import cautions, errors, how_measured, lines
from store.care.statements import Section, Statement
from store.entry.grammar import measures_near, one_word
from store.knowledge.kinds import Measure
from store.knowledge.load import Knowledge
from store.knowledge.units import unit_words
from store.reckon.error import error_for

WIDTH = 80
"""Columns of a page."""


def measures_text(knowledge: Knowledge) -> str:
    """Every measure in a line: id, name, unit, sides, the error between visits, and the short forms."""
    return "\n".join(_line(measure) for measure in knowledge.measures.values())


def _line(measure: Measure) -> str:
    error = error_for(measure, "between")
    known = f"MDC {with_unit(rough(error.mdc), measure)}" if error else "error unknown"
    short = f"; also {', '.join(measure.short_forms)}" if measure.short_forms else ""
    sides = "left and right" if measure.paired else "one value"
    own = "; added by this clinic" if measure.added else ""
    return f"{measure.id}: {measure.name}, {unit_words(measure.unit)}, {sides}, {known}{short}{own}"


def measure_page(knowledge: Knowledge, name: str) -> str:
    """All that is known of one measure, each figure with its mark and source. Raises CareFault."""
    measure = knowledge.find_measure(one_word(name))
    if measure is None:
        names = [word for known in knowledge.measures.values() for word in (known.id, *known.short_forms)]
        hint = measures_near(name, names, knowledge.find_measure, "`bothfeet measures` lists them")
        raise CareFault(f"no measure has the name {name[:40]}{hint}")
    head = [f"{measure.id}: {measure.long_name}", _trials(measure)]
    pages = [_section(part(knowledge, measure)) for part in (how_measured, errors, lines, cautions)]
    return "\n\n".join("\n".join(page) for page in (head, *pages) if page)


def _trials(measure: Measure) -> str:
    practice = f"{measure.practice} for practice, then " if measure.practice else ""
    counted = (
        "1 counts" if measure.counted == 1 else f"{measure.counted} count, and their {measure.aggregate} is taken"
    )
    return f"trials a side: {practice}{counted}" if measure.paired else f"trials: {practice}{counted}"


def _section(section: Section) -> list[str]:
    if not section.statements:
        return []
    return [section.title, *(line for one in section.statements for line in _statement(one))]


def _statement(one: Statement) -> list[str]:
    """What is said, and below it, further in, how it is known."""
    says = ": ".join(part for part in (one.about, one.says) if part)
    first = textwrap.wrap(says, WIDTH, initial_indent="  ", subsequent_indent="    ") if says else []
    known = textwrap.wrap(one.known, WIDTH, initial_indent="    ", subsequent_indent="      ")
    return [*first, *known]
