"""What can be opened beside a visit: figures, earlier visits, criteria, the home programme of its episode."""

from __future__ import annotations

from store.care.plan import moment_of
from store.care.visit_view import VisitView
from store.knowledge.words import Step
from tui.widgets import commands
from tui.widgets.one_person import OnePerson
from tui.widgets.plan_list import PlanList


class VisitBeside(OnePerson):
    """A screen of one visit, whose view it holds in `shown`."""

    visit = ""
    shown: VisitView | None = None

    def step_at_cursor(self) -> Step | None:
        """The step of the plan under the cursor; None on a bout that was left."""
        chosen = self.query_one(PlanList).chosen
        plan = self.shown.plan if self.shown is not None else ()
        return next((line.step for line in plan if chosen is not None and line.step.id == chosen.key), None)

    def _measure(self) -> str:
        """The measure under the cursor, else the main one."""
        assert self.shown is not None
        step = self.step_at_cursor()
        main = self.shown.episode.main_measure if self.shown.episode else "lunge"
        return step.ref if step is not None and moment_of(step.kind) is not None else main

    def do_chart(self) -> None:
        """The gap chart of the measure under the cursor."""
        self._open_beside(commands.CHART, measure=self._measure())

    def do_source(self) -> None:
        """Where the figures of the measure under the cursor come from."""
        self._open_beside(commands.SOURCE, measure=self._measure())

    def do_criteria(self) -> None:
        """What the next stage still wants."""
        self._open_beside(commands.CRITERIA)

    def do_visits(self) -> None:
        """What was said, measured and timed in each visit of this episode."""
        self._open_beside(commands.VISITS)

    def _open_beside(self, screen: str, **more: str) -> None:
        """A screen of the episode this visit belongs to."""
        assert self.shown is not None
        if self.shown.episode is None:
            self.say("This visit belongs to no episode, so there is nothing of it beside today.")
        else:
            self.shell.open(screen, episode=self.shown.episode.id, **more)

    def do_safety(self) -> None:
        """The safety screen of this ankle, question by question."""
        self._open_beside(commands.SAFETY)

    def do_safety_again(self) -> None:
        """What a visit asks again as a group."""
        assert self.shown is not None
        if self.shown.episode is None:
            self.say("This visit belongs to no episode: there is no ankle to ask about again.")
        else:
            self.shell.open(commands.SAFETY_AGAIN, visit=self.visit)

    def do_home(self) -> None:
        """What the person does at home."""
        self._open_beside(commands.HOME, visit=self.visit)

    def do_run(self) -> None:
        """The plan of running, its rule and its dates."""
        self._open_beside(commands.RUNNING)

    def do_note(self) -> None:
        """The note of this visit, and other papers."""
        self._open_beside(commands.PAPERS, visit=self.visit)
