"""The tables of the trade, each read on first use: a list of people shall not pay for what it does not show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache, cached_property
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.settings import NOTHING_SET, Settings

if TYPE_CHECKING:
    from store.knowledge.criteria import Stage, StageCriteria
    from store.knowledge.home import Home
    from store.knowledge.kinds import Activity, Caution, Figure, Measure, Source
    from store.knowledge.practice import Practice
    from store.knowledge.running import Running
    from store.knowledge.safety import Safety
    from store.knowledge.shelf import Shelf
    from store.knowledge.sideline import Sideline
    from store.knowledge.visit import Visits
    from store.knowledge.words import Step

# What turns the tables into objects is imported where a table is read: a list of people reads none, and the first
# row on the screen would wait for it.

__all__ = ["Knowledge", "KnowledgeError", "load"]

_T = TypeVar("_T")


def load(folder: Path | None = None, settings: Settings = NOTHING_SET) -> Knowledge:
    """What the trade knows, from the program's own tables or those of another folder, under a clinic's settings.
    Nothing is read yet.

    The first use of a table reads it and raises KnowledgeError, which names file, table and key, when it is wrong.
    """
    if folder is None:
        return _shipped() if settings == NOTHING_SET else Knowledge(_OWN_TABLES, settings)
    return Knowledge(folder, settings)


# By the module's own place: importlib.resources finds the same files, and costs 5 ms of a short start.
_OWN_TABLES = Path(__file__).parent


@cache
def _shipped() -> Knowledge:
    return Knowledge(_OWN_TABLES)


class Knowledge:
    """The tables as frozen objects by id, in the order of the file, with a clinic's settings laid over them."""

    def __init__(self, folder: Path, settings: Settings = NOTHING_SET) -> None:
        self._folder = folder
        self._settings = settings

    @cached_property
    def _measure_shelf(self) -> Shelf[Measure]:
        from store.knowledge import measures as _measures
        from store.knowledge.shelf import Shelf

        return Shelf(self._folder / _measures.FOLDER, self._measure)

    @cached_property
    def _activity_shelf(self) -> Shelf[Activity]:
        from store.knowledge import activities as _activities
        from store.knowledge.shelf import Shelf

        return Shelf(self._folder / _activities.FOLDER, self._activity)

    @property
    def measures_called(self) -> Iterator[tuple[str, str, tuple[str, ...]]]:
        """Id, name and short forms of every measure that the program has, the clinic's not among them."""
        return self._measure_shelf.called()

    @property
    def activities_called(self) -> Iterator[tuple[str, str, tuple[str, ...]]]:
        """The same of the activities."""
        return self._activity_shelf.called()

    @cached_property
    def measures(self) -> Mapping[str, Measure]:
        """What can be measured, each read when it is first asked for."""
        shelf, own = self._measure_shelf, self._settings.measures
        return _laid(shelf, own) if own else shelf

    @cached_property
    def activities(self) -> Mapping[str, Activity]:
        """Techniques and exercises, each read when it is first asked for."""
        shelf, own = self._activity_shelf, self._settings.activities
        return _laid(shelf, own) if own else shelf

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """Where figures come from."""
        from store.knowledge import cautions as _cautions

        shipped = _cautions.sources(self._read(_cautions.SOURCES_FILE))
        return MappingProxyType({**shipped, **self._settings.sources})

    @cached_property
    def cautions(self) -> Mapping[str, Caution]:
        """The usual cautions."""
        from store.knowledge import cautions as _cautions

        found = _cautions.cautions(self._read(_cautions.FILE))
        for caution in found.values():
            self._check_sources(_cautions.FILE, caution.id, (caution.source,))
        return MappingProxyType(found)

    @cached_property
    def criteria(self) -> Mapping[Stage, StageCriteria]:
        """What an ankle wants before each stage, in the order of the stages."""
        from store.knowledge import criteria as _criteria

        found = _criteria.criteria(self._read(_criteria.FILE))
        for stage in found.values():
            self._check_sources(_criteria.FILE, stage.stage, _criteria.sources_of(stage))
        return MappingProxyType({**found, **self._settings.criteria})

    @cached_property
    def most_pain(self) -> Mapping[str, Figure]:
        """The most pain through which a bout runs on, by what is done (`pain.what_for` a kind of bout)."""
        from store.knowledge import pain as _pain

        found = _pain.most_pains(self._read(_pain.FILE))
        self._check_sources(_pain.FILE, "pain", [figure.source for figure in found.values()])
        return MappingProxyType(found)

    @cached_property
    def safety(self) -> Safety:
        """What is asked of a sprained ankle before all else, and by which rules."""
        from store.knowledge import safety as _safety

        found = _safety.safety(self._read(_safety.FILE))
        self._check_sources(_safety.FILE, "safety", _safety.sources_of(found))
        own = self._settings.clot_form
        return found if own == NOTHING_SET.clot_form else found._replace(clot_form=own, clot_form_set=True)

    @cached_property
    def running(self) -> Running:
        """Ladders of walking and running, the rule by which they are climbed, the check of single runs."""
        from store.knowledge import running as _running

        found = _running.running(self._read(_running.FILE))
        self._check_sources(_running.FILE, "running", _running.sources_of(found))
        own = self._settings
        return _running.with_own(found, own.ladder, own.run_rule) if own.ladder or own.run_rule else found

    @cached_property
    def practice(self) -> Practice:
        """Assessments in order with their budgets, and paper cases."""
        from store.knowledge import practice as _practice  # of no use to a list of people

        found = _practice.practice(self._read(_practice.FILE))
        self._check_sources(_practice.FILE, "practice", _practice.sources_of(found))
        return found

    @cached_property
    def sideline(self) -> Sideline:
        """What stops a player at the sideline, and what is done then."""
        from store.knowledge import sideline as _sideline  # of no use to a list of people

        found = _sideline.sideline(self._read(_sideline.FILE))
        self._check_sources(_sideline.FILE, "sideline", _sideline.sources_of(found))
        return found

    @cached_property
    def home(self) -> Home:
        """What is done at home: each activity in plain words, and the rules of the sheet."""
        from store.knowledge import home as _home

        found = _home.home(self._read(_home.FILE))
        self._check_sources(_home.FILE, "home", _home.sources_of(found))
        return found

    @property
    def visit_plan(self) -> tuple[Step, ...]:
        """The steps of the standard visit."""
        return self._settings.plan or self._visit.steps

    @property
    def first_plan(self) -> tuple[Step, ...]:
        """The steps of a visit in the first days."""
        return self._settings.first_plan or self._visit.first_steps

    @property
    def first_days(self) -> Figure:
        """Days since the injury, its own day being 0, up to which a visit takes the plan of the first days."""
        return self._visit.first_days

    @property
    def visit_slot(self) -> Figure:
        """The standard slot in minutes; its mark holds for the minutes of every step."""
        shipped, own = self._visit.slot, self._settings.slot_min
        if own == NOTHING_SET.slot_min:
            return shipped
        from store.knowledge.kinds import Figure
        from store.knowledge.words import Mark

        return Figure(own, Mark.CLINIC, says=f"the slot in minutes, by default {shipped.value:g}")

    def find_measure(self, word: str) -> Measure | None:
        """The measure with this id, short form or name, in any case, hyphens and blanks taken for underscores."""
        key = _key(word)
        return self.measures[key] if key in self.measures else self._measure_words.get(key)

    def find_activity(self, word: str) -> Activity | None:
        """The activity with this id or short form, in any case, hyphens taken for underscores."""
        key = _key(word)
        return self.activities[key] if key in self.activities else self._activity_words.get(key)

    def check(self) -> None:
        """Read every table and hold them against one another. Raises KnowledgeError."""
        from store.knowledge import activities as _activities
        from store.knowledge import criteria as _criteria
        from store.knowledge import cross
        from store.knowledge import measures as _measures

        self._check_sources(_measures.FOLDER, "domains", _measures.DOMAINS.values())
        _measures.check_short_forms(_measures.FOLDER, self.measures, _measures.RESERVED)
        for measure in self.measures.values():
            self._check_cautions(_measures.FOLDER, measure)
            cross.check_bout(measure, self.activities)
            cross.check_parts(measure, self.measures)
        _measures.check_short_forms(_activities.FOLDER, self.activities, frozenset())
        for activity in self.activities.values():
            self._check_cautions(_activities.FOLDER, activity)
            cross.check_measure(activity, self.measures)
        cross.check_known("home.toml: words of", self.home.words, self.activities, _activities.FOLDER)
        _ = self.most_pain, self.safety, self.running, self.practice, self.sideline  # reading them checks them
        for step in (*self.visit_plan, *self.first_plan):
            cross.check_step(step, self.measures, self.activities)
        for stage in self.criteria.values():
            _criteria.check(stage, self.measures)

    def _measure(self, key: str, row: Row) -> Measure:
        from store.knowledge import cross
        from store.knowledge import measures as _measures

        measure = _measures.measure(key, row)
        sources = [figure.source for figure in cross.figures_of(measure)]
        sources += [measure.scoring.source] if measure.scoring else []
        self._check_sources(_measures.FOLDER, key, sources)
        return measure

    def _activity(self, key: str, row: Row) -> Activity:
        from store.knowledge import activities as _activities

        activity = _activities.activity(key, row)
        self._check_sources(_activities.FOLDER, key, (activity.source, activity.dose.source))
        return activity

    @cached_property
    def _visit(self) -> Visits:
        from store.knowledge import visit as _visit

        found = _visit.visits(self._read(_visit.FILE))
        for key, one in (("slot", found.slot), ("first_days", found.first_days)):
            self._check_sources(_visit.FILE, key, (one.source,))
        return found

    @cached_property
    def _measure_words(self) -> dict[str, Measure]:
        from store.knowledge.names import by_name

        short = {word: item for item in self.measures.values() for word in (item.id, *item.short_forms)}
        return {**by_name(self.measures.values()), **short}

    @cached_property
    def _activity_words(self) -> dict[str, Activity]:
        return {word: item for item in self.activities.values() for word in (item.id, *item.short_forms)}

    def _read(self, file: str) -> dict[str, Any]:
        from store.knowledge.shelf import read_text, read_toml

        return read_toml(file, read_text(self._folder / file, file))

    def _check_sources(self, file: str, table: str, ids: Iterable[str]) -> None:
        from store.knowledge import cautions as _cautions
        from store.knowledge.cross import check_known

        check_known(f"{file}: [{table}] source", ids, self.sources, _cautions.SOURCES_FILE)

    def _check_cautions(self, file: str, thing: Measure | Activity) -> None:
        from store.knowledge import cautions as _cautions
        from store.knowledge.cross import check_known

        check_known(f"{file}: [{thing.id}] cautions", thing.cautions, self.cautions, _cautions.FILE)


def _laid(shelf: Shelf[_T], own: Mapping[str, _T]) -> Mapping[str, _T]:
    from store.knowledge.shelf import Laid

    return Laid(shelf, own)


def _key(word: str) -> str:
    return word.strip().lower().replace("-", "_")
