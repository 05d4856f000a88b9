"""The right half of the visit: what was measured before and after the hands-on part, last visit, what was said."""

from __future__ import annotations

from itertools import groupby

from textual.content import Content

from store.care.dates import age_words
from store.care.in_cells import change_cell, value_cell
from store.care.in_words import value_text
from store.care.pairs import Pair
from store.care.visit_view import LastVisit, VisitView
from store.knowledge.kinds import Measure
from store.knowledge.units import unit_words
from store.knowledge.words import Moment, Side
from tui.widgets.head_line import parts
from tui.widgets.look import NOTHING, Role, mark, side_head, side_role, verdict_mark

LABEL, CELL = 9, 10
HIDDEN = "hidden"
UNMARKED = "unmarked"
"""Of values that were taken neither before nor after the hands-on part."""

_QUIET = mark(Role.QUIET)


def said_lines(view: VisitView) -> Content:
    """What the person said, which stays in sight whatever was measured; empty while nothing was said."""
    said = _said(view.said)
    return said if not view.home_differs else Content.assemble(said, "\n", (view.home_differs, mark(Role.LOSS)))


def side_lines(view: VisitView) -> Content:
    """What was measured and done, one block under the other."""
    blocks = [
        _block(measure, {pair.side: pair for pair in pairs}, view.injured)
        for measure, pairs in groupby(view.pairs, key=lambda pair: pair.measure)
    ]
    blocks += [_extra(view)] if view.extra else []
    blocks += [_last(view.last_visit)] if view.last_visit else []
    blocks += [_ran(view)] if view.ran else []
    return Content("\n\n").join(blocks) if blocks else parts(("nothing measured yet", _QUIET))


def _block(measure: Measure, pairs: dict[Side | None, Pair], injured: Side | None) -> Content:
    """One measure: left stands on the left, right on the right, before above the re-test."""
    sides: tuple[Side | None, ...] = (Side.LEFT, Side.RIGHT) if measure.paired else (None,)
    name = f"{measure.name}, {unit_words(measure.unit)}"
    lines = [parts((name, mark(Role.INK, bold=True)))]
    if measure.paired:
        lines.append(_heads(injured))
    befores = [_before(pairs[side], measure) for side in sides]
    marked = [pair.before is not None and pair.before.moment is Moment.BEFORE for pair in pairs.values()]
    waits = any(pair.hidden for pair in pairs.values())
    if waits or any(marked):
        lines.append(_values("before", befores, sides))
    elif any(befores):
        lines.append(_values(UNMARKED, befores, sides))
    if waits or any(pair.after is not None for pair in pairs.values()):
        lines.append(_values("re-test", [value_cell(pairs[side].after, measure) for side in sides], sides))
    own = pairs.get(injured if measure.paired else None)
    if own is not None and own.change is not None:
        lines += _change(own, measure)
    return Content("\n").join(lines)


def _heads(injured: Side | None) -> Content:
    """The two sides over their columns; the injured one carries the word."""
    pieces: list[tuple[str, str]] = [(" " * LABEL, _QUIET)]
    for side in Side:
        arrow = f"{side_head(side)} {side}" if side is Side.LEFT else f"{side} {side_head(side)}"
        pieces.append((arrow.rjust(CELL), mark(side_role(side), bold=True)))
    if injured is not None:
        word = "injured".rjust(CELL if injured is Side.LEFT else 2 * CELL)
        pieces.append((f"\n{' ' * LABEL}{word}", mark(side_role(injured))))
    return parts(*pieces)


def _values(label: str, cells: list[str | None], sides: tuple[Side | None, ...]) -> Content:
    pieces: list[tuple[str, str]] = [(label.ljust(LABEL), _QUIET)]
    for cell, side in zip(cells, sides, strict=True):
        plain = cell in (None, HIDDEN)
        role = Role.QUIET if plain else side_role(side) if side else Role.INK
        pieces.append(((cell or NOTHING).rjust(CELL), mark(role, bold=not plain)))
    return parts(*pieces)


def _before(pair: Pair, measure: Measure) -> str | None:
    return HIDDEN if pair.hidden else value_cell(pair.before, measure)


def _change(pair: Pair, measure: Measure) -> list[Content]:
    """What the hands-on part did to the injured side, against the error within a visit."""
    change = pair.change
    assert change is not None
    if change.value is None or change.verdict is None:
        return [parts((change.warnings[0] if change.warnings else "no change in figures", _QUIET))]
    glyph, role = verdict_mark(change.verdict)
    whose = f"{pair.side} " if pair.side else ""
    found = [
        parts(
            (whose, _QUIET),
            (f"{change_cell(change, measure)} {glyph} ", mark(role, bold=True)),
            (str(change.verdict), mark(Role.INK)),
        )
    ]
    if change.mdc is not None:
        found.append(parts((f"MDC {change.mdc:.2g} {unit_words(measure.unit)} within a visit", _QUIET)))
    found += [parts((warning, _QUIET)) for warning in change.warnings]
    return found


def _last(last: LastVisit) -> Content:
    days = {0: "earlier today", 1: "yesterday"}.get(last.days, age_words(last.days))
    lines = [parts((f"last visit, {days}", _QUIET))]
    for measure, taken in last.values:
        values = "  ".join(f"{one.side or ''} {value_text(one, measure)}".strip() for one in taken)
        lines.append(parts((f"{measure.name}  ", _QUIET), (values, mark(Role.INK))))
    lines += [parts((f"{name}  ", _QUIET), (says, mark(Role.INK))) for name, says in last.timed]
    return Content("\n").join(lines)


def _extra(view: VisitView) -> Content:
    """Bouts beyond the plan."""
    return Content("\n").join([parts((f"{name}  ", _QUIET), (says, mark(Role.INK))) for name, says in view.extra])


def _ran(view: VisitView) -> Content:
    """What was run since the visit before."""
    return Content("\n").join([parts((f"{name}  ", _QUIET), (says, mark(Role.INK))) for name, says in view.ran])


def _said(said: dict[str, str]) -> Content:
    """Of what was said: what guides the treatment, in few lines."""
    home = " of ".join(said["home"].split("/")) + " days" if "home" in said else ""
    consent = {"y": "yes", "n": "no"}.get(said.get("consent", ""), "")
    rows = (
        (("pain now", said.get("pain", "")), ("worst", said.get("worst", ""))),
        (("next morning", said.get("morning", "")), ("walking", said.get("walk", ""))),
        (("gave way", said.get("gaveway", "")), ("confidence", said.get("confidence", ""))),
        (("home", home), ("consent", consent)),
    )
    lines = []
    for row in rows:
        pieces = [parts((f"{label} ", _QUIET), (value, mark(Role.INK))) for label, value in row if value]
        lines += [Content("  ").join(pieces)] if pieces else []
    return Content("\n").join(lines)
