"""What the home sheet says, before it is set: the programme in plain words, by foot and time of day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from store.care.care import Care
from store.care.faults import CareFault
from store.care.home import Handed, home_standing
from store.care.in_words import many
from store.care.invented import is_invented_person
from store.knowledge.home import SheetWords
from store.knowledge.home_item import HomeItem
from store.knowledge.words import BoutKind, Side
from store.reckon.reading_grade import reading_of

MORNING, BETWEEN, EVENING = "Morning", "In between", "Evening"
BALANCE_ID = "home_balance"


@dataclass(frozen=True, slots=True)
class SheetItem:
    """One thing to do, numbered from 1. `dose` and `often` are sentences; `where` says on which leg."""

    n: int
    name: str
    dose: str
    often: str
    where: str
    steps: tuple[str, ...]
    pull: str
    care: tuple[str, ...]
    easier: str
    harder: str
    picture: str


@dataclass(frozen=True, slots=True)
class FootRow:
    """One time of day: the numbers of what is done then with the left foot, and with the right."""

    when: str
    left: tuple[int, ...]
    right: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The sheet of one programme. `clinic` is whom to call, as the settings have it; empty where they have none.

    `grade` is the reading grade of all that is said on it, and `aim` the one it should not pass.
    """

    label: str
    injured: Side
    issued_on: date
    review_on: date | None
    examiner: str
    clinic: str
    goal: str
    items: tuple[SheetItem, ...]
    rows: tuple[FootRow, ...]
    words: SheetWords
    grade: float
    aim: float
    weeks: int = 0
    invented: bool = False


def sheet_of(care: Care, episode_id: str, items: Iterable[HomeItem] | None = None) -> Sheet:
    """The sheet of the programme in force, or of these items before they are handed out. Raises CareFault."""
    held = home_standing(care, episode_id)
    now = held.in_force
    if items is None and now is None:
        raise CareFault("no home programme was handed out yet: h opens it in the visit")
    told = tuple(items) if items is not None else now.items if now is not None else ()
    made = tuple(_item(n, one) for n, one in enumerate(told, 1))
    words = care.knowledge.home.sheet
    return Sheet(
        label=held.person.label,
        injured=held.episode.side,
        issued_on=now.since if items is None and now is not None else held.on,
        review_on=_review(now),
        examiner=_examiner(care, now),
        clinic=care.settings.clinic,
        goal=held.episode.goal or "",
        items=made,
        rows=_rows(told),
        words=words,
        grade=grade_of(made, words),
        aim=care.knowledge.home.grade.value,
        weeks=_weeks(care, told),
        invented=is_invented_person(care, held.person),
    )


def grade_of(items: Iterable[SheetItem], words: SheetWords) -> float:
    """The reading grade of all that is said on a sheet."""
    texts: list[str] = [*words.stop, *words.hold_on, *words.bands, *words.call_today, words.emergency]
    for one in items:
        texts += [one.name, one.dose, one.often, *one.steps, one.pull, *one.care, one.easier, one.harder]
    return reading_of(text for text in texts if text).grade


def grade_words(care: Care, items: Iterable[HomeItem]) -> str:
    """The reading grade that a sheet of these items has: "reading grade below 1, at most 6 is wanted"."""
    words, aim = care.knowledge.home.sheet, care.knowledge.home.grade.value
    grade = grade_of((_item(n, one) for n, one in enumerate(items, 1)), words)
    told = f"{grade:.1f}" if grade >= 1 else "below 1"
    return f"reading grade of the sheet {told}, at most {aim:g} is wanted"


def _review(now: Handed | None) -> date | None:
    return now.programme.review_on if now is not None else None


def _examiner(care: Care, now: Handed | None) -> str:
    return now.programme.examiner if now is not None else care.examiner


def _weeks(care: Care, items: tuple[HomeItem, ...]) -> int:
    """How many weeks it is for, where the balance work after discharge is part of it."""
    has_tail = any(item.activity == BALANCE_ID for item in items)
    return int(care.knowledge.home.tail_weeks.value) if has_tail else 0


def _item(n: int, item: HomeItem) -> SheetItem:
    words = item.words
    return SheetItem(
        n=n,
        name=words.name,
        dose=_dose(item),
        often=_often(item),
        where=_where(item.sides),
        steps=words.steps,
        pull=words.pull,
        care=words.care,
        easier=words.easier,
        harder=words.harder,
        picture=words.picture,
    )


def _dose(item: HomeItem) -> str:
    """How much at one time: "2 sets of 10.", "3 times, 30 seconds each.", "15 minutes."."""
    if item.kind is BoutKind.WALK_RUN:
        parts = ", ".join(f"{phase.word.lower()} {_long(phase.seconds)}" for phase in item.phases)
        return f"{parts}. Do this {item.reps} times."
    if item.hold_s:
        return f"{item.sets} times, {_long(item.hold_s)} each." if item.sets > 1 else f"{_long(item.hold_s)}."
    ways = " each way" if item.ways > 1 else ""
    return f"{many(item.sets, 'set')} of {item.reps}{ways}." if item.sets > 1 else f"{item.reps}{ways}."


def _long(seconds: float) -> str:
    if seconds >= 60 and seconds % 60 == 0:
        return many(int(seconds // 60), "minute")
    return many(round(seconds), "second")


def _often(item: HomeItem) -> str:
    times = {1: "Once a day", 2: "Two times a day"}.get(item.a_day, f"{item.a_day} times a day")
    return f"{times}." if item.days_a_week == 7 else f"{times}, {many(item.days_a_week, 'day')} a week."


def _where(sides: tuple[Side, ...]) -> str:
    if not sides:
        return "both feet at once"
    return "one leg, then the other" if len(sides) == 2 else f"{sides[0]} foot"


def _rows(items: tuple[HomeItem, ...]) -> tuple[FootRow, ...]:
    """What each foot does in the morning, in between and in the evening; once a day is in the morning."""
    found = [_row(MORNING, items, 1), _row(BETWEEN, items, 3), _row(EVENING, items, 2)]
    return tuple(row for row in found if row.when != BETWEEN or row.left or row.right)


def _row(when: str, items: tuple[HomeItem, ...], least: int) -> FootRow:
    def of(side: Side) -> tuple[int, ...]:
        fits = ((n, one) for n, one in enumerate(items, 1) if one.a_day >= least)
        return tuple(n for n, one in fits if not one.sides or side in one.sides)

    return FootRow(when, of(Side.LEFT), of(Side.RIGHT))
