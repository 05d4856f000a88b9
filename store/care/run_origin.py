"""Where the figures of running come from: ladder, rule, the check of single runs, each with mark and source."""

from __future__ import annotations

from store.care.care import Care
from store.care.run_goal import HOW
from store.care.run_words import NOT_LAW
from store.care.running import RunStanding
from store.care.statements import Section, Statement
from store.knowledge.kinds import CutOff, Figure
from store.knowledge.words import Mark

_NAMES = {
    "clean_to_rise": "clean sessions",
    "most_pain": "most pain, clean",
    "bad_pain": "too much pain",
    "rungs_down": "rungs down",
    "days_off": "days off",
    "rest_days": "days between",
    "a_week": "sessions a week",
}


def run_origin(care: Care, held: RunStanding) -> tuple[Section, ...]:
    """All of it, of the ladder in force or else of the one that a new plan takes."""
    table = held.table
    ladder = held.ladder or table.ladders[table.ladder]
    rungs = tuple(
        Statement(
            "rungs, run:walk" if rung.number == 1 else "",
            f"{rung.number}: {rung.words}{f', {rung.says}' if rung.says else ''}",
        )
        for rung in ladder.rungs
    )
    others = ", ".join(f"{one.id} ({one.name})" for one in table.ladders.values() if one.id != ladder.id)
    about = Statement("ladder", f"{ladder.name}: {ladder.says}", _known(care, ladder.mark, ladder.source))
    rule = tuple(
        _figure(care, _NAMES[name], figure) for name, figure in zip(ladder.rule._fields, ladder.rule, strict=True)
    )
    single = table.single_run
    check = (
        _figure(care, "at most", single.share, " %"),
        _figure(care, "days before", single.days),
        *(_line(care, "injury, times as often", one) for one in single.bands),
        _figure(care, "first long run", table.first_km, " km"),
        Statement("", NOT_LAW),
    )
    weekly = tuple(_line(care, "per cent a week", one) for one in table.weekly)
    told = tuple(Statement("", one.says, _known(care, one.mark, one.source)) for one in table.cautions)
    return (
        Section("the ladder", (about, *rungs, Statement("others", others))),
        Section("the rule", rule),
        Section("one run against the longest before it, in km, once it is run in one piece", check),
        Section("week against week, for information: no relation with injury was shown", weekly),
        Section("the goal's day", (Statement("", HOW),)),
        Section("to keep in mind", told),
    )


def _figure(care: Care, about: str, figure: Figure, unit: str = "") -> Statement:
    known = _known(care, figure.mark, figure.source)
    return Statement(about, f"{figure.value:g}{unit}{f'; {figure.says}' if figure.says else ''}", known)


def _line(care: Care, about: str, line: CutOff) -> Statement:
    known = _known(care, line.figure.mark, line.figure.source)
    return Statement(about, f"{line.figure.value:g}: {line.says}", known)


def _known(care: Care, mark: Mark, source: str) -> str:
    return f"{mark}; {care.knowledge.sources[source].text if source else 'no source'}"
