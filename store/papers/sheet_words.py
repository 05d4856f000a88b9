"""What a home sheet says, whichever format it has: short sentences in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from store.care.dates import day_text
from store.care.home_sheet import Sheet, SheetItem
from store.care.in_words import visible
from store.care.invented import INVENTED, THIS_ONE
from store.knowledge.words import Side

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
NO_CLINIC = "Call our phone number: __________________"
JUDGEMENT = "This sheet supports, and does not replace, what your clinician told you."


def head(sheet: Sheet) -> list[str]:
    """When and for how long it is, the goal, and from whom: sentences."""
    says = [f"{day_text(sheet.issued_on)}."]
    says += [f"Goal: {visible(sheet.goal)}."] if sheet.goal else []
    says += [f"For {sheet.weeks} weeks."] if sheet.weeks else []
    says += [f"We look at this again on {day_text(sheet.review_on)}."] if sheet.review_on else []
    says += [f"From {visible(sheet.examiner)}."] if sheet.examiner not in ("", INVENTED) else []
    return [*says, *([THIS_ONE] if sheet.invented else [])]


def dose(one: SheetItem) -> str:
    """How much, on which leg and how often."""
    return f"{one.dose} {one.where[:1].upper()}{one.where[1:]}. {one.often}"


def told(one: SheetItem) -> list[str]:
    """How it is done, which way a band pulls, what to mind, easier and harder."""
    other = f"Too hard? {one.easier} " if one.easier else ""
    other += f"Too easy? {one.harder}" if one.harder else ""
    says = [*one.steps, one.pull, " ".join(one.care), other.strip()]
    return [visible(text) for text in says if text]


def foot(sheet: Sheet, side: Side) -> str:
    """The head of a column: "Right foot (the sore one)"."""
    return f"{side.value.capitalize()} foot" + (" (the sore one)" if side is sheet.injured else "")


def names(sheet: Sheet, numbers: Sequence[int]) -> str:
    """What is done then, by number and name; rest where nothing is."""
    return "; ".join(f"{n}. {visible(sheet.items[n - 1].name)}" for n in numbers) or "rest"


def tick_rows(sheet: Sheet) -> list[str]:
    """The rows with a box a day."""
    return [*(row.when for row in sheet.rows if row.left or row.right), "Pain next morning, 0 to 10"]


def blocks(sheet: Sheet) -> list[tuple[str, tuple[str, ...]]]:
    """When to stop, what keeps it safe, and whom to call, each with its lines."""
    words = sheet.words
    clinic = f"Call {visible(sheet.clinic)}." if sheet.clinic else NO_CLINIC
    return [
        ("Stop", words.stop),
        ("Safe", (*words.hold_on, *(words.bands if any(one.pull for one in sheet.items) else ()))),
        ("Call", (*words.call_today, words.emergency, clinic)),
    ]


def last_line(sheet: Sheet) -> str:
    """The reading grade, and what to do where it is above the aim."""
    over = "" if sheet.grade <= sheet.aim else f", above {sheet.aim:g}: read it out together"
    grade = f"{sheet.grade:.1f}" if sheet.grade >= 1 else "below 1"
    return f"Reading grade {grade}{over}."
