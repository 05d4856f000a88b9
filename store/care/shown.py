"""A person and the caseload in plain text, fit for a screen reader: sections part by an empty line, no drawing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.care.caseload import CaseloadCount, CaseloadRow
from store.care.compared import HIDDEN, change_text, gap_text
from store.care.dates import day_text, how_long, stamp_text
from store.care.in_words import many, visible, with_unit_text
from store.care.invented import INVENTED, NOTE
from store.care.measured import UNINJURED, MeasureStanding, Retest
from store.care.past_visits import PastVisit
from store.care.past_words import in_lines, sections_of, title
from store.care.safety_state import NOT_SCREENED
from store.care.standing import GRADE_FROM_DAY, Standing
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading, Visit

CAVEAT = "This supports, and does not replace, a licensed clinician's judgement and local protocol."


def sections(*parts: Iterable[str]) -> str:
    """Sections of lines as one text, an empty line between two; empty sections are left out."""
    blocks = ["\n".join(lines) for lines in map(list, parts) if lines]
    return "\n\n".join(blocks) + "\n"


# the caseload


def caseload_text(rows: Iterable[CaseloadRow], counted: CaseloadCount, note: str = "") -> str:
    """The caseload under a note, a line an open episode, then the closed ones, then who has none."""
    rows = list(rows)
    is_open = [row for row in rows if row.is_open]
    closed = [row for row in rows if row.episode and not row.is_open]
    without = [row for row in rows if not row.episode]
    head = [f"{many(counted.open, 'open episode')}, {counted.seen_today} seen today"]
    if not rows:
        head = ["nobody is in this record yet: `bothfeet` opens the screens, and F2 adds a person"]
    return sections(
        [note] if note else [],
        head,
        map(_open_line, is_open),
        ["closed", *map(_closed_line, closed)] if closed else [],
        ["without an episode", *(_joined(visible(row.label), _next(row)) for row in without)] if without else [],
    )


def _open_line(row: CaseloadRow) -> str:
    widest = f"widest gap: {row.widest_words}" if row.widest_words else ""
    stage = f"stage {row.stage_words}" if row.stage_words else ""
    screened = (
        (f"{row.refer_words} stands, not settled" if row.refer_words else "") if row.screened else NOT_SCREENED
    )
    return _joined(
        _who(row), screened, f"week {row.week}" if row.week else "", _next(row), widest, stage, row.flat_words
    )


def _closed_line(row: CaseloadRow) -> str:
    closed = f"closed {day_text(row.closed_on)}" if row.closed_on else "closed"
    return _joined(_who(row), closed, row.recall_words, _next(row))


def _next(row: CaseloadRow) -> str:
    return f"next visit {row.next_long}" if row.next_long else ""


def _who(row: CaseloadRow) -> str:
    return f"{visible(row.label)}, {row.injured_side} ankle injured, {visible(row.injury)}"


def _joined(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part)


# one ankle


def episode_text(
    standing: Standing,
    visits: Sequence[Visit] = (),
    past: Sequence[PastVisit] = (),
    *,
    ahead: tuple[list[str], list[str]] = ([], []),
    coming: str = "",
    home: Sequence[str] = (),
    safety: Sequence[str] = (),
    looks: Sequence[str] = (),
    resprains: Sequence[str] = (),
    running: Sequence[str] = (),
    brought: str = "",
    invented: bool = False,
) -> str:
    """One ankle: who, since when and seen when, then a line a measure, left before right, then visits.

    `visits` are all that count, newest first; `past` are those of them that are told in full. `ahead` are the
    lines of the forecasts and those of the next stage; `coming` is when the person comes next; `home` what is done
    at home; `safety` what its safety screens came to; `looks` the last ones at the sideline; `resprains` the new
    sprains that were told; `running` where that stands; `brought` what was brought in without a visit.
    """
    expected, wanted = ahead
    shown = [one for one in standing.measures if one.measured or one.hidden]
    unknown = [
        f"{visible(name)}: it stands in the file, but this copy does not know this measure"
        for name in standing.unknown
    ]
    return sections(
        [NOTE] if invented else [],
        [
            *_head(standing),
            *_visits(standing, visits),
            *([brought] if brought else []),
            *([f"next visit {coming}"] if coming else []),
        ],
        list(resprains),
        [*looks, *safety],
        [measure_text(one) for one in shown] or ["nothing measured yet"],
        unknown,
        ["expected, by the readings before treatment", *expected] if expected else [],
        wanted,
        list(running),
        list(home),
        _told(visits, past),
        *([title(one), *in_lines(sections_of(one))] for one in past),
        _beware(standing),
    )


def _told(visits: Sequence[Visit], past: Sequence[PastVisit]) -> list[str]:
    """What the visits that follow are."""
    if not past:
        return []
    if len(past) < len(visits):
        count = f"the last {many(len(past), 'visit')} of {len(visits)}"
        return [f"{count}, the newest first (--visits all tells every one)"]
    return ["all visits, the newest first" if len(past) > 1 else "the one visit"]


def _head(standing: Standing) -> list[str]:
    episode, person = standing.episode, standing.person
    years = f"{standing.age} years" if standing.age is not None else ""
    graded = f"grade {episode.grade}" if episode.grade else "not yet graded"
    lines = [
        _joined(
            visible(person.label),
            years,
            f"{episode.side} ankle injured",
            f"{visible(episode.structure)}, {graded}",
        ),
        _when(standing),
        *_asked(standing),
    ]
    if standing.to_grade:
        lines.append(f"the grade is still to be given: from day {GRADE_FROM_DAY} on the ligaments tell it")
    if standing.cautions:
        lines.append("caution: " + ", ".join(standing.cautions))
    if standing.both_injured:
        lines.append("both ankles are injured: there is no uninjured side to hold this one against")
    return [line for line in lines if line]


def _when(standing: Standing) -> str:
    episode = standing.episode
    if episode.closed is not None:
        since = f"injured {day_text(episode.injured_on)}" if episode.injured_on else ""
        return _joined(since, f"closed {day_text(episode.closed.on)}")
    if standing.week is None or episode.injured_on is None:
        return f"seen first {day_text(episode.opened.on)}; the day of the injury is not known"
    phase = f"healing phase: {standing.phase}" if standing.phase else ""
    return _joined(
        f"week {standing.week}, day {standing.day} since the injury of {day_text(episode.injured_on)}", phase
    )


def _asked(standing: Standing) -> list[str]:
    episode = standing.episode
    lines = []
    if episode.goal:
        day = episode.goal_on
        on = f"{day_text(day)}, {how_long(day, standing.on)}" if day and episode.closed is None else ""
        lines.append("goal: " + _joined(visible(episode.goal), on or (day_text(day) if day else "")))
    if episode.sport:
        lines.append("sport: " + _joined(visible(episode.sport), visible(episode.level or "")))
    sprains = ((side, count) for side, count in _sprains(standing) if count is not None)
    told = ", ".join(f"{side} {count}" for side, count in sprains)
    lines += [f"sprains before this one: {told}"] if told else []
    lines += [f"wears: {visible(episode.brace)}"] if episode.brace else []
    return lines


def _sprains(standing: Standing) -> tuple[tuple[str, int | None], ...]:
    return ("left", standing.episode.sprains_left), ("right", standing.episode.sprains_right)


def _visits(standing: Standing, visits: Sequence[Visit]) -> list[str]:
    current = standing.open_visit
    if current is not None and any(visit.id == current.id for visit in visits):
        return [f"a visit goes on since {stamp_text(current.started)}"]
    if not visits:
        return []
    last = visits[0]
    by = f", by {visible(last.examiner)}" if last.examiner not in {"", INVENTED} else ""
    return [f"{many(len(visits), 'visit')}, the last on {day_text(last.started.on)}{by}"]


def _beware(standing: Standing) -> list[str]:
    held = {one.reference.kind for one in standing.measures if one.reference is not None}
    lines = []
    if UNINJURED in held:
        lines.append("The uninjured side is no clean yardstick after a sprain, least of all one sprained before.")
    return [*lines, CAVEAT]


# one measure


def measure_text(one: MeasureStanding) -> str:
    """One measure in a line of words: the sides, the gap, the index where it is one of ratio, what changed."""
    if one.hidden and not one.measured:
        return f"{one.measure.name}: {HIDDEN}"
    parts = [_sides(one)]
    if one.gap is not None:
        parts.append(f"the injured {one.injured} is {gap_text(one)}")
    if one.lsi_words:
        parts.append(f"{one.lsi_words} of the uninjured side")
    if one.change is not None:
        parts.append(f"since the visit before: {change_text(one.change, one.measure)}")
    if one.retest is not None:
        parts.append(_retest(one.retest, one.measure))
    if one.hidden:
        parts.append(HIDDEN)
    return f"{one.measure.name}: " + "; ".join(parts)


def _sides(one: MeasureStanding) -> str:
    """The values, with the day on which they were taken: once, where it is the same."""
    measure = one.measure
    taken = [one.of(side) for side in measure.sides]
    days = {reading.taken.on for reading in taken if reading}
    values = []
    for side, reading in zip(measure.sides, taken, strict=True):
        day = f", {day_text(reading.taken.on)}" if reading and len(days) > 1 else ""
        values.append(f"{side or ''} {_value(one, reading)}{day}".strip())
    once = f", {day_text(days.pop())}" if len(days) == 1 else ""
    return ", ".join(values) + once


def _value(one: MeasureStanding, reading: Reading | None) -> str:
    words = with_unit_text(reading, one.measure)
    if reading is not None and reading.conditions:
        words += f" in {' and '.join(map(visible, reading.conditions))}"
    return words + (" after treatment" if reading is not None and reading.moment is Moment.AFTER else "")


def _retest(retest: Retest, measure: Measure) -> str:
    blind = ", blind" if retest.blind else ""
    return f"re-test of {day_text(retest.after.taken.on)}{blind}: {change_text(retest.change, measure)}"
