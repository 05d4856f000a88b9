"""The rules that a note was made by, as they stood when it was signed: errors, criteria, doses, running."""

from __future__ import annotations

from typing import Any

from store.care.care import Care
from store.care.note_words import Facts
from store.knowledge.criteria import Need
from store.knowledge.kinds import Figure, Measure


def rules_of(care: Care, known: Facts) -> dict[str, Any]:
    """All that the verdicts and counts of a note hang on: of what was measured and timed, and of the stage."""
    names = {pair.measure.id for pair in known.past.pairs} if known.past is not None else set[str]()
    names |= {one.criterion.measure for one in known.stage.criteria} if known.stage is not None else set()
    if known.held is not None:
        names.add(known.held.episode.main_measure)
    measures = care.knowledge.measures
    bouts = known.past.bouts if known.past is not None else ()
    return _running(known) | {
        "measures": {name: _measure(measures[name]) for name in sorted(names) if name in measures},
        "criteria": _criteria(known),
        "doses": [{"activity": bout.row.activity, "plan": bout.row.plan} for bout in bouts],
    }


def _running(known: Facts) -> dict[str, Any]:
    """The ladder and its rule, where the note tells of running."""
    ladder = known.ladder
    if ladder is None or not (known.ran or known.to_run):
        return {}
    rule = {name: _figure(figure) for name, figure in zip(ladder.rule._fields, ladder.rule, strict=True)}
    return {"running": {"ladder": ladder.id, "rungs": [rung.words for rung in ladder.rungs], "rule": rule}}


def _measure(measure: Measure) -> dict[str, Any]:
    family = measure.error
    errors = ("sem_within", "sem_between", "mdc_within", "mdc_between", "gap_mdc")
    return {
        "unit": measure.unit,
        "better": measure.better.value,
        "aggregate": measure.aggregate,
        "trials": measure.counted,
        "protocol": measure.protocol,
        "fresh_days": _figure(measure.fresh_days),
        "error": None
        if family is None
        else {"family": family.id, **{name: _figure(getattr(family, name)) for name in errors}},
    }


def _figure(figure: Figure | None) -> dict[str, Any] | None:
    if figure is None:
        return None
    return {"value": figure.value, "mark": figure.mark.value, "source": figure.source, "formula": figure.formula}


def _criteria(known: Facts) -> dict[str, Any] | None:
    if known.stage is None:
        return None
    found = [
        {
            "id": one.criterion.id,
            "measure": one.criterion.measure,
            "needs": _need(one.criterion.need),
            "mark": one.criterion.mark.value,
            "source": one.criterion.source,
        }
        for one in known.stage.criteria
    ]
    return {"stage": known.stage.stage.value, "criteria": found}


def _need(need: Need) -> dict[str, Any]:
    parts = [_need(part) for part in need.parts]
    return {"kind": need.kind, "parts": parts} if parts else {"kind": need.kind, "value": need.value}
