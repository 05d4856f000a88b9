"""What the next stage still wants: each criterion by itself, what to measure next, the clinician's decision."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, Static

from store.care import stages, visits
from store.care.ahead_words import ADVICE, chance_now, count_text, dates_text, next_text
from store.care.asking import question
from store.care.dates import day_text, short_day
from store.care.faults import FAULTS
from store.care.in_cells import criterion_line, criterion_value
from store.care.in_words import many
from store.care.known import advice
from store.care.safety_state import warnings
from store.care.stages import CriterionStanding, StageStanding
from store.care.standing import Standing, standing
from store.knowledge.criteria import Stage
from store.knowledge.planned import StageDecision
from store.knowledge.words import Person
from tui.screens.heads import who
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.criteria_list import CriteriaList, CriterionRow
from tui.widgets.head_line import HeadLine, RuleLine, parts
from tui.widgets.key_line import KeyLine
from tui.widgets.look import DONE, Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.plain_input import PlainInput


class CriteriaScreen(OnePerson, AsksFirst, Notices):
    """The criteria of one stage of one episode; left and right turn to the other stages."""

    WHERE = commands.CRITERIA
    BINDINGS: ClassVar[list[BindingType]] = [
        *commands.bindings(commands.CRITERIA),
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
    ]
    AUTO_FOCUS = "CriteriaList"
    HELP_TEXT = (
        "Each criterion stands by itself. Clearly met or clearly short is nine in ten by the error of the value, "
        "close is in between; without a known error the figures alone are compared. What was not measured or is "
        "old never counts as met. No published set is validated for this ankle: all lines are common practice and "
        "yours to change. The decision on a stage is yours, whatever stands here, and is kept with its reason."
    )
    DEFAULT_CSS = """
    CriteriaScreen #counts { height: 2; padding: 0 1; }
    CriteriaScreen #next { height: auto; max-height: 2; padding: 0 1; color: $now; text-style: bold; }
    CriteriaScreen #advice { height: auto; max-height: 7; padding: 0 1; }
    CriteriaScreen #reason { display: none; padding: 0 1; background: $sheet; }
    CriteriaScreen.-deciding #reason { display: block; }
    """

    def __init__(self, episode: str, stage: str = "") -> None:
        super().__init__()
        self.episode = episode
        self.stage = Stage(stage) if stage else None
        self.held: Standing | None = None
        self.stood: StageStanding | None = None
        self.decisions: list[StageDecision] = []
        self.made_here: list[StageDecision] = []

    def compose(self) -> ComposeResult:
        """Head with the stages, the count, the criteria, what to measure next, the reason, the keys."""
        yield HeadLine()
        yield RuleLine()
        yield Static(id="counts")
        yield CriteriaList()
        yield Static(id="next")
        yield Static(id="advice")
        yield PlainInput(
            select_on_focus=True, id="reason", placeholder="why this ankle is ready; enter keeps the decision"
        )
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it."""
        self._read()

    def _read(self) -> None:
        care = self.shell.care
        try:
            self.held = held = standing(care, self.episode)
            self.decisions = stages.decisions_of(care, self.episode)
            self.stage = self.stage or stages.coming_stage(care, self.episode)
            self.stood = stood = stages.stage_standing(care, held, self.stage)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        asked = parts(
            (f"ready to {self.stage}?" if self.stage in _VERBS else f"ready for {self.stage}?", _ink(True))
        )
        self.query_one(HeadLine).show((who(held), asked), (self._stages(), parts()))
        self.query_one("#counts", Static).update(_counts(stood))
        self.query_one(CriteriaList).show([_row(one, held) for one in stood.criteria])
        self.query_one("#next", Static).update(next_text(stood))
        self._tell_chosen()
        self.refresh_keys()

    @on(CriteriaList.Moved)
    def _tell_chosen(self) -> None:
        """What the criterion under the cursor wants, in full."""
        stood, roomy = self.stood, self.size.height >= ROOMY
        if stood is not None:
            beside = advice(self.shell.care.knowledge, stood.wanted) if roomy else ()
            self.query_one("#advice", Static).update(Content("\n").join(_about(self.chosen, beside, roomy=roomy)))

    def _stages(self) -> Content:
        """All stages in a row, the one on show in brackets, each decision with its date."""
        decided = {one.stage: one for one in self.decisions}
        words: list[tuple[str, str]] = []
        for stage in Stage:
            made = decided.get(stage)
            text = f"[{stage}]" if stage is self.stage else f" {stage} "
            words.append((text, _ink(True) if stage is self.stage else mark(Role.QUIET)))
            if made is not None:
                words.append((f"{DONE} {short_day(made.decided.on)}", mark(Role.GAIN)))
            words.append((" ", mark(Role.QUIET)))
        return parts(*words)

    def whom(self) -> Person | None:
        """The person of this episode."""
        return self.held.person if self.held is not None else None

    # keys

    def keys_now(self) -> list[str | Command]:
        """Another stage, measure, decide."""
        if self.has_class("-deciding"):
            return [relabelled(get("open"), "keep the decision"), relabelled(get("back"), "leave it")]
        return [
            relabelled(get("turn"), "other stage"),
            "measure",
            "decide",
            "source",
            "undo",
            "back",
            self.only_key(),
        ]

    def why_not(self, command_id: str) -> str | None:
        """What stands in the way of a command now."""
        if self.held is None or self.stood is None:
            return None if command_id == "back" else "This episode cannot be read: go back and look again."
        if command_id in {"measure", "decide"} and self.held.episode.closed is not None:
            return f"Closed on {day_text(self.held.episode.closed.on)}: open it again first."
        if command_id == "undo" and not self.made_here:
            return "Nothing to undo: no decision was made here since this screen was opened."
        return None

    def action_do(self, command_id: str, key: str = "") -> None:
        """Any other key takes back what was asked before measuring, or before a decision."""
        if command_id not in {"measure", "decide"}:
            self.take_back_question()
        super().action_do(command_id, key)

    def action_move(self, by: int) -> None:
        """The criterion above or below."""
        self.query_one(CriteriaList).move(by)

    def do_turn(self, key: str) -> None:
        """The stage before or after."""
        order = list(Stage)
        assert self.stage is not None
        self.stage = order[(order.index(self.stage) + (1 if key == "right" else -1)) % len(order)]
        self._read()

    @property
    def chosen(self) -> CriterionStanding | None:
        """The criterion under the cursor."""
        row = self.query_one(CriteriaList).chosen
        found = self.stood.criteria if self.stood is not None else ()
        return next((one for one in found if row is not None and one.criterion.id == row.id), None)

    def do_source(self) -> None:
        """Where the figures of this criterion's measure come from."""
        if self.chosen is not None:
            self.shell.open(commands.SOURCE, episode=self.episode, measure=self.chosen.criterion.measure)

    def do_measure(self) -> None:
        """Measure what the criterion under the cursor wants, in today's visit."""
        assert self.held is not None
        if self.chosen is None:
            return
        try:
            visit = visits.start_visit(self.shell.care, self.held.episode)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        measure = self.chosen.criterion.measure
        if self.may_start(visit.id, "m", self.shell.care.knowledge.measures[measure]):
            self.shell.open(commands.TRIALS, visit=visit.id, measure=measure)

    # the decision

    def do_decide(self) -> None:
        """Ask for the reason; nothing is kept before it is given. A referral that stands is asked about first."""
        stands = warnings(self.shell.care, self.episode)
        if stands and not self.again.confirms("decide"):
            self.say(question(stands, get("decide").key), Kind.WRONG)
            return
        self.add_class("-deciding")
        field = self.query_one("#reason", Input)
        field.value = ""
        field.focus()
        self.refresh_keys()

    def do_back(self) -> None:
        """Leave the reason, then the screen."""
        if self.has_class("-deciding"):
            self._asked_no_more()
        else:
            self.dismiss()

    @on(Input.Submitted, "#reason")
    def _reason_given(self, event: Input.Submitted) -> None:
        event.stop()
        self.do_open()

    def do_open(self) -> None:
        """Keep the decision with the reason that was typed."""
        if not self.has_class("-deciding") or self.held is None or self.stage is None:
            return
        try:
            made = stages.decide(self.shell.care, self.held, self.stage, self.query_one("#reason", Input).value)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self.made_here.append(made)
        self._asked_no_more()
        self._read()
        self.say(f"decided: {made.stage}, {made.reason}", Kind.SAVED, undo=True)

    def _asked_no_more(self) -> None:
        self.remove_class("-deciding")
        self.query_one(CriteriaList).focus()
        self.refresh_keys()

    def do_undo(self) -> None:
        """Take back the last decision made here."""
        made = self.made_here.pop()
        try:
            stages.take_back(self.shell.care, made)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
            return
        self._read()
        self.say(f"took back the decision: {made.stage}")


_VERBS = frozenset({Stage.WALK, Stage.JOG, Stage.RUN})


def _ink(bold: bool) -> str:
    return mark(Role.INK, bold=bold)


def _counts(stood: StageStanding) -> Content:
    words = count_text(stood).partition(": ")[2]
    return parts((words, _ink(True)), ("   advice only", mark(Role.QUIET)))


def _row(one: CriterionStanding, held: Standing) -> CriterionRow:
    answer = one.answer
    age = "" if answer.age_days is None else _age(answer.age_days)
    measure = held.of(one.criterion.measure).measure
    return CriterionRow(
        id=one.criterion.id,
        verdict=answer.verdict.value,
        good=answer.verdict.met if answer.verdict.answered else None,
        words=measure.name,
        says=one.criterion.says,
        value=criterion_value(answer.value, measure),
        line=criterion_line(answer.line, measure),
        age=age,
        below=_below(one, held),
    )


def _age(days: int) -> str:
    """In a narrow cell; what is dated after today, since the clock was set back, is ahead of it."""
    return "ahead" if days < 0 else "today" if days == 0 else many(days, "day")


def _below(one: CriterionStanding, held: Standing) -> str:
    """Under a short one its chance and the days on which it is expected; else why there is no answer."""
    answer = one.answer
    said = [answer.why] if answer.why else []
    if not answer.verdict.met and answer.verdict.answered:
        if answer.chance is not None:
            said.append(chance_now(answer.chance, answer.age_days or 0))
        if one.dates is not None:
            said.append(dates_text(one.dates, held.on))
    return "; ".join(said)


def _about(one: CriterionStanding | None, advice: Sequence[str], *, roomy: bool) -> list[Content]:
    """The criterion under the cursor in full, what is said of healing where there is room, that it is advice."""
    lines = []
    if one is not None:
        lines.append(parts((one.criterion.says, _ink(False)), (f"  ({one.criterion.mark})", mark(Role.QUIET))))
    lines += [parts((text, mark(Role.QUIET))) for text in advice]
    return [*lines, parts((f"{ADVICE if roomy else NOT_VALIDATED}.", mark(Role.QUIET)))]


NOT_VALIDATED = "defaults are common practice; no set is validated for this ankle"
ROOMY = 32  # rows of the screen from which there is room for what is said beside
