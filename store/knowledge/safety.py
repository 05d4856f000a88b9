"""The safety screen from its table: what is asked, what each rule is called and leaves out, and the clot forms.

Every question is put so that yes is the sign to mind. What was not answered is unknown, and never a no.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from store.knowledge.fields import KnowledgeError, Row
from store.knowledge.figures import figure, lines, provenance
from store.knowledge.kinds import CutOff, Figure
from store.knowledge.words import Mark, Side

FILE = "safety.toml"

LINES = (
    "zone_cm",
    "valid_days",
    "adult_years",
    "child_years",
    "refill_s",
    "no_weight_days",
    "talus_weeks",
    "high_days",
    "high_days_per_cm",
    "high_days_within",
)
RULES = (
    "emergency",
    "ankle",
    "foot",
    "beside",
    "syndesmosis",
    "tendon",
    "clot",
    "nerve",
    "behind",
    "same_day",
)
AT_LEAST, MORE_THAN = "at least", "more than"


class Question(NamedTuple):
    """One thing that is asked. With a `unit` its answer is a number, else yes or no.

    `sided` asks it of both feet; `none` lets a number be answered with none; `when` names the question after whose
    yes it is put, `young` keeps it for those under the adult age; `again` shows it when asked as a group.
    """

    id: str
    group: str
    asks: str
    unit: str = ""
    high: float = 0.0
    sided: bool = False
    none: bool = False
    when: str = ""
    young: bool = False
    again: bool = False

    @property
    def keys(self) -> tuple[str, ...]:
        """The names of its answers: its id, or one a side: "no_pulse.left"."""
        return tuple(f"{self.id}.{side}" for side in Side) if self.sided else (self.id,)


class Group(NamedTuple):
    """Questions that are asked together, under one name."""

    id: str
    name: str
    questions: tuple[Question, ...]


class SafetyRule(NamedTuple):
    """What a rule is called, what it does not cover, and its figures."""

    id: str
    name: str
    misses: tuple[str, ...]
    mark: Mark
    source: str
    figures: tuple[CutOff, ...]


class ClotForm(NamedTuple):
    """One form of the clot score. `bands` are words with the score from which each holds, the highest first."""

    id: str
    name: str
    previous: bool  # a clot before counts
    surgery_weeks: float
    bed_days: float
    bed: str  # at least | more than
    calf_cm: float
    calf: str  # at least | more than
    bands: tuple[tuple[str, float], ...]
    mark: Mark
    source: str

    def band(self, score: float) -> str:
        """The word for a score."""
        return next((word for word, least in self.bands if score >= least), self.bands[-1][0])


class Safety(NamedTuple):
    """All of the screen: groups in the order in which they are asked, rules, lines and forms by id.

    `clot_form` is the form of the clot score that is used; `clot_form_set` says that this clinic chose it.
    """

    groups: tuple[Group, ...]
    rules: Mapping[str, SafetyRule]
    lines: Mapping[str, Figure]
    forms: Mapping[str, ClotForm]
    clot_form: str
    clot_form_set: bool = False

    @property
    def questions(self) -> Iterator[Question]:
        """Every question, in the order in which they are asked."""
        return (question for group in self.groups for question in group.questions)

    @property
    def again(self) -> tuple[Question, ...]:
        """Those on show when they are asked as a group."""
        return tuple(question for question in self.questions if question.again)

    @property
    def form(self) -> ClotForm:
        """The form of the clot score that is used."""
        return self.forms[self.clot_form]


def safety(data: Mapping[str, Any]) -> Safety:
    """The screen from its table. Raises KnowledgeError."""
    row = Row(FILE, "safety", data)
    groups = tuple(_group(item) for item in row.rows("group"))
    found = Safety(
        groups=groups,
        rules=MappingProxyType({key: _rule(key, row.row("rules").row(key)) for key in RULES}),
        lines=MappingProxyType({key: figure(row.row("lines").row(key)) for key in LINES}),
        forms=MappingProxyType({key: _form(key, row.row("forms").row(key)) for key in data.get("forms", {})}),
        clot_form=row.one_of("clot_form", data.get("forms", {})),
    )
    row.done()
    for name, known in (("rules", RULES), ("lines", LINES)):
        for key in data[name]:
            if key not in known:
                raise KnowledgeError(f"{FILE}: [{name}] {key}: unknown; known are {', '.join(known)}")
    _check_questions(found)
    return found


def sources_of(screen: Safety) -> Iterator[str]:
    """Every source that the screen names."""
    yield from (figure.source for figure in screen.lines.values())
    yield from (form.source for form in screen.forms.values())
    for rule in screen.rules.values():
        yield rule.source
        yield from (line.figure.source for line in rule.figures)


def _group(row: Row) -> Group:
    name = row.word("id")
    made = Group(name, row.text("name"), tuple(_question(name, item) for item in row.rows("question")))
    row.done()
    if not made.questions:
        raise row.fault("question", "missing: a group asks something")
    return made


def _question(group: str, row: Row) -> Question:
    made = Question(
        id=row.word("id"),
        group=group,
        asks=row.text("asks"),
        unit=row.text("unit", ""),
        high=row.number("high", 0.0),
        sided=row.flag("sided", False),
        none=row.flag("none", False),
        when=row.text("when", ""),
        young=row.flag("young", False),
        again=row.flag("again", False),
    )
    row.done()
    if not made.id:
        raise row.fault("id", "missing")
    if bool(made.unit) != (made.high > 0):
        raise row.fault("high", "a number has a unit and the most it can be, a yes or no has neither")
    if made.none and not made.unit:
        raise row.fault("none", "only a number can be none")
    return made


def _rule(key: str, row: Row) -> SafetyRule:
    mark, source = provenance(row)
    made = SafetyRule(key, row.text("name"), row.texts("misses"), mark, source, lines(row, "figures"))
    row.done()
    if not made.misses:
        raise row.fault("misses", "missing: a rule says what it does not cover")
    return made


def _form(key: str, row: Row) -> ClotForm:
    mark, source = provenance(row)
    made = ClotForm(
        id=key,
        name=row.text("name"),
        previous=row.flag("previous"),
        surgery_weeks=row.number("surgery_weeks"),
        bed_days=row.number("bed_days"),
        bed=row.one_of("bed", (AT_LEAST, MORE_THAN)),
        calf_cm=row.number("calf_cm"),
        calf=row.one_of("calf", (AT_LEAST, MORE_THAN)),
        bands=tuple((item.text("word"), item.number("least")) for item in row.listed("bands", ("word", "least"))),
        mark=mark,
        source=source,
    )
    row.done()
    least = [line for _, line in made.bands]
    if len(least) < 2 or least != sorted(least, reverse=True):
        raise row.fault("bands", "two bands or more are wanted, the highest first")
    return made


def _check_questions(found: Safety) -> None:
    seen: set[str] = set()
    for question in found.questions:
        where = f"{FILE}: [{question.group}] {question.id}"
        if question.id in seen:
            raise KnowledgeError(f"{where}: the id is used twice")
        if question.when and question.when not in seen:
            raise KnowledgeError(f"{where}: when: {question.when!r} is not asked before it")
        seen.add(question.id)
