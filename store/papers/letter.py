"""The progress letter to whoever referred: how the ankle stands, its gap chart, what is expected and decided."""

from __future__ import annotations

from collections.abc import Iterator

from store.care.addressing import clean_to, goes_to
from store.care.ahead_words import ADVICE, count_text, criterion_text, flat_text, line_text, reached_text
from store.care.appointments import coming_words
from store.care.care import Care
from store.care.charted import charted
from store.care.compared import since_first_text
from store.care.dates import day_text
from store.care.foreseeing import curve, foresee
from store.care.in_words import many, visible
from store.care.invented import THIS_ONE, is_invented_person
from store.care.past_visits import visits_that_count
from store.care.shown import CAVEAT, measure_text
from store.care.stages import coming_stage, decisions_of, reached_last, stage_standing
from store.care.standing import Standing, standing
from store.knowledge.words import Side
from store.papers.chart import chart_svg
from store.papers.page import Block, Page

YARDSTICK = "The uninjured side is no clean yardstick after a sprain, least of all one sprained before."
PROVEN = "The forecast was proven on simulated recoveries only."


def letter_page(care: Care, episode_id: str, to: str | None = None) -> Page:
    """The letter as it would be sent now, `to` whom it goes, by default to whom the episode names, else the
    settings; left out where nobody is named. Nothing that is blind is in it. Raises CareFault.
    """
    held = standing(care, episode_id)
    clinic = (visible(care.settings.clinic),) if care.settings.clinic else ()
    invented = (THIS_ONE,) if is_invented_person(care, held.person) else ()
    years = f", {held.age} years" if held.age is not None else ""
    head = (
        *clinic,
        day_text(held.on, weekday=True),
        *addressed(goes_to(care, held.episode) if to is None else to),
        f"About: {visible(held.person.label)}{years}, {held.episode.side} ankle",
        *invented,
    )
    blocks = (
        Block("the injury and the course", tuple(_course(care, held))),
        _figures(care, held),
        _wanted(care, held),
        Block("what comes next", tuple(_next(care, held))),
    )
    signed = visible(care.examiner) if care.examiner else "______________________"
    return Page("progress letter", head, blocks, (f"Yours sincerely, {signed}", YARDSTICK, PROVEN, CAVEAT))


def addressed(to: str) -> tuple[str, ...]:
    """The line that says to whom; none where that is not known. Raises CareFault on more than a line."""
    to = clean_to(to)
    return (f"To: {visible(to)}",) if to else ()


def _course(care: Care, held: Standing) -> Iterator[str]:
    episode = held.episode
    graded = f"grade {episode.grade}" if episode.grade else "not yet graded"
    when = f", injured {day_text(episode.injured_on)}" if episode.injured_on else ""
    yield f"{visible(episode.structure)}, {graded}{when}"
    for side, count in ((Side.LEFT, episode.sprains_left), (Side.RIGHT, episode.sprains_right)):
        if count:
            yield f"sprains before this one, {side}: {count}"
    seen = visits_that_count(care, episode)
    if seen:
        first, last = seen[-1].started.on, seen[0].started.on
        span = f"on {day_text(last)}" if len(seen) == 1 else f"from {day_text(first)} to {day_text(last)}"
        yield f"seen in {many(len(seen), 'visit')} {span}"
    if episode.goal:
        yield f"goal: {visible(episode.goal)}{f', {day_text(episode.goal_on)}' if episode.goal_on else ''}"
    if held.cautions:
        yield f"caution: {', '.join(held.cautions)}"


def _figures(care: Care, held: Standing) -> Block:
    """What was measured last, left before right, with the chart of the main measure."""
    lines = [measure_text(one) for one in held.measures if one.measured]
    main = held.main
    svg = ""
    if main is not None and main.measured and not main.hidden:
        told = foresee(care, held, main.measure.id)
        drawn = charted(care, held, main.measure)
        ahead = curve(told, coming_stage(care, held.episode.id))
        svg = chart_svg(drawn, ahead)
        lines.append(f"{main.measure.name}, the main measure: {since_first_text(main)}")
        if ahead is not None and ahead.line is not None:
            lines.append(f"{main.measure.name}, line {line_text(ahead.line, main.measure, held.on)}")
        flat = flat_text(told, main.measure)
        lines += [f"{main.measure.name} {flat}"] if flat else []
    return Block("what was measured", tuple(lines) or ("nothing was measured yet",), svg)


def _wanted(care: Care, held: Standing) -> Block:
    """The criteria of the stage that comes; once the last is decided on, that it is."""
    last = reached_last(care, held.episode.id)
    if last is not None:
        return Block("the stage", (reached_text(last),))
    return Block("what the next stage wants", tuple(_stage(care, held)))


def _stage(care: Care, held: Standing) -> Iterator[str]:
    stage = stage_standing(care, held, coming_stage(care, held.episode.id))
    yield count_text(stage)
    for one in stage.criteria:
        yield criterion_text(one, held.of(one.criterion.measure).measure, held.on)
    yield ADVICE


def _next(care: Care, held: Standing) -> Iterator[str]:
    for one in decisions_of(care, held.episode.id):
        by = f" by {visible(one.examiner)}" if one.examiner else ""
        yield f"{day_text(one.decided.on)}: decided ready for {one.stage}{by}; {visible(one.reason)}"
    coming = coming_words(care, held.person.id)
    yield f"next visit: {coming}" if coming else "next visit: not planned yet"
