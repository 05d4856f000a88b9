"""What is done at home, from its table: each activity in plain words, how often, and the rules of the sheet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from store.knowledge import figures
from store.knowledge.fields import Row
from store.knowledge.figures import provenance
from store.knowledge.kinds import CutOff, Figure
from store.knowledge.words import Mark

FILE = "home.toml"
PICTURES = (
    "band_behind", "strap_front", "band_side", "band_front", "band_hands", "wall_straight", "wall_bent", "one_leg",
    "two_legs", "heel_raise", "step", "seat", "pump", "leg_up", "brace",
)  # fmt: skip
"""The drawings that papers can make."""

MOST_A_DAY, WEEK = 10, 7


class HomeWords(NamedTuple):
    """One activity as the person is told it. `pull` says which way a band or strap pulls; `a_day` and
    `days_a_week` are how often, which is what mark and source stand for.
    """

    id: str
    name: str
    steps: tuple[str, ...]
    pull: str = ""
    care: tuple[str, ...] = ()
    picture: str = ""
    easier: str = ""
    harder: str = ""
    a_day: int = 1
    days_a_week: int = WEEK
    mark: Mark = Mark.COMMON
    source: str = ""
    says: str = ""


class SheetWords(NamedTuple):
    """What every sheet says: when to stop, what to hold on to, how to tie a band, whom to call when."""

    stop: tuple[str, ...]
    hold_on: tuple[str, ...]
    bands: tuple[str, ...]
    call_today: tuple[str, ...]
    emergency: str
    mark: Mark


class Home(NamedTuple):
    """The table: words by activity, the sheet's own, and its figures. `recall` are months after discharge,
    `formula` the three figures of the reading grade.
    """

    words: Mapping[str, HomeWords]
    sheet: SheetWords
    most_items: Figure
    fewer: Figure
    grade: Figure
    tail_weeks: Figure
    recall: tuple[CutOff, ...]
    formula: tuple[CutOff, ...]


def home(data: Mapping[str, Any]) -> Home:
    """What the table holds. Raises KnowledgeError."""
    own = {key: value for key, value in data.items() if key not in ("sheet", "rules")}
    rules = Row(FILE, "rules", data.get("rules"))
    recall, formula = rules.row("recall"), rules.row("formula")
    found = Home(
        words={key: _words(key, Row(FILE, key, value)) for key, value in own.items()},
        sheet=_sheet(Row(FILE, "sheet", data.get("sheet"))),
        most_items=figures.figure(rules.row("most_items")),
        fewer=figures.figure(rules.row("fewer")),
        grade=figures.figure(rules.row("grade")),
        tail_weeks=figures.figure(rules.row("tail_weeks")),
        recall=figures.lines(recall, "months"),
        formula=figures.lines(formula, "figures"),
    )
    recall.done()
    formula.done()
    rules.done()
    return found


def sources_of(found: Home) -> list[str]:
    """The sources that the table names."""
    own = [one.source for one in found.words.values()]
    own += [line.figure.source for line in (*found.recall, *found.formula)]
    return own + [each.source for each in (found.most_items, found.fewer, found.grade, found.tail_weeks)]


def _words(key: str, row: Row) -> HomeWords:
    mark, source = provenance(row)
    found = HomeWords(
        id=key,
        name=row.text("name"),
        steps=row.texts("steps"),
        pull=row.text("pull", ""),
        care=row.texts("care"),
        picture=row.one_of("picture", PICTURES),
        easier=row.text("easier", ""),
        harder=row.text("harder", ""),
        a_day=row.whole("a_day"),
        days_a_week=row.whole("days_a_week"),
        mark=mark,
        source=source,
        says=row.text("says", ""),
    )
    row.done()
    if not found.steps:
        raise row.fault("steps", "missing: say how it is done")
    if not 1 <= found.a_day <= MOST_A_DAY:
        raise row.fault("a_day", f"1 to {MOST_A_DAY} times a day are wanted")
    if not 1 <= found.days_a_week <= WEEK:
        raise row.fault("days_a_week", f"1 to {WEEK} days a week are wanted")
    return found


def _sheet(row: Row) -> SheetWords:
    mark, _ = provenance(row)
    found = SheetWords(
        row.texts("stop"),
        row.texts("hold_on"),
        row.texts("bands"),
        row.texts("call_today"),
        row.text("emergency"),
        mark,
    )
    row.done()
    return found
