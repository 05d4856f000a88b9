"""What a line says, once read: per side the trials and what came of them. Nothing here knows the injured side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from store.entry.numbers import limits, plain, spelled
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Side, Status

CONDITIONS = ("brace", "tape", "shoe", "insole", "foam", "half-dome")
"""What a reading may be taken in or on, other than its protocol says."""


class SideEntry(NamedTuple):
    """One side of an entry, side None on a single measure. `trials` in the measure's unit, none when unable."""

    side: Side | None
    trials: tuple[float, ...]
    status: Status


class Entry(NamedTuple):
    """One measure as entered, left before right.

    `asks` are sentences on values outside the plausible range: ask once more before keeping them. `says` are
    sentences for the preview, such as fewer trials than the measure counts.
    """

    measure: Measure
    sides: tuple[SideEntry, ...]
    moment: Moment | None = None
    conditions: tuple[str, ...] = ()
    note: str | None = None
    asks: tuple[str, ...] = ()
    says: tuple[str, ...] = ()


def status_of(trials: Sequence[float], measure: Measure) -> Status:
    """Measured, or cap reached: one trial at or past the cap makes the side's value a lower bound."""
    capped = measure.cap is not None and any(trial >= measure.cap for trial in trials)
    return Status.CAP if capped else Status.MEASURED


def asks_of(side: SideEntry, measure: Measure) -> tuple[str, ...]:
    """A sentence for each trial outside the plausible range."""
    odd = [trial for trial in side.trials if not measure.usual_low <= trial <= measure.usual_high]
    usual = limits(measure.usual_low, measure.usual_high, measure)
    return tuple(f"{_named(side, measure)} {plain(trial)}: usually {usual}. Is it right?" for trial in odd)


def says_of(side: SideEntry, measure: Measure) -> tuple[str, ...]:
    """Sentences for the preview: fewer trials than count, or figures finer than the measure's step."""
    found: list[str] = []
    if 0 < len(side.trials) < measure.counted:
        found.append(f"{_named(side, measure)}: {len(side.trials)} of {measure.counted} trials")
    fine = next((trial for trial in side.trials if _finer(trial, measure)), None)
    if fine is not None:
        step = plain(measure.step)
        found.append(f"{_named(side, measure)} {plain(fine)}: kept as typed, finer than the step of {step}")
    return tuple(found)


def line_of(entry: Entry) -> str:
    """The entry as a line that reads back to the same entry."""
    words = [entry.measure.id]
    for side in entry.sides:
        words += [side.side.value] if side.side else []
        words += [spelled(trial, entry.measure) for trial in side.trials] or ["unable"]
    words += [entry.moment.value] if entry.moment else []
    words += entry.conditions
    if entry.note is not None:
        words += ["note", '"' + entry.note.replace('"', '""') + '"']
    return " ".join(words)


def _finer(trial: float, measure: Measure) -> bool:
    steps = trial / measure.step
    return abs(steps - round(steps)) > 1e-6


def _named(side: SideEntry, measure: Measure) -> str:
    return f"{measure.name} {side.side.value}" if side.side else measure.name
