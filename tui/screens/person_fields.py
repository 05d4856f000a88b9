"""The fields of the form for a person and an episode: what each asks, checks and hands on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date

from store.care.care import Care
from store.care.correcting import form_of
from store.care.faults import CareFault
from store.care.people import EpisodeForm, check_episode, clean_born, clean_label, clean_words
from store.knowledge.words import Episode, Grade, Person, Side
from tui.widgets.choice_field import ChoiceField
from tui.widgets.day_text import Towards
from tui.widgets.field import DayField, Field
from tui.widgets.side_field import SideField

Answer = ChoiceField[bool | None]
Line = Field | ChoiceField[bool | None] | ChoiceField[Grade | None] | SideField

_NOT_ASKED = ((None, "not asked"), (False, "no"), (True, "yes"))
_GRADES = ((None, "not yet"), (Grade.I, "I"), (Grade.II, "II"), (Grade.III, "III"))


def _said(check: Callable[[], object]) -> str | None:
    """The sentence with which care refuses, or None."""
    try:
        check()
    except CareFault as refused:
        return str(refused)
    return None


def whole(text: str) -> int | None:
    """A count as typed; None for an empty text. Raises CareFault."""
    if not text:
        return None
    if not text.isascii() or not text.isdigit():
        raise CareFault("type a number from 0 to 99")
    return int(text[:4])


_HELP = {
    "structure": "What is torn or stretched, such as lateral ligament or syndesmosis.",
    "brace": "What the ankle wears, and when, such as brace in training. Empty means not asked.",
    "goal": "What the person wants to do again, in their own words.",
    "sport": "What they do for sport; the last stage is meant for it. Empty means not asked.",
    "level": "How seriously: school, club, first team. Empty means not asked.",
}
"""Help for the fields of free words, by id."""


@dataclass(slots=True)
class PersonFields:
    """Every line of the form. `person` and `last` are set where somebody known gets another episode, `person` and
    `editing` where what was asked is put right.
    """

    care: Care
    label_start: str = ""
    person: Person | None = None
    last: Episode | None = None
    editing: Episode | None = None
    label: Field = field(init=False)
    born: Field = field(init=False)
    examiner: Field = field(init=False)
    side: SideField = field(init=False)
    structure: Field = field(init=False)
    grade: ChoiceField[Grade | None] = field(init=False)
    injured: DayField = field(init=False)
    brace: Field = field(init=False)
    goal: Field = field(init=False)
    goal_on: DayField = field(init=False)
    sport: Field = field(init=False)
    level: Field = field(init=False)
    sprains_left: Field = field(init=False)
    sprains_right: Field = field(init=False)
    anticoagulant: Answer = field(init=False)
    feeling: Answer = field(init=False)
    hypermobility: Answer = field(init=False)

    def __post_init__(self) -> None:
        """Make the fields. What was asked for the last episode need not be typed again."""
        today, start = self.care.clock.now().on, self._filled()
        old = self.person if self.editing is not None else None
        self.label = Field(
            "label", value=old.label if old else self.label_start, hint="initials will do", must=True, most=60,
            id="label",
            check=lambda text: _said(lambda: clean_label(text)),
            help_text="A short label or initials: no more than the job needs. Two people may have the same.",
        )  # fmt: skip
        self.born = Field(
            "born", value=(old.born or "") if old else "", hint="1995, or 1995-04-12", most=20, id="born",
            check=lambda text: _said(lambda: clean_born(text, today)),
            help_text="The year is enough. Under 18 the growth plates are a caution.",
        )  # fmt: skip
        self.examiner = Field(
            "examiner", hint="you; asked once", must=True, most=40, id="examiner",
            check=lambda text: _said(lambda: clean_words(text, "the examiner")),
            help_text="Who measures: initials or a name. It stands beside every reading.",
        )  # fmt: skip
        side = self.editing.side if self.editing else None
        self.side = SideField(
            "injured side", value=side, id="side", help_text="Which ankle. The other one is its comparison."
        )
        self.structure = self._words("structure", "structure", start.structure, must=True)
        self.grade = ChoiceField(
            "grade",
            _GRADES,
            value=start.grade,
            id="grade",
            help_text="Of a ligament sprain; not yet graded is fine.",
        )
        self.injured = DayField(
            "injured on", today, day=start.injured_on, hint="2 Nov, or -3d", id="injured",
            check=self._check_injured,
            help_text="The day it happened. Weeks are counted from it.",
        )  # fmt: skip
        self.brace = self._words("brace or tape", "brace", start.brace or "")
        self.goal = self._words("goal", "goal", start.goal or "", hint="a race, the stairs")
        self.goal_on = DayField(
            "goal's day", today, day=start.goal_on, towards=Towards.FUTURE, hint="14 Mar, or +8w", id="goal-on",
            check=self._check_goal, help_text="The day the goal is wanted by.",
        )  # fmt: skip
        self.sport = self._words("sport", "sport", start.sport or "")
        self.level = self._words("level", "level", start.level or "")
        self.sprains_left = self._count("sprains, left", "sprains-left", start.sprains_left)
        self.sprains_right = self._count("sprains, right", "sprains-right", start.sprains_right)
        self.anticoagulant = self._answer("anticoagulant", "anticoagulant", start.anticoagulant)
        self.feeling = self._answer("loss of feeling", "feeling", start.loss_of_feeling)
        self.hypermobility = self._answer("hypermobility", "hypermobility", start.hypermobility)

    def _filled(self) -> EpisodeForm:
        """What the form is filled with: the episode as it stands, or what is likely the same as last time."""
        if self.editing is not None:
            return form_of(self.editing)
        last = self.last
        if last is None:
            return EpisodeForm(Side.LEFT)
        return EpisodeForm(
            last.side,
            sport=last.sport,
            level=last.level,
            anticoagulant=last.anticoagulant,
            hypermobility=last.hypermobility,
        )

    def _words(self, label: str, id: str, value: str = "", *, hint: str = "", must: bool = False) -> Field:
        def check(text: str) -> str | None:
            return _said(lambda: clean_words(text, label))

        return Field(
            label, value=value, hint=hint, must=must, most=80, check=check, help_text=_HELP[id], id=id
        )  # fmt: skip

    def _count(self, label: str, id: str, value: int | None) -> Field:
        return Field(
            label, value="" if value is None else str(value), hint="before this one", most=6, id=id,
            check=lambda text: _said(lambda: self._check_count(label, whole(text))),
            help_text="How often this ankle was sprained before. Empty means not asked.",
        )  # fmt: skip

    def _answer(self, label: str, id: str, value: bool | None) -> Answer:
        return ChoiceField(label, _NOT_ASKED, value=value, id=id, help_text="Not asked is not the same as no.")

    # checks that hang on each other

    def _check_count(self, label: str, count: int | None) -> None:
        left = label.endswith("left")
        form = EpisodeForm(Side.LEFT, sprains_left=count if left else None, sprains_right=None if left else count)
        check_episode(form, None, self.care.clock.now().on)

    def _check_injured(self, day: date) -> str | None:
        form = EpisodeForm(Side.LEFT, injured_on=day)
        return _said(lambda: check_episode(form, self._born(), self.care.clock.now().on))

    def _check_goal(self, day: date) -> str | None:
        form = EpisodeForm(Side.LEFT, injured_on=self.injured.day, goal_on=day)
        return _said(lambda: check_episode(form, None, self.care.clock.now().on))

    def _born(self) -> str | None:
        if self.person is not None and self.editing is None:
            return self.person.born
        try:
            return clean_born(self.born.value, self.care.clock.now().on)
        except CareFault:
            return None  # said at its own field

    # all of them

    @property
    def columns(self) -> tuple[list[Line], list[Line]]:
        """The fields in the order of the form: who and what, then what for and what is known."""
        who: list[Line] = [self.label, self.born] if self.person is None or self.editing is not None else []
        who += [] if self.care.examiner else [self.examiner]
        left = [*who, self.side, self.structure, self.grade, self.injured, self.brace]
        right: list[Line] = [
            self.goal, self.goal_on, self.sport, self.level, self.sprains_left, self.sprains_right,
            self.anticoagulant, self.feeling, self.hypermobility,
        ]  # fmt: skip
        return left, right

    @property
    def lines(self) -> list[Line]:
        """All of them in the order of the form."""
        left, right = self.columns
        return [*left, *right]

    def values(self) -> tuple[object, ...]:
        """What they hold, to see whether anything was typed."""
        return tuple(line.value for line in self.lines)

    def lacking(self) -> list[str]:
        """The labels of fields that are needed and still empty."""
        needed = [
            line for line in self.lines if isinstance(line, SideField) or (isinstance(line, Field) and line.must)
        ]
        return [line.label for line in needed if not line.value]

    def wrong(self) -> list[Line]:
        """The fields that want another look, each of which now says why."""
        return [line for line in self.lines if isinstance(line, Field | SideField) and not line.check()]

    def form(self) -> EpisodeForm:
        """What was filled in. To be called when nothing is wrong."""
        assert self.side.value is not None
        return EpisodeForm(
            side=self.side.value,
            structure=clean_words(self.structure.value, "structure") or "",
            grade=self.grade.value,
            injured_on=self.injured.day,
            goal=clean_words(self.goal.value, "goal"),
            goal_on=self.goal_on.day,
            sport=clean_words(self.sport.value, "sport"),
            level=clean_words(self.level.value, "level"),
            sprains_left=whole(self.sprains_left.value),
            sprains_right=whole(self.sprains_right.value),
            anticoagulant=self.anticoagulant.value,
            loss_of_feeling=self.feeling.value,
            hypermobility=self.hypermobility.value,
            brace=clean_words(self.brace.value, "brace"),
        )
