"""The measures as plain text: a line each, or one measure's page."""

from __future__ import annotations

import difflib
import textwrap

from store.care.faults import CareFault
from store.knowledge.kinds import CutOff, Figure, Measure
from store.knowledge.load import Knowledge
from store.reckon.error import error_for


def measures_text(knowledge: Knowledge) -> str:
    """Every measure in a line: id, name, unit, short forms, and the error between visits."""
    return "\n".join(_line(measure) for measure in knowledge.measures.values())


def _line(measure: Measure) -> str:
    error = error_for(measure, "between")
    known = f"MDC {error.mdc:.2g} {measure.unit}" if error else "error unknown"
    short = f", also {', '.join(measure.short_forms)}" if measure.short_forms else ""
    sides = "left and right" if measure.paired else "one value"
    return f"{measure.id}: {measure.name}, {measure.unit}, {sides}, {known}{short}"


def measure_page(knowledge: Knowledge, name: str) -> str:
    """All that is known of one measure, each figure with its mark and source. Raises CareFault."""
    measure = knowledge.find_measure(name)
    if measure is None:
        near = difflib.get_close_matches(name, list(knowledge.measures), n=1)
        hint = f"did you mean {near[0]}?" if near else "`bothfeet measures` lists them"
        raise CareFault(f"no measure has the name {name}: {hint}")
    better = f"{measure.better} is better"
    lines = [f"{measure.name}: {measure.long_name}", measure.shows]
    lines.append(f"unit {measure.unit}, {better}, {measure.counted} trials, {measure.aggregate}; {measure.domain}")
    lines += ["", "how", *(f"  {number}. {step}" for number, step in enumerate(measure.steps, 1))]
    lines += ["", "measurement error", *_errors(knowledge, measure)]
    if measure.importance:
        lines += [
            "",
            "what matters to people (MCID)",
            f"  {figure_text(knowledge, measure.importance, measure.unit)}",
        ]
    for title, found in (("lines that others draw", measure.cut_offs), ("reference values", measure.healthy)):
        if found:
            lines += ["", title, *(f"  {cut_text(knowledge, cut, measure.unit)}" for cut in found)]
    lines += ["", "cautions", *(f"  {knowledge.cautions[caution].says}" for caution in measure.cautions)]
    wrapped = (textwrap.wrap(line, 100, subsequent_indent="     ") or [""] for line in lines)
    return "\n".join(part for parts in wrapped for part in parts)


def _errors(knowledge: Knowledge, measure: Measure) -> list[str]:
    if not measure.errors:
        return ["  unknown: no verdict on a change can be given"]
    lines = []
    for family in measure.errors:
        figures = (
            ("SEM within a visit", family.sem_within),
            ("MDC within a visit", family.mdc_within),
            ("SEM between visits", family.sem_between),
            ("MDC between visits", family.mdc_between),
            ("MDC of a left-right gap", family.gap_mdc),
        )
        lines.append(f"  {family.name}")
        lines += [f"    {name} {figure_text(knowledge, one, measure.unit)}" for name, one in figures if one]
    return lines


def cut_text(knowledge: Knowledge, cut: CutOff, unit: str) -> str:
    """A line that others draw, with its figure."""
    return f"{cut.says}: {figure_text(knowledge, cut.figure, unit)}"


def figure_text(knowledge: Knowledge, figure: Figure, unit: str) -> str:
    """A figure with its unit, mark, formula and source."""
    parts = [f"{figure.value:g} {unit}", str(figure.mark)]
    parts += [figure.formula] if figure.formula else []
    parts += [knowledge.sources[figure.source].text] if figure.source else []
    parts += [figure.says] if figure.says else []
    return "; ".join(parts)
