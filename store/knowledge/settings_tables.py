"""What a clinic changes in the program's own tables: errors, days, doses, criteria, running, a visit's plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from store.knowledge import criteria as _criteria
from store.knowledge import running as _running_table
from store.knowledge import visit as _visit
from store.knowledge.activities import dosed
from store.knowledge.criteria import Criterion, Need, Stage
from store.knowledge.errors import with_error
from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.kinds import Activity, Dose, Figure, Measure
from store.knowledge.settings import Settings
from store.knowledge.settings_draft import FILE, Draft, not_known, row_of
from store.knowledge.shelf import Laid
from store.knowledge.units import unit_words
from store.knowledge.words import Mark, Step

FRESH_MOST = 3650
"""Days."""

# measures


def _measures(draft: Draft) -> Mapping[str, Measure]:
    return Laid(draft.known.measures, draft.measures)


def _activities(draft: Draft) -> Mapping[str, Activity]:
    return Laid(draft.known.activities, draft.activities)


def _errors(draft: Draft) -> None:
    known = _measures(draft)
    for key in draft.table("errors"):
        if key not in known:
            draft.unknown(("errors", key), list(known), "the measures")
            continue
        with draft.entry("errors", key):
            measure, family = known[key], row_of(("errors",), draft.data["errors"]).text(key)
            chosen = with_error(measure, family)
            if chosen.error is None or chosen.error == measure.error:
                continue
            draft.changed(("errors", key), measure.error.name if measure.error else "", chosen.error.name)
            first = chosen.error._replace(chosen=True)
            draft.measures[key] = chosen._replace(errors=(first, *chosen.errors[1:]))


def _fresh(draft: Draft) -> None:
    known = _measures(draft)
    for key in draft.table("fresh_days"):
        if key not in known:
            draft.unknown(("fresh_days", key), list(known), "the measures")
            continue
        with draft.entry("fresh_days", key):
            row = row_of(("fresh_days",), draft.data["fresh_days"])
            days, was = row.number(key), known[key].fresh_days
            if not 0 < days <= FRESH_MOST:
                raise row.fault(key, f"more than 0 days, and at most {FRESH_MOST}, are wanted")
            if was is not None and was.value == days:
                continue
            default = f"{was.value:g} days" if was else "no limit"
            draft.changed(("fresh_days", key), default, f"{days:g} days")
            figure = Figure(days, Mark.CLINIC, says=f"by default {default}")
            draft.measures[key] = known[key]._replace(fresh_days=figure)


# activities


def _doses(draft: Draft) -> None:
    known = _activities(draft)
    for key, own in draft.table("doses").items():
        if key not in known:
            draft.unknown(("doses", key), list(known), "the activities")
            continue
        if isinstance(own, dict):
            _dose(draft, known[key], own)
        else:
            draft.wrong(("doses", key), f"a table is wanted: [doses.{key}] on a line of its own")


def _dose(draft: Draft, activity: Activity, own: dict[str, Any]) -> None:
    """Part by part, so that a wrong one does not take the others with it."""
    taken: dict[str, Any] = {}
    changed = activity
    for part, value in own.items():
        with draft.entry("doses", activity.id, part):
            changed = dosed(activity, FILE, {**taken, part: value})
            taken[part] = value
            was, now = dose_part(activity.dose, part), dose_part(changed.dose, part)
            draft.changed(("doses", activity.id, part), was, now)
    if changed.dose[:-3] != activity.dose[:-3]:  # but for where it comes from
        draft.activities[activity.id] = changed


def dose_part(dose: Dose, part: str) -> str:
    """One part of a dose in words."""
    value = getattr(dose, part)
    if part == "phases":
        return ", ".join(f"{phase.word.lower()} {phase.seconds:g} s" for phase in value) or "none"
    if isinstance(value, str):
        return value or "none"
    return f"{value:g} s" if part.endswith("_s") else f"{value:g}"


# criteria


def _stages(draft: Draft) -> None:
    for key, table in draft.table("criteria").items():
        if key not in set(Stage):
            draft.unknown(("criteria", key), [stage.value for stage in Stage], "the stages")
        elif not isinstance(table, dict):
            draft.wrong(("criteria", key), f"a table is wanted: [criteria.{key}] on a line of its own")
        else:
            _stage(draft, Stage(key), table)


def _stage(draft: Draft, stage: Stage, table: dict[str, Any]) -> None:
    shipped = draft.known.criteria[stage]
    found = {one.id: one for one in shipped.criteria}
    measures = _measures(draft)
    for key, own in table.items():
        with draft.entry("criteria", stage.value, key):
            was = found.get(key)
            if own is False and was is not None:
                del found[key]
                draft.changed(("criteria", stage.value, key), was.says, "removed")
                continue
            new = _criterion(row_of(("criteria", stage.value, key), own), key, was, measures, list(found))
            _criteria.check(shipped._replace(criteria=(new,)), measures)
            if was is None or new.need != was.need:
                found[key] = new
                draft.changed(("criteria", stage.value, key), was.says if was else "none", new.says)
    if not found:
        draft.wrong(("criteria", stage.value), "a stage without a criterion would be met by nothing")
    elif tuple(found.values()) != shipped.criteria:
        left_out = tuple(one.says for one in shipped.criteria if one.id not in found)
        draft.criteria[stage] = shipped._replace(criteria=tuple(found.values()), left_out=left_out)


def _criterion(
    row: Row, key: str, was: Criterion | None, measures: Mapping[str, Measure], ids: list[str]
) -> Criterion:
    """A criterion of the clinic: one of the stage with another need, or a new one of a measure."""
    if was is None and not row.has("measure"):
        raise KnowledgeError("", says=f"{not_known(key, ids, 'the criteria here')}; a new one names its measure")
    named = was.measure if was else row.text("measure")
    if named not in measures:
        raise row.fault("measure", not_known(named, list(measures), "the measures"))
    measure, need = measures[named], _criteria.need(row.row("needs"))
    says = row.text("says", need_words(need, measure))
    row.done()
    return Criterion(
        id=key,
        measure=named,
        says=says,
        need=need,
        domain=measure.domain,
        mark=Mark.CLINIC,
        lines=was.lines if was else (),
    )


def need_words(need: Need, measure: Measure) -> str:
    """What a criterion wants, in a few words: "lunge within 3 cm of the reference"."""
    name, value = measure.name, f"{need.value:g} {unit_words(measure.unit)}"
    match need.kind:
        case "any":
            return ", or ".join(need_words(part, measure) for part in need.parts)
        case "all":
            return " and ".join(need_words(part, measure) for part in need.parts)
        case "at_least":
            return f"{name} at least {value}"
        case "at_most":
            return f"{name} at most {value}"
        case "within":
            return f"{name} within {value} of the reference"
        case "share":
            return f"{name} at least {100 * need.value:g} % of the uninjured side"
        case "no_rise":
            return f"no rise of {name}"
    return f"{name}: yes"


# running


def _running(draft: Draft) -> None:
    """The ladder that a new plan takes, and figures of the rule, which then hold on every ladder."""
    shipped = draft.known.running
    table, chosen = draft.table("running"), shipped.ladder
    if "ladder" in table:
        with draft.entry("running", "ladder"):
            name = row_of(("running",), table).text("ladder")
            if name not in shipped.ladders:
                raise KnowledgeError("", says=not_known(name, list(shipped.ladders), "the ladders"))
            draft.changed(("running", "ladder"), chosen, name)
            draft.settings = draft.settings._replace(ladder="" if name == chosen else name)
            chosen = name
    rule, own = shipped.ladders[chosen].rule, dict[str, Figure]()
    for key in table:
        if key == "ladder":
            continue
        if key not in rule._fields:
            draft.unknown(("running", key), ["ladder", *rule._fields], "the figures of running")
            continue
        with draft.entry("running", key):
            row, was = row_of(("running",), table), getattr(rule, key)
            value = row.number(key)
            _running_table.check_limits(key, value, row)
            new = Figure(value, Mark.CLINIC, says=f"{was.says}; by default {was.value:g}")
            _running_table.with_own(shipped, chosen, {**own, key: new})  # refuses what does not fit the others
            draft.changed(("running", key), f"{was.value:g}", f"{value:g}")
            if was.value != value:
                own[key] = new
    draft.settings = draft.settings._replace(run_rule=own)


# the plan


def _plan(draft: Draft) -> None:
    _lay_plan(draft, "plan", draft.known.visit_plan, lambda steps: draft.settings._replace(plan=steps))


def _first_plan(draft: Draft) -> None:
    _lay_plan(draft, "first_plan", draft.known.first_plan, lambda steps: draft.settings._replace(first_plan=steps))


def _lay_plan(
    draft: Draft, key: str, was: tuple[Step, ...], having: Callable[[tuple[Step, ...]], Settings]
) -> None:
    """Lay the steps under a key over those that were; all stay where one of them is wrong."""
    with draft.entry(key):
        steps: list[Step] = []
        for row in Row(FILE, "", draft.data).rows(key):
            step = _visit.step(row, steps)
            known: Mapping[str, object] = _activities(draft) if step.kind == "activity" else _measures(draft)
            if step.ref and step.ref not in known:
                what = "the activities" if step.kind == "activity" else "the measures"
                raise row.fault("ref", not_known(step.ref, list(known), what))
            steps.append(step)
        if not steps:
            raise KnowledgeError("", says=f"a plan has at least one step: leave {key} out for the usual visit")
        draft.changed((key,), _steps_words(was), _steps_words(tuple(steps)))
        draft.settings = having(tuple(steps))


def _steps_words(steps: tuple[Step, ...]) -> str:
    return ", ".join(f"{step.id} {step.minutes:g} min" for step in steps)


def lay_over(draft: Draft) -> None:
    """Lay what the tables of the file change over the program's own."""
    for key, read in _READ.items():
        if key in draft.data:
            read(draft)


_READ: dict[str, Callable[[Draft], None]] = {
    "errors": _errors,
    "fresh_days": _fresh,
    "doses": _doses,
    "criteria": _stages,
    "running": _running,
    "plan": _plan,
    "first_plan": _first_plan,
}
