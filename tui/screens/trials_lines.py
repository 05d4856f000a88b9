"""What trial by trial shows of a pass: the giant word, the trials of a side so far, a caution."""

from __future__ import annotations

from textual.content import Content

from store.care.trial_pass import SideTrials, TrialPass
from store.care.warning import Warned
from tui.widgets.big_word import Aside
from tui.widgets.head_line import parts
from tui.widgets.look import FLAG, NOTHING, Role, mark, side_head, side_role

_QUIET = mark(Role.QUIET)


def giant_of(taking: TrialPass) -> tuple[str, Role, Aside]:
    """The side to test now, its colour, and what stands beside it; the measure's name where there are no sides."""
    if taking.asks_swap:
        return "SWAPPED", Role.LOSS, (("* swaps them", Role.INK), ("enter keeps them", Role.INK))
    now, injured = taking.trials.current, taking.subject.injured
    trial = f"trial {min(len(now.values) + 1, now.wanted)} of {now.wanted}"
    if now.side is None:
        return taking.measure.name.split(",")[0].upper(), Role.NOW, ((trial, Role.INK),)
    role = side_role(now.side)
    word = "" if injured is None else "injured" if now.side is injured else "uninjured"
    return now.side.upper(), role, ((trial, Role.INK), (f"{side_head(now.side)} {word}", role))


def so_far(taking: TrialPass, side: SideTrials) -> Content:
    """One side's trials: those that are in, the one that is wanted now, and those to come."""
    injured = " injured" if side.side and side.side is taking.subject.injured else ""
    label = f"{side.side}{injured}  " if side.side else ""
    role = side_role(side.side) if side.side else Role.INK
    now = side is taking.trials.current and not taking.trials.done
    words = taking.words(side)
    waiting = 0 if side.unable else max(side.wanted - len(side.values), 0)
    marks = ["now" if now and at == 0 else NOTHING for at in range(waiting)]
    return parts(
        (label, mark(role, bold=True) if now else _QUIET),
        ("  ".join(words), mark(role, bold=True)),
        ("  " if words and waiting else "", _QUIET),
        ("  ".join(marks), mark(Role.NOW, bold=True) if now else _QUIET),
    )


def caution_text(one: Warned) -> Content:
    """A caution; one in force carries its mark."""
    if one.in_force:
        return parts((f"{FLAG} ", mark(Role.LOSS, bold=True)), (one.text, mark(Role.INK)))
    return parts((one.says, _QUIET))
