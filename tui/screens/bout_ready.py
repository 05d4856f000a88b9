"""What is read before a bout starts: the dose, what this person puts in force, the set-up, the usual cautions."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from textual.content import Content

from store.care.bout_setting import Setting
from store.care.dosing import Part
from tui.screens.bout_lines import dose_lines
from tui.widgets.head_line import parts
from tui.widgets.look import FLAG, Role, mark

_ROOM = 10  # columns for the title of a block


def ready_text(
    found: Setting, dose: Sequence[Part], chosen: str, width: int, *, own_protocol: bool
) -> list[Content]:
    """All that is read before the start, the most important first, in lines of this width."""
    blocks = dose_lines(dose, chosen, width)
    if found.activity.measure and not own_protocol:
        blocks += _hung(FLAG, "not the test's own protocol: it will be training, and no reading", width, Role.LOSS)
    return [*blocks, *_in_force(found, width), *_about(found, width)]


def chosen_text(found: Setting, width: int) -> list[Content]:
    """What is read of an activity while it is being chosen: what it is for, then the same without its dose."""
    shows = [Content.styled(row, mark(Role.INK)) for row in wrap(found.activity.shows, max(width, 20))]
    return [*shows, *_in_force(found, width), *_about(found, width)]


def _in_force(found: Setting, width: int) -> list[Content]:
    """The cautions that this person puts in force, bright, how it went last time where it was stopped, and what
    hangs on what nobody asked.
    """
    lines = [Content("")]
    for one in found.warned:
        if one.in_force:
            lines += _hung(FLAG, one.text, width, Role.LOSS)
    if found.last_time:
        lines += _hung(FLAG, found.last_time, width, Role.LOSS)
    if found.not_asked:
        lines += _hung(FLAG, f"not asked yet: {', '.join(found.not_asked)}", width, Role.NOW)
    return lines if len(lines) > 1 else []


def _about(found: Setting, width: int) -> list[Content]:
    """The cautions by name, set-up, what ends it, the cautions in full, and where the dose comes from."""
    activity = found.activity
    usual = [one for one in found.warned if not one.in_force]
    names = ["; ".join(one.name for one in usual)] if usual else []
    pull = [activity.anchor] if activity.anchor else []
    ends = [activity.ends] if activity.ends else []
    return [
        line
        for title, texts in (
            ("cautions", names), ("set-up", activity.set_up), ("pull", pull), ("ends", ends),
            ("cautions", [one.says for one in usual]), ("dose", [_origin(found)]),
            ("pain", _most_pain(found)),
        )
        for line in _block(title, texts, width)
    ]  # fmt: skip


def _origin(found: Setting) -> str:
    dose = found.activity.dose
    return "; ".join(part for part in (dose.says, str(dose.mark), found.sources.get(dose.source, "")) if part)


def _most_pain(found: Setting) -> list[str]:
    most = found.most_pain
    if most is None:
        return []
    known = "; ".join(part for part in (most.says, str(most.mark), found.sources.get(most.source, "")) if part)
    return [f"pain above {most.value:g} pauses it: {known}"]


def _block(title: str, texts: Sequence[str], width: int) -> list[Content]:
    """A blank line, then texts under a title that stands before the first of them."""
    lines = [Content("")] if texts else []
    role = Role.QUIET if title in ("cautions", "dose", "pain") else Role.INK
    for n, text in enumerate(texts):
        for row, part in enumerate(wrap(text, max(width - _ROOM, 20))):
            name = title if n == row == 0 else ""
            lines.append(parts((f"{name:<{_ROOM}}", mark(Role.QUIET)), (part, mark(role))))
    return lines


def _hung(glyph: str, text: str, width: int, role: Role) -> list[Content]:
    """A bright text that hangs on its glyph."""
    rows = wrap(text, max(width - 2, 20))
    return [
        parts((f"{glyph if n == 0 else ' '} ", mark(role, bold=True)), (row, mark(Role.INK, bold=True)))
        for n, row in enumerate(rows)
    ]
