"""What a note's draft says, section by section, from what was said, measured, timed and decided in the visit."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from store.care.ahead_words import ADVICE, count_text, flat_text
from store.care.appointments import coming_words
from store.care.care import Care
from store.care.compared import change_text, gap_text, since_first_text
from store.care.dates import day_text
from store.care.foreseeing import foresee_flat
from store.care.home import handed_out, programme_lines
from store.care.home_differs import differing
from store.care.in_words import rough, visible, with_unit
from store.care.pairs import Pair
from store.care.past_visits import PastVisit, past_visit, visits_that_count
from store.care.past_words import sections_of
from store.care.resprain import visit_lines as resprain_lines
from store.care.run_note import planned_lines, ran_lines, ran_since
from store.care.safety_note import visit_lines
from store.care.stages import StageStanding, coming_stage, decisions_of, reached_last, stage_standing
from store.care.standing import Standing, standing
from store.care.statements import Section
from store.entry.numbers import plain
from store.knowledge.planned import StageDecision
from store.knowledge.running import Ladder
from store.knowledge.words import Person, Reading, Visit
from store.reckon.threshold import LineVerdict

EARLIER = "Later visits have followed: what stood then is not worked out again."


class Facts(NamedTuple):
    """What a draft is made of. `held` and `stage` are None where they would tell of another day than the visit's:
    in a visit of no episode, and in one that later ones have followed. `stage` is None too in visits after the one
    in which the last stage was decided on."""

    visit: Visit
    person: Person
    past: PastVisit | None
    held: Standing | None
    stage: StageStanding | None
    decided: tuple[StageDecision, ...]
    coming: str
    handed: tuple[str, ...] = ()
    screened: tuple[str, ...] = ()
    resprained: tuple[str, ...] = ()
    home_differs: str = ""
    ran: tuple[str, ...] = ()
    to_run: tuple[str, ...] = ()
    ladder: Ladder | None = None


def facts(care: Care, visit: Visit) -> Facts:
    """All that the note of a visit rests on, read now, without what is blind."""
    person = care.person(visit.person)
    if visit.episode is None:
        return Facts(visit, person, None, None, None, (), coming_words(care, person.id))
    episode = care.episode(visit.episode)
    counted = visits_that_count(care, episode, 1)
    newest = not counted or counted[0].id == visit.id or counted[0].started < visit.started
    held = standing(care, episode.id) if newest else None
    last = reached_last(care, episode.id)
    wanted = held is not None and (last is None or last.decided.on >= visit.started.on)
    stage = (
        stage_standing(care, held, coming_stage(care, episode.id), dated=False)
        if held is not None and wanted
        else None
    )
    decided = tuple(one for one in decisions_of(care, episode.id) if one.decided.on == visit.started.on)
    handed, since = handed_out(care, episode.id), ran_since(care, visit)
    return Facts(
        visit=visit,
        person=person,
        past=past_visit(care, visit, episode),
        held=held,
        stage=stage,
        decided=decided,
        coming=coming_words(care, person.id) if newest else "",
        handed=tuple(line for one in handed if one.programme.visit == visit.id for line in programme_lines(one)),
        screened=tuple(visit_lines(care, visit)),
        home_differs=differing(handed, visit),
        resprained=tuple(resprain_lines(care, visit)),
        ran=tuple(ran_lines(since)) if since is not None else (),
        to_run=tuple(planned_lines(since)) if since is not None and newest else (),
        ladder=since.held.ladder if since is not None else None,
    )


def sections(care: Care, known: Facts) -> dict[str, str]:
    """The four sections as drafted: lines of plain text, left before right."""
    return {
        "subjective": _text(_subjective(known), "nothing said"),
        "objective": _text(_objective(known), "nothing measured, nothing timed"),
        "assessment": _text(_assessment(care, known), "not assessed"),
        "plan": _text(_plan(known), "nothing planned"),
    }


def _text(lines: Iterable[str], nothing: str) -> str:
    return "\n".join(lines) or nothing


# subjective


def _subjective(known: Facts) -> Iterable[str]:
    if known.past is None:
        return
    for statement in sections_of(known.past)[0].statements:
        yield f"{statement.about}: {statement.says}" if statement.about else statement.says
    episode = known.held.episode if known.held is not None else None
    if known.home_differs:
        yield f"home programme, {known.home_differs}"
    yield from known.ran
    yield from known.resprained
    yield from known.screened
    if episode is not None and episode.goal:
        yield f"goal: {visible(episode.goal)}{f', {day_text(episode.goal_on)}' if episode.goal_on else ''}"


# objective


def _objective(known: Facts) -> Iterable[str]:
    if known.past is None:
        return
    _, measured, timed = sections_of(known.past)
    by_name = {name: list(group) for name, group in groupby(known.past.pairs, key=lambda pair: pair.measure.name)}
    for name, says in _joined(measured):
        pairs = by_name.get(name, [])
        how = "; ".join(_how(pairs)) if pairs and not any(pair.hidden for pair in pairs) else ""
        yield f"{name}: {says}{f' ({how})' if how else ''}" if name else says
    if any(section_says != "nothing timed" for _, section_says in _joined(timed)):
        for name, says in _joined(timed):
            yield f"{name}: {says}"


def _joined(section: Section) -> list[tuple[str, str]]:
    """What each thing came to in one line, what follows it without a name put behind it."""
    found: list[tuple[str, str]] = []
    for one in section.statements:
        if one.about or not found:
            found.append((one.about, one.says))
        else:
            found[-1] = (found[-1][0], f"{found[-1][1]}; {one.says}")
    return found


def _how(pairs: list[Pair]) -> Iterable[str]:
    """How it was taken: the protocol, the trials by side and moment, and the error a change is held against."""
    measure = pairs[0].measure
    if measure.protocol:
        yield f"method {measure.protocol.replace('_', ' ')}"
    for word, taken in (("", "before"), ("re-test ", "after")):
        trials = [_trials(getattr(pair, taken)) for pair in pairs if getattr(pair, taken) is not None]
        if any(trials):
            yield f"{word}trials {', '.join(each for each in trials if each)}"
    mdc = next((pair.change.mdc for pair in pairs if pair.change is not None and pair.change.mdc), None)
    if mdc is not None:
        yield f"MDC within a visit {with_unit(rough(mdc), measure)}"


def _trials(reading: Reading) -> str:
    if len(reading.trials) < 2:
        return ""
    return f"{reading.side or ''} {' '.join(plain(trial) for trial in reading.trials)}".strip()


# assessment


def _assessment(care: Care, known: Facts) -> Iterable[str]:
    held = known.held
    if held is None:
        if known.past is not None:
            yield from _retests(known.past)
            yield EARLIER
        return
    episode = held.episode
    graded = f"grade {episode.grade}" if episode.grade else "not yet graded"
    since = known.past.week if known.past is not None else held.week
    week = f", week {since}" if since else ""
    phase = f", healing phase {held.phase}" if held.phase else ""
    yield f"{episode.side} ankle: {visible(episode.structure)}, {graded}{week}{phase}"
    for one in held.measures:
        if one.hidden or not one.measured:
            continue
        gap = f"; the injured {one.injured} is {gap_text(one)}" if one.gap is not None else ""
        change = f"; since the visit before {change_text(one.change, one.measure)}" if one.change else ""
        if gap or change or one.since_first is not None:
            yield f"{one.measure.name}: {since_first_text(one)}{change}{gap}"
    yield from _retests(known.past)
    for one in held.measures:
        told = foresee_flat(care, held, one.measure.id) if not one.hidden else None
        words = flat_text(told, one.measure) if told is not None else ""
        if words:
            yield f"{one.measure.name} {words}"
    if known.stage is not None:
        yield f"criteria of {count_text(known.stage)}; {ADVICE}"
    if held.cautions:
        yield f"caution: {', '.join(held.cautions)}"


def _retests(past: PastVisit | None) -> Iterable[str]:
    for pair in past.pairs if past is not None else ():
        if pair.change is not None and not pair.hidden:
            side = f" {pair.side}" if pair.side else ""
            yield f"response to treatment, {pair.measure.name}{side}: {change_text(pair.change, pair.measure)}"


# plan


def _plan(known: Facts) -> Iterable[str]:
    yield from known.handed
    yield from known.to_run
    for one in known.decided:
        by = f", by {visible(one.examiner)}" if one.examiner else ""
        yield f"decided: ready for {one.stage}{by}; {visible(one.reason)}"
    if known.stage is not None and not known.decided:
        yield "no decision on a stage today"
    yield f"next visit: {known.coming}" if known.coming else "next visit: not planned yet"
    if known.stage is not None:
        lacking = [one for one in known.stage.criteria if not one.answer.verdict.met]
        unmeasured = {LineVerdict.NOT_MEASURED, LineVerdict.STALE}
        for word, wanted in (("short", False), ("to be measured", True)):
            names = [one.measure for one in lacking if (one.answer.verdict in unmeasured) is wanted]
            if names:
                yield f"before {known.stage.stage}, {word}: {', '.join(dict.fromkeys(names))}"
