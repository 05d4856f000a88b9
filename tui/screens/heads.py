"""The head lines that tell whose ankle a screen is about, alike on every screen."""

from __future__ import annotations

from textual.content import Content

from store.care.dates import away_text, day_text
from store.care.in_words import visible
from store.care.safety_state import NOT_SCREENED
from store.care.standing import Standing
from store.knowledge.words import Side
from tui.widgets.head_line import Row, parts
from tui.widgets.look import FLAG, Role, mark, side_head, side_role


def side_words(side: Side, noun: str = "ankle") -> Content:
    """`◀ left ankle`, `right ankle ▶`: the word, and the arrow on the side where that ankle stands."""
    words = f"{side} {noun}".strip()
    text = f"{side_head(side)} {words}" if side is Side.LEFT else f"{words} {side_head(side)}"
    return Content.styled(text, mark(side_role(side), bold=True))


def who(standing: Standing) -> Content:
    """Label, age, which ankle, what is torn."""
    person, episode = standing.person, standing.episode
    grade = f"grade {episode.grade}" if episode.grade else "not yet graded"
    age = f" {standing.age}" if standing.age is not None else ""
    return parts(
        (visible(person.label), mark(Role.INK, bold=True)),
        (f"{age}  ", mark(Role.QUIET)),
        side_words(episode.side),
        (f"  {visible(episode.structure)}, {grade}", mark(Role.INK)),
    )


def when(standing: Standing) -> Content:
    """Week and day since injury, or that it is closed."""
    if standing.episode.closed is not None:
        return parts((f"closed {day_text(standing.episode.closed.on)}", mark(Role.QUIET)))
    if standing.week is None:
        return parts(("day of injury not known", mark(Role.QUIET)))
    return parts((f"week {standing.week}, day {standing.day}", mark(Role.QUIET)))


def aim(standing: Standing) -> Content:
    """The goal, its day and the days to it."""
    episode = standing.episode
    if not episode.goal and episode.goal_on is None:
        return parts(("no goal set", mark(Role.QUIET)))
    pieces = [("goal ", mark(Role.QUIET)), (visible(episode.goal or ""), mark(Role.INK))]
    if episode.goal_on is not None:
        comma = ", " if episode.goal else ""
        away = away_text(episode.goal_on, standing.on)
        pieces += [(f"{comma}{day_text(episode.goal_on)}", mark(Role.INK)), (f", {away}", mark(Role.QUIET))]
    return parts(*pieces)


def caution(standing: Standing) -> Content | None:
    """That nobody screened for safety or gave the grade yet, and the cautions in force, by glyph and word; None
    where there is nothing of them.
    """
    if standing.screened and not standing.cautions and not standing.to_grade:
        return None
    wants = [] if standing.screened else [f"{NOT_SCREENED}: s"]
    wants += ["grade it: e"] if standing.to_grade else []
    unasked = "; ".join(wants)
    listed = ", ".join(standing.cautions)
    return parts(
        (f"{FLAG} ", mark(Role.LOSS, bold=True)),
        (unasked, mark(Role.INK)),
        ("; " if unasked and listed else "", mark(Role.INK)),
        ("caution: " if listed else "", mark(Role.QUIET)),
        (listed, mark(Role.INK)),
    )


def head_rows(standing: Standing) -> tuple[Row, ...]:
    """The head of a screen about one ankle: who and when, goal and healing phase, cautions in force."""
    rows: list[Row] = [
        (who(standing), when(standing)),
        (aim(standing), parts((standing.phase, mark(Role.QUIET)))),
    ]
    warned = caution(standing)
    return (*rows, (warned, parts(""))) if warned is not None else tuple(rows)
