"""A visit of the past in words: a line in a list, and sections of what was said, measured and timed. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from store.bout.plan import BoutPlan
from store.bout.state import SetResult
from store.care.compared import HIDDEN, change_text
from store.care.dates import day_text, time_text
from store.care.in_words import many, value_text, visible, with_unit
from store.care.invented import INVENTED
from store.care.pairs import Pair
from store.care.past_visits import PastBout, PastVisit, minutes_of, week_of
from store.care.statements import Section, Statement
from store.entry.numbers import plain
from store.knowledge.kinds import Measure
from store.knowledge.units import STEPS
from store.knowledge.words import BoutKind, Episode, Moment, Reading, Side, Visit

CONTROL = ("lost at once", "large corrections", "small corrections", "steady")
"""The grades of control after a hold, 0 to 3 (common practice)."""

_REP_WORDS = {BoutKind.REACHES: "reach", BoutKind.HOP_HOLD: "hop"}
_PAINS = (("pain", "now"), ("worst", "worst"), ("morning", "next morning"), ("walk", "walking"))


# the visit as a line


def line_says(visit: Visit, episode: Episode, *, goes_on: bool) -> str:
    """Week and examiner, for a list in which day and minutes stand beside it: "week 4, AB"; or "open"."""
    week = week_of(visit, episode)
    where = "" if visit.kind == "clinic" else str(visit.kind)
    by = "" if goes_on or visit.examiner == INVENTED else visible(visit.examiner)
    ended = "" if visit.ended is not None else "open" if goes_on else _minutes(visit, goes_on=False)
    return _joined((f"week {week}" if week else "", where, by, ended))


def title(past: PastVisit) -> str:
    """The visit in a line of its own: day, time, week, where, who, how long."""
    visit = past.visit
    week = f"week {past.week}" if past.week else ""
    by = f"examiner {visible(visit.examiner)}" if visit.examiner not in {"", INVENTED} else ""
    when = f"{day_text(visit.started.on, weekday=True)} {time_text(visit.started)}"
    parts = (when, week, str(visit.kind), by, _minutes(visit, goes_on=past.goes_on))
    return _joined(parts)


def _minutes(visit: Visit, *, goes_on: bool) -> str:
    if goes_on:
        return "still open"
    minutes = minutes_of(visit)
    return "not ended" if minutes is None else f"{round(minutes)} min"


# the visit whole


def sections_of(past: PastVisit) -> tuple[Section, ...]:
    """What was said, measured and timed; each says so where there was nothing."""
    measured = tuple(measured_statements(past.pairs, past.unknown))
    return (
        Section("said", tuple(_said(past)) or (Statement("", "nothing said"),)),
        Section("measured", measured or (Statement("", "nothing measured"),)),
        Section("timed", tuple(_timed(past)) or (Statement("", "nothing timed"),)),
    )


def in_lines(sections: Iterable[Section]) -> list[str]:
    """Sections as lines of plain text, each with what it is about in front, so that nothing hangs on a place."""
    lines = []
    for section in sections:
        joined: list[tuple[str, str]] = []
        for one in section.statements:
            if one.about or not joined:
                joined.append((one.about, one.says))
            else:
                joined[-1] = (joined[-1][0], f"{joined[-1][1]}; {one.says}")
        lines += [f"{about}: {says}" if about else says for about, says in joined]
    return lines


# what was said


def _said(past: PastVisit) -> Iterable[Statement]:
    said = past.said
    pains = ", ".join(f"{name} {said[word]}" for word, name in _PAINS if word in said)
    if pains:
        yield Statement("pain", pains)
    if "gaveway" in said:
        times = int(said["gaveway"])
        yield Statement("gave way", "not once" if times == 0 else many(times, "time"))
    if "confidence" in said:
        yield Statement("confidence", f"{said['confidence']} of 10")
    if "home" in said:
        done, planned = said["home"].split("/")
        yield Statement("home programme", f"{done} of {many(int(planned), 'day')} planned")
    if said.get("consent") == "n":
        yield Statement("consent", "refused")
    elif past.visit.consent is not None:
        yield Statement("consent", f"given at {time_text(past.visit.consent)}")


# what was measured


def measured_statements(pairs: Iterable[Pair], unknown: Iterable[str]) -> Iterable[Statement]:
    """What was measured, a statement a measure and its re-test; `unknown` are measures that this copy lacks."""
    for measure, group in groupby(pairs, key=lambda pair: pair.measure):
        yield from _measure(measure, list(group))
    for name in unknown:
        yield Statement(visible(name), "stands in the file, but this copy does not know this measure")


def _measure(measure: Measure, pairs: list[Pair]) -> Iterable[Statement]:
    """Before, then the re-test, then what it changed on each side."""
    says: list[str] = []
    if any(pair.hidden for pair in pairs):
        says.append(HIDDEN)
    elif any(pair.before is not None for pair in pairs):
        says.append(_values(measure, [(pair.side, pair.before) for pair in pairs]))
    if any(pair.after is not None for pair in pairs):
        says.append(f"re-test {_values(measure, [(pair.side, pair.after) for pair in pairs])}")
        blind = any(pair.after is not None and pair.after.blind for pair in pairs)
        says[-1] += ", taken blind" if blind else ""
    for pair in pairs:
        if pair.change is not None:
            says.append(f"{pair.side or ''} {change_text(pair.change, measure)}".strip())
    return [Statement("" if at else measure.name, each) for at, each in enumerate(says)]


def _values(measure: Measure, taken: list[tuple[Side | None, Reading | None]]) -> str:
    """The sides in a row, the unit behind the last figure, as "left 10.2, right 4.8 cm in brace"."""
    last = max((at for at, (_, one) in enumerate(taken) if one is not None and one.value is not None), default=-1)
    words = []
    for at, (side, reading) in enumerate(taken):
        value = value_text(reading, measure)
        if at == last or (measure.unit in STEPS and reading is not None and reading.value is not None):
            figure, comma, more = value.partition(",")
            value = f"{with_unit(figure, measure)}{comma}{more}"
        worn = f" in {' and '.join(map(visible, reading.conditions))}" if reading and reading.conditions else ""
        words.append(f"{side or ''} {value}{worn}".strip())
    return ", ".join(words)


# what was timed


def _timed(past: PastVisit) -> Iterable[Statement]:
    for bout in past.bouts:
        yield from bout_statements(bout)


def bout_statements(bout: PastBout) -> list[Statement]:
    """The whole first, then each set."""
    if bout.trouble:
        return [Statement(visible(bout.name), bout.trouble)]
    if bout.hidden:
        return [Statement(visible(bout.name), HIDDEN)]
    plan = bout.plan
    assert plan is not None
    if len(plan.turns) == len(bout.sets) == 1:
        how = [_where(plan, bout), set_says(plan, bout.sets[0]), *_ending(bout)]
        return [Statement(visible(bout.name), _joined(how))]
    work = [_work(plan, one) for one in bout.sets]
    alike = len(set(work)) == 1 and all(one.complete for one in bout.sets)
    amount = f"{len(bout.sets)} of {many(len(plan.turns), plan.unit)}"
    head = _joined([_where(plan, bout), amount, f"{work[0]} each" if alike else "", *_ending(bout)])
    sets = [_rest(plan, one) if alike else set_says(plan, one) for one in bout.sets]
    lines = [f"{_set_name(plan, one)}: {says}" for one, says in zip(bout.sets, sets, strict=True) if says]
    return [Statement(visible(bout.name), head), *(Statement("", line) for line in lines)]


def _joined(words: Iterable[str]) -> str:
    return ", ".join(word for word in words if word)


def _where(plan: BoutPlan, bout: PastBout) -> str:
    """The side or sides, and that it came after treatment where that is known."""
    after = "after treatment" if bout.row.moment is Moment.AFTER else ""
    return _joined([" and ".join(str(side) for side in plan.sides if side), after])


def _ending(bout: PastBout) -> list[str]:
    ended = "ended early" if bout.early else "" if bout.row.ended is not None else "kept paused"
    times = {0: "", 1: "paused once"}.get(bout.pauses, f"paused {bout.pauses} times")
    return [ended, times if bout.row.ended is not None else ""]


def _set_name(plan: BoutPlan, one: SetResult) -> str:
    name = f"{plan.unit} {one.n}"
    return f"{name} {one.side}" if one.side and len(plan.sides) > 1 else name


def set_says(plan: BoutPlan, one: SetResult) -> str:
    """What one set or trial came to: work, faults or loss, pain, control."""
    return _joined([_work(plan, one), _rest(plan, one)])


def _rest(plan: BoutPlan, one: SetResult) -> str:
    """What there is to say beside the work."""
    parts = []
    if plan.kind in (BoutKind.HOLD_FIXED, BoutKind.HOP_HOLD):
        parts.append(many(one.faults, "fault") if one.faults else "no fault")
    if one.pain_during:
        parts.append(f"pain during {' '.join(map(str, one.pain_during))}")
    if one.pain is not None:
        parts.append(f"pain after {one.pain}" if one.pain_during else f"pain {one.pain}")
    if one.control is not None:
        parts.append(f"control {one.control}, {CONTROL[one.control]}")
    return _joined([*parts, "" if one.complete else "cut short"])


def _work(plan: BoutPlan, one: SetResult) -> str:
    match plan.kind:
        case BoutKind.SHIFTS:
            return _shifts(one)
        case BoutKind.HOLD_TO_LOSS:
            return (
                f"{plain(one.seconds)} s, {'cap reached' if one.cap_reached else 'lost' if one.lost else 'held'}"
            )
        case BoutKind.WALK_RUN:
            skipped = sum(each.skipped for each in one.intervals)
            whole = f"{len(one.intervals) - skipped} of {many(plan.intervals, 'interval')}"
            return f"{whole}, {skipped} cut short" if skipped else whole
        case BoutKind.HOLD_FIXED | BoutKind.TIMED | BoutKind.OSCILLATIONS:
            return f"{plain(one.seconds)} s"
    word = _REP_WORDS.get(plan.kind, "rep")
    counted = f"{one.reps} {word if one.reps == 1 else 'reaches' if word == 'reach' else word + 's'}"
    return f"{counted} of {plan.target}" if plan.target and one.reps < plan.target else counted


def _shifts(one: SetResult) -> str:
    """How many were in control, and which ways were lost how often."""
    said = f"{sum(shift.controlled for shift in one.shifts)} of {len(one.shifts)} in control"
    lost = [shift.direction for shift in one.shifts if not shift.controlled]
    ways = (f"{way} {lost.count(way)}" for way in dict.fromkeys(lost))
    return f"{said}, lost: {', '.join(ways)}" if lost else said
