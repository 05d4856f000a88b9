"""The lines of the running screen: weeks as rows, days as columns, what is told under them, and when empty."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from textual.content import Content

from store.care.dates import short_day
from store.care.run_words import bad_words, check_words, clean_words, last_words, stale_words, week_change_words
from store.care.running import Judged, RunStanding, RunVerdict, RunWeek, day_of
from store.knowledge.runs import RunSession
from store.knowledge.time import WEEKDAYS
from tui.widgets.head_line import parts
from tui.widgets.look import DONE, FLAG, NOTHING, UNKNOWN, Role, mark

STAYS, UNTOLD = "–", "?"
LEGEND = (
    f"{DONE} clean  {UNKNOWN} waiting  {STAYS} not clean  {FLAG} bad reaction  {UNTOLD} not told  run:walk x times"
)
WIDE = 110
"""Columns from which there is room for km and the change from week to week."""

_INK, _QUIET, _NOW = mark(Role.INK), mark(Role.QUIET), mark(Role.NOW, bold=True)
_WEEK = 10  # columns of the week's number and its Monday
_SIGNS = {
    RunVerdict.CLEAN: (DONE, mark(Role.GAIN)),
    RunVerdict.WAITING: (UNKNOWN, _INK),
    RunVerdict.HELD: (STAYS, _INK),
    RunVerdict.UNKNOWN: (STAYS, _INK),
    RunVerdict.BAD: (FLAG, mark(Role.LOSS, bold=True)),
}


def header(width: int) -> Content:
    """The names of the columns."""
    cell = _cell(width)
    days = "".join(f" {day[:3].capitalize():<{cell - 1}}" for day in WEEKDAYS)
    more = f"{'km':>7}  week on week" if width >= WIDE else ""
    return Content.styled(f"{'':<{_WEEK}}{days}{'min':>4}{'longest':>8}{more}", _QUIET)


def week_lines(held: RunStanding, width: int) -> list[Content]:
    """A line a week."""
    judged = {one.id: each for one, each in held.judged}
    return [_week(held, n, week, judged, width) for n, week in enumerate(held.weeks, 1)]


def spaced(lines: Sequence[Content]) -> list[Content]:
    """The lines with a blank one between them."""
    return [each for line in lines for each in (line, Content(""))][:-1]


def _cell(width: int) -> int:
    return 10 if width >= WIDE else 8


def _week(held: RunStanding, n: int, week: RunWeek, judged: dict[str, Judged], width: int) -> Content:
    name = f"w{n} {short_day(week.monday)}"
    cells = [_day(held, week.on(day), judged, _cell(width)) for day in range(7)]
    load = week.load
    minutes = f"{load.minutes:.0f}" if load.minutes is not None else NOTHING
    longest = f"{load.longest:g}" if load.longest is not None else NOTHING
    more: list[Content] = []
    if width >= WIDE:
        km = f"{load.km:.1f}" if load.km is not None else NOTHING
        more = [parts((f"{km:>7}", _INK), (f"  {week_change_words(week)}", _QUIET))]
    return parts((f"{name:<{_WEEK}}", _QUIET), *cells, (f"{minutes:>4}{longest:>8}", _INK), *more)


def _day(held: RunStanding, one: RunSession | None, judged: dict[str, Judged], cell: int) -> Content:
    """One day: a sign for what was run, and the rung in few letters; the next one is bright."""
    if one is None:
        return Content.styled(f" {NOTHING:<{cell - 1}}", _QUIET)
    rung = held.rung(one.rung)
    words = rung.short if rung is not None else f"rung {one.rung}"
    sign, style = " ", _QUIET
    if one.id in judged:
        sign, style = _SIGNS[judged[one.id].verdict]
    elif one.done_on is not None:  # of a plan before this one
        sign = " "
    elif day_of(one) < held.on:
        sign = UNTOLD
    if held.next is not None and one.id == held.next.id:
        return Content.styled(f" {words:<{cell - 1}}", _NOW)
    return parts((sign, style), (f"{words[: cell - 2]:<{cell - 1}}", _INK if one.done_on else _QUIET))


def told_lines(held: RunStanding, against: Sequence[str], goal: Sequence[str], width: int) -> list[Content]:
    """What is told under the weeks: what stands against running, the last session, what is to be done, the goal,
    the rule, the cautions."""
    last = held.last
    bad = last is not None and last[1].verdict is RunVerdict.BAD
    lines = [line for one in against for line in _wrapped(f"{FLAG} {one}", width, mark(Role.LOSS, bold=True))]
    lines += _wrapped(last_words(held), width, mark(Role.LOSS, bold=True) if bad else _INK)
    stale = stale_words(held)
    lines += _wrapped(f"{FLAG} {stale}", width, mark(Role.LOSS, bold=True)) if stale else []
    for words in (*check_words(held), *goal):
        lines += _wrapped(words, width, _INK)
    if held.ladder is not None:
        lines += _wrapped(clean_words(held.ladder.rule), width, _QUIET)
        lines += _wrapped(bad_words(held.ladder.rule), width, _QUIET)
    return [*lines, *caution_lines(held, width)]


def caution_lines(held: RunStanding, width: int) -> list[Content]:
    """What this person puts in force, then what is told beside every plan: all of it where there is room."""
    lines = []
    for one in held.cautions:
        if one.in_force:
            lines += _wrapped(f"{FLAG} {one.text}", width, mark(Role.LOSS, bold=True))
    return [*lines, *_always_told(held, width)]


def _always_told(held: RunStanding, width: int) -> list[Content]:
    told = held.table.cautions if width >= WIDE else held.table.cautions[:2]
    return [line for caution in told for line in _wrapped(caution.says, width, _QUIET)]


def empty_lines(held: RunStanding, against: Sequence[str], goal: Sequence[str], width: int) -> list[Content]:
    """What stands where nothing is planned: what to do, by which ladder, and what is asked before."""
    ladder = held.table.ladders[held.table.ladder]
    if held.unknown_ladder:
        named = f"This plan is by the ladder {held.unknown_ladder}"
        says = f"{named}, which this copy does not know: e plans on another."
        return _wrapped(says, width, mark(Role.INK, bold=True))
    if held.episode.closed is not None:
        return _wrapped("No running was planned in this episode.", width, _INK)
    lines = _wrapped(
        "No running is planned yet: e plans it, such as mon wed fri from 9 dec.", width, mark(Role.INK, bold=True)
    )
    lines += [line for one in against for line in _wrapped(f"{FLAG} {one}", width, _INK)]
    lines += [Content("")] if goal and not against else []
    lines += [line for one in goal for line in _wrapped(one, width, _INK)]
    rungs = ", ".join(rung.words for rung in ladder.rungs)
    lines += [Content(""), *_wrapped(f"{ladder.name}, minutes run:walked x times: {rungs}", width, _INK)]
    lines += _wrapped(clean_words(ladder.rule), width, _QUIET)
    lines += _wrapped(bad_words(ladder.rule), width, _QUIET)
    return [*lines, Content(""), *_always_told(held, width)]


def _wrapped(text: str, width: int, style: str) -> list[Content]:
    return [Content.styled(row, style) for row in wrap(text, max(width, 20))]
