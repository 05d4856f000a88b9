"""What a visit and its note tell of running: what was run since the visit before, and what is planned."""

from __future__ import annotations

from typing import NamedTuple

from store.care.care import Care
from store.care.run_words import day_words, next_words, rung_words, session_words, verdict_words
from store.care.running import Judged, RunStanding, day_of, running_standing
from store.knowledge.runs import RunSession
from store.knowledge.words import Visit
from store.record import runs, visits


class RanSince(NamedTuple):
    """Where running stands, and the sessions that were run since the visit before."""

    held: RunStanding
    ran: tuple[tuple[RunSession, Judged], ...]


def ran_since(care: Care, visit: Visit) -> RanSince | None:
    """The sessions that were run since the visit before, up to the day of this one; None where none is planned.

    A session of the day of the visit before is told in that visit's note, or, where it was told later, in both.
    """
    plan = runs.last_plan(care.record, visit.episode) if visit.episode is not None else None
    if visit.episode is None or plan is None:
        return None
    held = running_standing(care, visit.episode, plan)
    before = visits.last_worked_visit(care.record, visit.episode, visit.id)
    first = before.started.on if before is not None else None
    return RanSince(
        held,
        tuple(
            (one, judged)
            for one, judged in held.judged
            if day_of(one) <= visit.started.on and (first is None or day_of(one) >= first)
        ),
    )


def ran_lines(since: RanSince) -> list[str]:
    """Those sessions for the note, a line each."""
    held = since.held
    return [f"run {session_words(held, one)}: {verdict_words(judged, held.on)}" for one, judged in since.ran]


def ran_short(care: Care, visit: Visit) -> tuple[tuple[str, str], ...]:
    """The same in the fewest words, for the visit's own screen: day, and what it came to."""
    found = ran_since(care, visit)
    if found is None:
        return ()
    held, ran = found
    return tuple(
        (
            f"ran {day_words(day_of(one))}",
            f"{rung.words if (rung := held.rung(one.rung)) else ''}, {judged.verdict}",
        )
        for one, judged in ran
    )


def planned_lines(since: RanSince) -> list[str]:
    """What the note's plan says of running."""
    held = since.held
    if held.ladder is None or held.episode.closed is not None:
        return []
    return [f"running: {rung_words(held)}; {next_words(held)}"]
