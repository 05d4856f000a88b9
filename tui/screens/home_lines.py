"""The lines of the home programme's screen: its items, what the person is told of one, the days and the work."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from textwrap import wrap

from textual.content import Content

from store.care.dates import day_text, how_long
from store.care.home import Handed, HomeStanding
from store.care.home_days import days_words
from store.care.home_items import item_says
from store.care.recall import tail_words
from store.care.warning import Warned
from store.knowledge.home_item import HomeItem
from tui.widgets.head_line import parts
from tui.widgets.look import FLAG, Role, mark
from tui.widgets.plan_list import PlanRow, Stand

REVIEW = "review"
"""The key of the row below the items."""

NOTHING_YET = "Nothing is on it yet: + adds the first thing to do at home."

_QUIET, _INK = mark(Role.QUIET), mark(Role.INK)
_ROOM = 9  # columns for the title of a block


def rows(items: Sequence[HomeItem], review_on: date, today: date, *, handed: bool) -> list[PlanRow]:
    """The items with their doses, and the day of their review; ticked once handed out."""
    stand = Stand.DONE if handed else Stand.OPEN
    told = [PlanRow(item.activity, item.name, item_says(item), stand) for item in items]
    day = f"{day_text(review_on, weekday=True)}, {how_long(review_on, today)}"
    return [*told, PlanRow(REVIEW, "review", day, stand)]


def state_line(held: HomeStanding, origin: str, *, handed: bool) -> Content:
    """What is on show: what was handed out, or what will be."""
    now = held.in_force
    if handed and now is not None:
        return parts((f"handed out {day_text(now.since)}", mark(Role.GAIN)), (f"   {now.programme.words}", _QUIET))
    return parts(("not handed out yet", mark(Role.INK, bold=True)), (f"   {origin}", _QUIET))


def item_lines(item: HomeItem, source: str, width: int) -> list[Content]:
    """What the person is told of one thing: its plain name, how it is done, which way it pulls, what to mind; and
    how often, with mark and source."""
    words = item.words
    lines = [Content.styled(words.name, mark(Role.INK, bold=True))]
    lines += _block("how", words.steps, width)
    lines += _block("pull", [words.pull] if words.pull else [], width)
    lines += _block("mind", words.care, width)
    lines += _block("easier", [words.easier] if words.easier else [], width)
    lines += _block("harder", [words.harder] if words.harder else [], width)
    if words.says or source:
        known = "; ".join(part for part in (words.says, str(words.mark), source) if part)
        lines += _block("often", [known], width, role=Role.QUIET)
    return lines


def minded_lines(minded: Sequence[Warned], words: Sequence[str], width: int) -> list[Content]:
    """What this person puts in force, and what else is to be minded, in sentences."""
    return [line for text in (*(one.text for one in minded), *words) for line in _hung(text, width)]


def told_lines(held: HomeStanding, words: Sequence[str], width: int) -> list[Content]:
    """The days that were told, the work of this week and the grade, and what follows a discharge."""
    found: list[Content] = []
    told: Handed | None = held.told
    if told is not None and told.days:
        found += _wrapped(days_words(told), width, Role.INK)
    found += [line for text in words for line in _wrapped(text, width, Role.QUIET)]
    if held.tail is not None:
        found += [line for text in tail_words(held.tail, held.on) for line in _wrapped(text, width, Role.INK)]
    return found


def _block(title: str, texts: Sequence[str], width: int, role: Role = Role.INK) -> list[Content]:
    lines = []
    for n, text in enumerate(texts):
        for row, part in enumerate(wrap(text, max(width - _ROOM, 20))):
            name = title if n == row == 0 else ""
            lines.append(parts((f"{name:<{_ROOM}}", _QUIET), (part, mark(role))))
    return lines


def _wrapped(text: str, width: int, role: Role) -> list[Content]:
    return [Content.styled(row, mark(role)) for row in wrap(text, max(width, 20))]


def _hung(text: str, width: int) -> list[Content]:
    return [
        parts((f"{FLAG if n == 0 else ' '} ", mark(Role.LOSS, bold=True)), (row, _INK))
        for n, row in enumerate(wrap(text, max(width - 2, 20)))
    ]
