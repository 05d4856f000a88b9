"""Measures and activities that a clinic adds, in the shapes of the program's own tables. Shown as theirs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from store.knowledge import activities as _activities
from store.knowledge import cross
from store.knowledge import measures as _measures
from store.knowledge.fields import SNAKE, KnowledgeError
from store.knowledge.kinds import Activity, CutOff, ErrorFamily, Figure, Measure, Source
from store.knowledge.settings_draft import Draft, row_of
from store.knowledge.shelf import Laid
from store.knowledge.words import Mark

Called = tuple[str, str, tuple[str, ...]]
"""Id, name and short forms."""

PHASE = "of this clinic"
"""Where an activity that was added stands among those to choose from."""


def read_added(draft: Draft) -> None:
    """Read what is added, and leave out what clashes with something or names what is not there."""
    _sources(draft)
    for key, table in draft.table("measures").items():
        with draft.entry("measures", key):
            draft.measures[key] = _measure(draft, key, table)
    for key, table in draft.table("activities").items():
        with draft.entry("activities", key):
            draft.activities[key] = _activity(draft, key, table)
    while _left_out(draft):
        pass
    for one in draft.measures.values():
        draft.changed(("measures", one.id), "not there", f"{one.long_name}, added")
    for each in draft.activities.values():
        draft.changed(("activities", each.id), "not there", f"{each.name}, added")


def _sources(draft: Draft) -> None:
    for key in draft.table("sources"):
        with draft.entry("sources", key):
            if key in draft.known.sources or not SNAKE.fullmatch(key):
                raise KnowledgeError(
                    "", says="it names a source already, or is not lower snake case: call it otherwise"
                )
            text = row_of(("sources",), draft.data["sources"]).text(key)
            draft.sources[key] = Source(key, text)
            draft.changed(("sources", key), "not there", text)


# one thing


def _measure(draft: Draft, key: str, table: Any) -> Measure:  # noqa: ANN401 - whatever stands in the file
    _is_free(key, draft.known.measures, "measure")
    found = _measures.measure(key, row_of(("measures", key), _marked(table)))
    _free_words(found, draft.known.measures_called, draft.measures, "measures")
    return _theirs(found)


def _activity(draft: Draft, key: str, table: Any) -> Activity:  # noqa: ANN401 - whatever stands in the file
    _is_free(key, draft.known.activities, "activity")
    marked = _marked(table)
    if isinstance(marked, dict):
        marked = {"mark": str(Mark.CLINIC), **marked}
        if isinstance(marked.get("dose"), dict):
            marked["dose"] = {"mark": str(Mark.CLINIC), **marked["dose"]}
    found = _activities.activity(key, row_of(("activities", key), marked))
    _free_words(found, draft.known.activities_called, draft.activities, "activities")
    dose = found.dose._replace(mark=Mark.CLINIC, says=_given(found.dose.mark, found.dose.says))
    says = _given(found.mark, "")
    return found._replace(
        dose=dose, mark=Mark.CLINIC, phase=PHASE, added=True, shows=f"{found.shows}{f' ({says})' if says else ''}"
    )


def _is_free(key: str, known: Mapping[str, object], what: str) -> None:
    if key in known:
        raise KnowledgeError("", says=f"the program has {_a(what)} {key} already: give yours another id")


def _a(what: str) -> str:
    return f"{'an' if what[0] in 'aeiou' else 'a'} {what}"


def _free_words(
    new: Measure | Activity, shipped: Iterable[Called], own: Mapping[str, Measure | Activity], file: str
) -> None:
    """No word that finds what is added finds something else."""
    called = [*shipped, *((each.id, each.name, each.short_forms) for each in own.values())]
    owner = {word: key for key, _, words in called for word in (key, *words)}
    names = {name.casefold(): key for key, name, _ in called}
    for word in new.short_forms:
        where = {"table": f"{file}.{new.id}", "key": "short_forms"}
        if not SNAKE.fullmatch(word):
            raise KnowledgeError("", says=f"{word!r} is not lower snake case", **where)
        if word in owner or word == new.id:
            raise KnowledgeError("", says=f"{word!r} already finds {owner.get(word, new.id)}", **where)
        if file == _measures.FOLDER and word in _measures.RESERVED:
            raise KnowledgeError("", says=f"{word!r} means something else on the line of entry", **where)
    if new.id in owner:
        raise KnowledgeError("", says=f"{new.id} already finds {owner[new.id]}: give yours another id")
    if new.name.casefold() in names:
        says = f"{names[new.name.casefold()]} is called so already"
        raise KnowledgeError("", table=f"{file}.{new.id}", key="name", says=says)


# marks


def _marked(data: Any) -> Any:  # noqa: ANN401 - whatever stands in the file
    """Each figure that is given without a mark is the clinic's."""
    if isinstance(data, list):
        return [_marked(each) for each in data]
    if not isinstance(data, dict):
        return data
    inner = {key: _marked(value) for key, value in data.items()}
    return {"mark": str(Mark.CLINIC), **inner} if "value" in inner or "items" in inner else inner


def _given(mark: Mark, says: str) -> str:
    """What the clinic says of where a figure comes from: nobody but they have looked."""
    given = "" if mark is Mark.CLINIC else f"given there as {mark}"
    return "; ".join(part for part in (given, says) if part)


def _theirs(found: Measure) -> Measure:
    """The measure with every figure under the clinic's mark, whatever mark they gave it."""
    scoring = found.scoring
    if scoring is not None:
        scoring = scoring._replace(mark=Mark.CLINIC, says=_given(scoring.mark, scoring.says))
    return found._replace(
        errors=tuple(_family(each) for each in found.errors),
        importance=_figure(found.importance),
        fresh_days=_figure(found.fresh_days),
        cut_offs=_lines(found.cut_offs),
        healthy=_lines(found.healthy),
        protocol_figures=_lines(found.protocol_figures),
        scoring=scoring,
        added=True,
    )


def _family(found: ErrorFamily) -> ErrorFamily:
    return found._replace(
        sem_within=_figure(found.sem_within),
        sem_between=_figure(found.sem_between),
        mdc_within=_figure(found.mdc_within),
        mdc_between=_figure(found.mdc_between),
        gap_mdc=_figure(found.gap_mdc),
    )


def _lines(found: Iterable[CutOff]) -> tuple[CutOff, ...]:
    return tuple(line._replace(figure=_figure_there(line.figure)) for line in found)


def _figure(found: Figure | None) -> Figure | None:
    return _figure_there(found) if found is not None else None


def _figure_there(found: Figure) -> Figure:
    says = _given(found.mark, "; ".join(part for part in (found.formula, found.says) if part))
    return Figure(found.value, Mark.CLINIC, found.source, "", says)


# what names what


@dataclass(frozen=True, slots=True)
class _Known:
    """All that there would be, the clinic's own among it."""

    measures: Mapping[str, Measure]
    activities: Mapping[str, Activity]
    cautions: Mapping[str, object]
    sources: Mapping[str, object]


def _left_out(draft: Draft) -> bool:
    """Leave out each thing that names what is not there; whether there was one, so that others may name it."""
    known = _Known(
        Laid(draft.known.measures, draft.measures),
        Laid(draft.known.activities, draft.activities),
        draft.known.cautions if draft.measures or draft.activities else {},
        {**draft.known.sources, **draft.sources} if draft.measures or draft.activities else {},
    )
    before = len(draft.measures) + len(draft.activities)
    for key, measure in list(draft.measures.items()):
        with draft.entry("measures", key):
            del draft.measures[key]
            _check_measure(measure, known)
            draft.measures[key] = measure
    for key, activity in list(draft.activities.items()):
        with draft.entry("activities", key):
            del draft.activities[key]
            _check_activity(activity, known)
            draft.activities[key] = activity
    return len(draft.measures) + len(draft.activities) < before


def _check_measure(measure: Measure, known: _Known) -> None:
    sources = [figure.source for figure in cross.figures_of(measure)]
    sources += [measure.scoring.source] if measure.scoring else []
    _there(sources, known.sources, "the sources")
    _there(measure.cautions, known.cautions, "the cautions")
    cross.check_bout(measure, known.activities)
    cross.check_parts(measure, known.measures)


def _check_activity(activity: Activity, known: _Known) -> None:
    _there((activity.source, activity.dose.source), known.sources, "the sources")
    _there(activity.cautions, known.cautions, "the cautions")
    cross.check_measure(activity, known.measures)


def _there(ids: Iterable[str], known: Mapping[str, object], what: str) -> None:
    for one in _missing(ids, known):
        raise KnowledgeError("", says=f"{one!r} is not one of {what}")


def _missing(ids: Iterable[str], known: Mapping[str, object]) -> Iterator[str]:
    return (one for one in ids if one and one not in known)
