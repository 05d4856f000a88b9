"""What tables say about one another: sources, cautions, bouts and steps that are named must be there and fit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from store.knowledge.fields import KnowledgeError
from store.knowledge.kinds import Activity, ErrorFamily, Figure, Measure
from store.knowledge.words import Step


def figures_of(measure: Measure) -> Iterator[Figure]:
    """Every figure a measure holds, with those of its error families."""
    lines = (*measure.cut_offs, *measure.healthy, *measure.protocol_figures)
    yield from (line.figure for line in lines)
    yield from (figure for figure in (measure.importance, measure.fresh_days) if figure)
    for family in measure.errors:
        yield from figures_of_family(family)


def figures_of_family(family: ErrorFamily) -> Iterator[Figure]:
    """Every figure an error family holds."""
    found = (family.sem_within, family.sem_between, family.mdc_within, family.mdc_between, family.gap_mdc)
    yield from (figure for figure in found if figure)


def check_known(where: str, ids: Iterable[str], known: Mapping[str, object], file: str) -> None:
    """Each id that is named stands in its table. Empty ids name nothing. Raises KnowledgeError."""
    for one in ids:
        if one and one not in known:
            raise KnowledgeError(f"{where}: {one!r} is not in {file}")


def check_bout(measure: Measure, known: Mapping[str, Activity]) -> None:
    """A bout that measures follows the measure's own protocol: its trials, its cap, its sides."""
    if not measure.bout:
        return
    where = f"measures: [{measure.id}] bout: {measure.bout!r}"
    activity = known.get(measure.bout)
    if activity is None:
        raise KnowledgeError(f"{where} is not in activities")
    if activity.measure != measure.id:
        raise KnowledgeError(f"{where} does not name this measure back")
    if activity.dose.sets != measure.counted:
        raise KnowledgeError(f"{where} has {activity.dose.sets} sets, and {measure.counted} trials count")
    if activity.dose.cap_s != (measure.cap or 0):
        raise KnowledgeError(f"{where} stops at {activity.dose.cap_s:g} s, and the measure's cap is {measure.cap}")
    if (activity.sides == "both") != measure.paired:
        raise KnowledgeError(f"{where} has sides {activity.sides}: a paired measure wants both, a single one not")


def check_parts(measure: Measure, known: Mapping[str, Measure]) -> None:
    """What a value is worked out from is there, and is itself entered."""
    where = f"measures: [{measure.id}] made_of"
    check_known(where, measure.made_of, known, "measures")
    for part in measure.made_of:
        if known[part].made_of:
            raise KnowledgeError(f"{where}: {part!r} is worked out itself")
        if known[part].paired != measure.paired:
            raise KnowledgeError(f"{where}: {part!r} has other sides")


def check_measure(activity: Activity, known: Mapping[str, Measure]) -> None:
    """An activity that measures is the one its measure names."""
    if not activity.measure:
        return
    where = f"activities: [{activity.id}] measure: {activity.measure!r}"
    measure = known.get(activity.measure)
    if measure is None:
        raise KnowledgeError(f"{where} is not in measures")
    if measure.bout != activity.id:
        raise KnowledgeError(f"{where} does not name this activity back")


def check_step(step: Step, measures: Mapping[str, Measure], activities: Mapping[str, Activity]) -> None:
    """What a step names is there."""
    where = f"visit.toml: [step {step.id}] ref"
    if step.kind == "activity":
        check_known(where, [step.ref], activities, "activities")
    else:
        check_known(where, [step.ref], measures, "measures")
