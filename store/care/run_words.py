"""Running in words, the same on screen, in `show` and on papers."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from store.care.dates import day_text, short_day, weekday_text
from store.care.in_words import many, visible
from store.care.running import RunStanding, RunWeek, day_of
from store.knowledge.running import Rule
from store.knowledge.runs import RunSession
from store.knowledge.words import Mark
from store.reckon.running import Judged, RunVerdict
from store.reckon.single_run import SingleCheck

NOT_LAW = "told for information, no law; nobody in that study was followed after a sprain"
NO_PLAN = "no running is planned"


def day_words(day: date) -> str:
    """A day of about now: `Fri 27 Nov`."""
    return f"{weekday_text(day)} {short_day(day)}"


def session_words(held: RunStanding, one: RunSession) -> str:
    """A session in a few words: `Fri 27 Nov, 3:2x5, pain 1 during, no swelling, next morning 0`."""
    rung = held.rung(one.rung)
    said = [day_words(day_of(one)), rung.words if rung is not None else f"rung {one.rung}"]
    if one.minutes is not None and rung is not None and one.minutes != rung.minutes:
        said.append(f"{one.minutes:g} min run")
    if one.distance_km is not None:
        said.append(f"{one.distance_km:g} km")
    if one.pain_during is not None:
        said.append(f"pain {one.pain_during} during")
    if one.swelling is not None:
        said.append("swelling" if one.swelling else "no swelling")
    if one.pain_morning is not None:
        usual = f" (usually {one.pain_usual})" if one.pain_usual else ""
        said.append(f"next morning {one.pain_morning}{usual}")
    if one.note:
        said.append(visible(one.note))
    return ", ".join(said)


def verdict_words(judged: Judged, today: date) -> str:
    """What a session came to: `clean`, `waiting for tomorrow`, `bad reaction: swelling`."""
    verdict, why = judged.verdict, ", ".join(judged.why)
    if verdict is RunVerdict.WAITING:
        others = [name for name in judged.missing if name != "next morning"]
        waits = "waiting for tomorrow" if judged.done.on >= today else "waiting: next morning not told"
        return f"{waits}{f', {_and(others)} not told' if others else ''}{f'; {why}' if why else ''}"
    if verdict is RunVerdict.UNKNOWN:
        return f"not clean: {_and(judged.missing)} not told{f'; {why}' if why else ''}"
    return f"{verdict}{f': {why}' if why else ''}"


def _and(names: tuple[str, ...] | list[str]) -> str:
    return " and ".join(names)


def last_words(held: RunStanding) -> str:
    """The last session and what it came to; that there is none yet."""
    if held.last is None:
        return "no session was told yet"
    one, judged = held.last
    soon = "; too soon after the one before" if judged.too_soon else ""
    return f"last run {session_words(held, one)}: {verdict_words(judged, held.on)}{soon}"


def rung_short(held: RunStanding) -> str:
    """The rung now, and how far the next one is: `rung 3 of 9, 1 of 2 clean`."""
    if held.climb is None or held.ladder is None:
        return ""
    climb, ladder = held.climb, held.ladder
    count = f"rung {climb.rung} of {len(ladder.rungs)}"
    if climb.rung == len(ladder.rungs):
        return f"{count}, the last one"
    return f"{count}, {climb.clean} of {ladder.rule.clean_to_rise.value:g} clean"


def rung_words(held: RunStanding) -> str:
    """The same with how it is written: `rung 3 of 9, 3:2x5, 1 of 2 clean`."""
    if held.climb is None or held.ladder is None:
        return ""
    first, _, rest = rung_short(held).partition(", ")
    return f"{first}, {held.ladder.rung(held.climb.rung).words}, {rest}"


def next_short(held: RunStanding) -> str:
    """The next session: `next Fri 27 Nov, 3:2x5`."""
    one = held.next
    if one is None:
        return "no session is planned"
    rung = held.rung(one.rung)
    return f"next {day_words(day_of(one))}, {rung.words if rung else ''}"


def next_words(held: RunStanding) -> str:
    """The same; if the last one waits, what it hangs on."""
    hangs = ", if the morning is as usual" if held.waits and held.next is not None else ""
    return f"{next_short(held)}{hangs}"


def continuous_words(held: RunStanding) -> str:
    """When the last rung is first run if every session is clean."""
    if held.ladder is None or held.climb is None:
        return ""
    top = held.ladder.rungs[-1].words
    if held.climb.reached:
        return f"{top}: reached"
    if held.continuous_on is None:
        return f"{top}: not within a year by this plan"
    return f"{top} {day_text(held.continuous_on)} if all are clean"


def clean_words(rule: Rule) -> str:
    """What a clean session is, and what it leads to; whether that is the clinic's own."""
    own = ", set by this clinic" if any(figure.mark is Mark.CLINIC for figure in rule) else ""
    count = int(rule.clean_to_rise.value)
    up = f"{count} in a row lead up a rung" if count > 1 else "then the next rung"
    return f"clean: pain at most {rule.most_pain.value:g}, no swelling, usual morning; {up}{own}"


def bad_words(rule: Rule) -> str:
    """What follows a bad reaction."""
    down, off = int(rule.rungs_down.value), int(rule.days_off.value)
    led = f"down {many(down, 'rung')}" if down else "no step up"
    return f"bad reaction: {led}; after swelling or pain over {rule.bad_pain.value:g} also {many(off, 'day')} off"


def days_words(held: RunStanding) -> str:
    """On which days, by which ladder, since when."""
    plan, ladder = held.plan, held.ladder
    if plan is None:
        return NO_PLAN
    days = " ".join(day.capitalize() for day in plan.weekdays) or "alternate days"
    named = ladder.name if ladder is not None else f"ladder {plan.ladder}, which this copy does not know"
    begins = f", from {day_text(plan.begins_on)}" if plan.begins_on > held.on else ""
    return f"{named}; {days}{begins}"


def check_words(held: RunStanding) -> list[str]:
    """The single run against the longest before it, once running is in one piece."""
    rule = held.table.single_run
    found = []
    if held.last_check is not None and held.last_check.band is not None:
        found.append(_beyond(held.last_check, rule.days.value))
    if held.check is not None:
        found.append(
            f"next run at most {held.check.most:.1f} km: {rule.share.value:g} % of the longest in "
            f"{rule.days.value:g} days, {held.check.longest:g} km ({NOT_LAW})"
        )
    return found


def _beyond(check: SingleCheck, days: float) -> str:
    band = check.band
    assert band is not None
    assert check.share is not None
    return (
        f"the last run was {check.share - 100:.0f} % longer than the longest in {days:g} days, {check.longest:g} "
        f"km: injury {band.figure.value:g} times as often in a study ({band.figure.mark})"
    )


def stale_words(held: RunStanding) -> str:
    """That what is planned no longer follows from what was told, and what to do; empty where it does."""
    missed = [
        one
        for one in held.sessions
        if one.done_on is None
        and day_of(one) < held.on
        and (held.last is None or day_of(one) > day_of(held.last[0]))
    ]
    if missed and held.stale:
        return f"{day_words(day_of(missed[-1]))} was planned and not told: tell it, or plan on (e)"
    return "the plan is behind the rule: e plans on from today" if held.stale else ""


def week_change_words(week: RunWeek) -> str:
    """The minutes against the week before, for information."""
    if week.change is None:
        return ""
    return (
        f"{abs(week.change):.0f} % {'more' if week.change >= 0 else 'less'}" if round(week.change) else "the same"
    )


def running_lines(held: RunStanding, goal: Sequence[str] = (), against: Sequence[str] = ()) -> list[str]:
    """Where running stands, as `show` tells it, what stands against it, and what is said of the goal's day;
    nothing else where nothing is planned."""
    if held.plan is None:
        return list(goal)
    if held.ladder is None:
        return [f"running: {days_words(held)}"]
    lines = [
        f"running: {rung_words(held)}; {days_words(held)}",
        *(f"against it: {one}" for one in against),
        last_words(held),
        *([next_words(held)] if held.episode.closed is None else []),
        continuous_words(held),
        *goal,
        f"{clean_words(held.ladder.rule)}; what is not known is never clean",
        bad_words(held.ladder.rule),
        stale_words(held),
        *check_words(held),
    ]
    lines += [
        f"planned {day_words(day_of(one))}, {rung.words}"
        for one in held.planned
        if (rung := held.rung(one.rung)) is not None
    ]
    return [line for line in lines if line] + [one.says for one in held.table.cautions]
