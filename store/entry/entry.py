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


APART = 0.25
"""Trials of which the mean is taken and that lie farther apart than this share of the usual range are asked about,
since one digit too many moves the mean. The share is common practice of ours: trials of one minute lie closer."""


def asks_of(side: SideEntry, measure: Measure, before: tuple[float, ...] = ()) -> tuple[str, ...]:
    """A sentence for each trial outside the plausible range, else one where trials lie far apart; `before` are
    those of the side that are in already.
    """
    odd = [trial for trial in side.trials if not measure.usual_low <= trial <= measure.usual_high]
    usual = limits(measure.usual_low, measure.usual_high, measure)
    asks = tuple(f"{_named(side, measure)} {plain(trial)}: usually {usual}. Is it right?" for trial in odd)
    return asks or _apart(side, measure, (*before, *side.trials))


def _apart(side: SideEntry, measure: Measure, trials: tuple[float, ...]) -> tuple[str, ...]:
    if measure.aggregate != "mean" or len(trials) < 2:
        return ()
    least, most = min(trials), max(trials)
    if most - least <= APART * (measure.usual_high - measure.usual_low):
        return ()
    return (f"{_named(side, measure)}: {plain(least)} and {plain(most)} lie far apart. Is it right?",)


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
