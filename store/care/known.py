"""What the trade knows of a measure, as statements: its error, the lines others draw, how it is measured."""

from __future__ import annotations

from store.care.in_words import rough, size_with_unit, with_unit
from store.care.statements import Section, Statement
from store.knowledge.criteria import StageCriteria, advice_words
from store.knowledge.kinds import CutOff, ErrorFamily, Figure, Measure
from store.knowledge.load import Knowledge
from store.knowledge.units import unit_words
from store.knowledge.words import Mark
from store.reckon.error import Error, error_for

UNKNOWN = "not known for this measure: no change in it can be called clear, and the screen says error unknown"
RULE = "MDC at 95 % = 1.96 x root 2 x SEM, which is 2.77 x SEM (Weir 2005, J Strength Cond Res 19:231)"


def how_known(knowledge: Knowledge, figure: Figure) -> str:
    """Mark and source of a figure: how far it may be trusted, and where to read it."""
    parts = [f"{figure.mark}: {figure.formula}" if figure.formula else str(figure.mark)]
    if figure.source:
        parts.append(knowledge.sources[figure.source].text)
    elif figure.mark not in (Mark.DERIVED, Mark.CLINIC):
        parts.append("no source")
    parts += [figure.says] if figure.says else []
    return "; ".join(parts)


def advice(knowledge: Knowledge, wanted: StageCriteria) -> list[str]:
    """What is said beside a stage's count, a sentence each with mark and source."""
    return [f"{advice_words(one)} ({how_known(knowledge, one.figure)})" for one in wanted.advice]


# the error


def errors(knowledge: Knowledge, measure: Measure) -> Section:
    """The error in force over each span, what it rests on, and the choices that stand beside it."""
    if measure.error is None:
        return Section("measurement error", (Statement("error", UNKNOWN),))
    found: list[Statement] = []
    for about, error in _spans(measure):
        if error is None:
            found.append(Statement(about, "not known"))
        else:
            found += _error(knowledge, measure, about, error)
    found.append(Statement("rule", RULE))
    if measure.error.chosen:
        found.append(
            Statement("choice", f"{measure.error.name}, in place of the program's own default", Mark.CLINIC)
        )
    for family in measure.errors[1:]:
        found += _beside(knowledge, measure, family)
    return Section("measurement error", tuple(found))


def _spans(measure: Measure) -> list[tuple[str, Error | None]]:
    one = "one side" if measure.paired else "value"
    found = [
        (f"{one}, between visits", error_for(measure, "between")),
        (f"{one}, within a visit", error_for(measure, "within")),
    ]
    if measure.paired:
        found.append(("gap, between visits", error_for(measure, "between", gap=True)))
    return found


def _error(knowledge: Knowledge, measure: Measure, about: str, error: Error) -> list[Statement]:
    says = f"SEM {rough(error.sem)}, MDC {with_unit(rough(error.mdc), measure)}; {error.says}, {error.family}"
    known = [f"{figure.value:g} {how_known(knowledge, figure)}" for figure in error.figures]
    found = [Statement(about, says, known[0])]
    return found + [Statement("", "", other) for other in known[1:]]


def _beside(knowledge: Knowledge, measure: Measure, family: ErrorFamily) -> list[Statement]:
    """A choice that is not in force: every figure of it."""
    figures = (
        ("SEM within a visit", family.sem_within),
        ("MDC within a visit", family.mdc_within),
        ("SEM between visits", family.sem_between),
        ("MDC between visits", family.mdc_between),
        ("MDC of a gap", family.gap_mdc),
    )
    said = [
        Statement("", f"{name} {with_unit(f'{figure.value:g}', measure)}", how_known(knowledge, figure))
        for name, figure in figures
        if figure is not None
    ]
    used = "used when two examiners measured" if family.examiners > 1 else "a choice beside it, not used"
    return [Statement(family.name, used), *said]


# lines and reference values


def lines(knowledge: Knowledge, measure: Measure) -> Section:
    """What others draw a line at, what is usual, and how long a reading counts as fresh."""
    found = [_line(knowledge, measure, "line", cut) for cut in measure.cut_offs]
    found += [_line(knowledge, measure, "usual", cut) for cut in measure.healthy]
    if measure.importance is not None:
        matters = (
            f"a change of {size_with_unit(f'{measure.importance.value:g}', measure)} matters to people (MCID)"
        )
        found.append(Statement("importance", matters, how_known(knowledge, measure.importance)))
    if measure.fresh_days is not None:
        fresh = f"a reading counts as fresh for {measure.fresh_days.value:g} days"
        found.append(Statement("fresh", fresh, how_known(knowledge, measure.fresh_days)))
    return Section("lines that others draw, never a verdict by themselves", tuple(found))


def _line(knowledge: Knowledge, measure: Measure, about: str, cut: CutOff) -> Statement:
    number = f"{cut.figure.value:g}"
    value = f"{number} {cut.says}" if cut.says.startswith("%") else f"{with_unit(number, measure)}: {cut.says}"
    return Statement(about, value, how_known(knowledge, cut.figure))


# how it is measured


def how_measured(knowledge: Knowledge, measure: Measure) -> Section:
    """What it shows, its steps or its question, and its trials."""
    found = [Statement("shows", measure.shows)]
    if measure.asks:
        found.append(Statement("asked", measure.asks))
    found += [Statement(f"step {n}", step) for n, step in enumerate(measure.steps, 1)]
    found += [
        Statement("protocol", f"{cut.figure.value:g} {cut.says}", how_known(knowledge, cut.figure))
        for cut in measure.protocol_figures
    ]
    found += _scoring(knowledge, measure)
    made_of = "; ".join(knowledge.measures[each].name for each in measure.made_of)
    found += [Statement("worked out", f"from {made_of}")] if made_of else []
    better = f"{measure.better} is better"
    found.append(Statement("reads", f"{measure.long_name}, {unit_words(measure.unit)}; {better}"))
    found += [Statement("measure", "added by this clinic's settings", Mark.CLINIC)] if measure.added else []
    return Section("how it is measured", tuple(found))


def _scoring(knowledge: Knowledge, measure: Measure) -> list[Statement]:
    """How a questionnaire's total is reached, and how it may be entered from its answers."""
    how = measure.scoring
    if how is None:
        return []
    total = "percent of the most that the answered ones could give" if how.percent else "the sum"
    wanted = f"at least {how.wanted} answered" if how.wanted < how.items else "every one answered"
    says = f"{how.items} items from {how.lowest} to {how.highest}; {total}; {wanted}"
    source = knowledge.sources[how.source].text if how.source else "no source"
    known = "; ".join(part for part in (str(how.mark), source, how.says) if part)
    typed = "the total, or the sum of the answers, a stroke and their number, such as "
    typed += f"{how.lowest * how.wanted + how.wanted}/{how.wanted}"
    return [Statement("scoring", says, known), Statement("entered", typed)]


def cautions(knowledge: Knowledge, measure: Measure) -> Section:
    """The cautions that the measure carries."""
    found = []
    for caution_id in measure.cautions:
        caution = knowledge.cautions[caution_id]
        source = knowledge.sources[caution.source].text if caution.source else "no source"
        found.append(Statement("caution", caution.says, f"{caution.mark}; {source}"))
    return Section("cautions", tuple(found))
