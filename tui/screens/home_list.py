"""What the home programme's screen shows: the draft line by line, what is told of one, the days and the work."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from textual.app import ComposeResult
from textual.containers import Container, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from store.care import home, visits
from store.care.doses import week_words
from store.care.faults import FAULTS
from store.care.home import HomeStanding
from store.care.home_differs import disagreement
from store.care.home_items import change_words, new_item, parts
from store.care.home_sheet import grade_words
from store.care.standing import standing
from store.knowledge.home_item import HomeItem, as_data
from store.knowledge.words import Visit
from tui.screens.bout_lines import dose_lines
from tui.screens.heads import who
from tui.screens.home_fields import AddingField, DaysLine
from tui.screens.home_lines import NOTHING_YET, item_lines, minded_lines, rows, state_line, told_lines
from tui.widgets import commands
from tui.widgets.asks_first import AsksFirst
from tui.widgets.chooser import Chooser
from tui.widgets.head_line import HeadLine, RuleLine
from tui.widgets.head_line import parts as in_parts
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines
from tui.widgets.look import Role, mark
from tui.widgets.message_line import Kind, MessageLine
from tui.widgets.notices import Notices
from tui.widgets.one_person import OnePerson
from tui.widgets.plan_list import PlanList

DOSING, ADDING, TELLING = "-dosing", "-adding", "-telling"
"""What is open on the screen; none of them: the list."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What would be handed out now."""

    items: tuple[HomeItem, ...]
    review_on: date


class HomeList(OnePerson, AsksFirst, Notices):
    """The programme of one episode. The draft is all that it keeps; the rest is read from the record."""

    WHERE = commands.HOME
    AUTO_FOCUS = ""
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - Textual's own way
    VERTICAL_BREAKPOINTS = [(0, "-low"), (34, "-tall")]  # noqa: RUF012 - Textual's own way
    DEFAULT_CSS = """
    HomeList #state { height: 1; padding: 0 1; text-wrap: nowrap; text-overflow: ellipsis; }
    HomeList #body { height: 1fr; layout: vertical; }
    HomeList.-tall #body { margin: 1 0 0 0; }
    HomeList #list { height: auto; max-height: 60%; }
    HomeList #dose { padding: 0 3; display: none; }
    HomeList Chooser { display: none; height: 1fr; min-height: 6; }
    HomeList VerticalScroll { height: 1fr; padding: 0 1; border-top: solid $faint; scrollbar-size-vertical: 1; }
    HomeList.-dosing #dose, HomeList.-telling DaysLine { display: block; }
    HomeList.-adding AddingField, HomeList.-adding Chooser { display: block; }
    HomeList.-adding #list { display: none; }
    HomeList.-wide #body { layout: horizontal; }
    HomeList.-wide #list, HomeList.-wide Chooser { width: 62; height: 1fr; max-height: 100%; }
    HomeList.-wide VerticalScroll { width: 1fr; border-top: none; border-left: solid $faint; padding: 0 2; }
    """

    def __init__(self, episode: str, visit: str = "") -> None:
        super().__init__()
        self.episode, self.visit = episode, visit
        self.held: HomeStanding | None = None
        self.draft: Draft | None = None
        self.part = 0

    def compose(self) -> ComposeResult:
        """Head, state, the items or the chooser, what is told of one, the lines to type in, messages, keys."""
        yield HeadLine()
        yield RuleLine()
        yield Static(id="state")
        yield AddingField()
        with Container(id="body"):
            with Vertical(id="list"):
                yield PlanList()
                yield Lines(id="dose")
            yield Chooser([])
            with VerticalScroll(id="read", can_focus=False):
                yield Lines()
        yield RuleLine()
        yield DaysLine()
        yield MessageLine()
        yield KeyLine()

    def on_screen_resume(self) -> None:
        """Read again whenever this screen comes to the top."""
        self._read()

    def read_afresh(self) -> None:
        """As another window left it; what was changed here and not handed out stays in hand."""
        if not self.unsaved:
            self.draft = None
        self._read()

    def on_resize(self) -> None:
        """Wrap what is read to the new width."""
        self.call_after_refresh(self._show)

    # reading

    def _read(self) -> None:
        care = self.shell.care
        try:
            self.held = held = home.home_standing(care, self.episode)
            head = who(standing(care, self.episode))
            if self.draft is None:
                self._begin(held)
        except FAULTS as fault:
            self.held = None
            self.say(str(fault), Kind.WRONG)
            return
        kept_to = home.kept_to_words(held.told) if held.told is not None else ""
        title = in_parts(("home programme", mark(Role.INK, bold=True)))
        second = [(in_parts((kept_to, mark(Role.QUIET))), in_parts())] if kept_to else []
        self.query_one(HeadLine).show((head, title), *second)
        self._show()

    def _begin(self, held: HomeStanding) -> None:
        """What was handed out today stands as it is, what was taken back today as it was made up; an older one
        is carried over.
        """
        care, now, back = self.shell.care, held.in_force, home.put_together(self.shell.care, held)
        if back is not None:
            self.draft = Draft(home.items_of(back), back.review_on or home.review_day(care, held))
        elif now is not None and now.since == held.on:
            self.draft = Draft(now.items, now.programme.review_on or home.review_day(care, held))
        else:
            self.draft = Draft(home.carried_over(care, held), home.review_day(care, held))

    @property
    def handed(self) -> bool:
        """Whether the draft is what was handed out today, and nothing was changed since."""
        now = self.held.in_force if self.held is not None else None
        if now is None or self.draft is None or self.held is None or now.since != self.held.on:
            return False
        same = [as_data(item) for item in self.draft.items] == [as_data(item) for item in now.items]
        return same and self.draft.review_on == (now.programme.review_on or self.draft.review_on)

    @property
    def unsaved(self) -> bool:
        """Whether the draft was changed and not handed out."""
        if self.held is None or self.draft is None or self.handed:
            return False
        now = self.held.in_force
        return bool(change_words(now.items, self.draft.items)) if now is not None else bool(self.draft.items)

    def _show(self) -> None:
        """The draft, what is told of the line under the cursor, and what was told of the days."""
        held, draft = self.held, self.draft
        if held is None or draft is None or not self.is_mounted:
            return
        plan = self.query_one(PlanList)
        plan.show(rows(draft.items, draft.review_on, held.on, handed=self.handed), plan.cursor)
        now = home.origin_words(held, draft.items)
        self.query_one("#state", Static).update(state_line(held, now, handed=self.handed))
        self._show_read()
        self._show_dose()
        self.refresh_keys()

    def _show_read(self) -> None:
        read = self.query_one("#read", VerticalScroll)
        width = max(read.content_size.width - 1, 20)
        read.query_one(Lines).show(*self._read_lines(width))

    def _read_lines(self, width: int) -> list[Content]:
        assert self.held is not None
        assert self.draft is not None
        care, items = self.shell.care, self.draft.items
        if self.has_class(ADDING):
            item = self.item_to_add()
            return self._item_lines(item, width) if item is not None else []
        item = self.chosen
        minded = home.minded(care, self.held, items)
        visit = self._open_visit()
        words = [home.too_many(care, items), disagreement(self.held, visit)]
        told = minded_lines(minded, [text for text in words if text], width)
        told += [Content("")] if told and item is not None else []
        told += self._item_lines(item, width) if item is not None else []
        graded = (grade_words(care, items),) if items else ()
        told += [] if items else [in_parts((NOTHING_YET, mark(Role.INK)))]
        about = told_lines(self.held, (*week_words(care, self.held), *graded), width)
        return [*told, *([Content("")] if told and about else []), *about]

    def _item_lines(self, item: HomeItem, width: int) -> list[Content]:
        source = self.shell.care.knowledge.sources.get(item.words.source)
        return item_lines(item, source.text if source is not None else "", width)

    def _show_dose(self) -> None:
        item = self.chosen
        found = parts(item) if item is not None else ()
        self.part = min(self.part, max(len(found) - 1, 0))
        width = max(self.query_one("#list").content_size.width - 6, 30)
        lines = dose_lines(found, found[self.part].id, width) if found else []
        self.query_one("#dose", Lines).show(*lines)

    @property
    def chosen(self) -> HomeItem | None:
        """The item under the cursor; None on the review."""
        at = self.query_one(PlanList).cursor
        items = self.draft.items if self.draft is not None else ()
        return items[at] if at < len(items) else None

    def _open_visit(self) -> Visit | None:
        """The visit in hand, if there is one."""
        assert self.held is not None
        care = self.shell.care
        return care.visit(self.visit) if self.visit else visits.open_visit(care, self.held.episode)

    def item_to_add(self) -> HomeItem | None:
        """What the cursor of the chooser is on, as an item."""
        chosen = self.query_one(Chooser).chosen
        if chosen is None or self.held is None:
            return None
        return new_item(self.shell.care, self.shell.care.knowledge.activities[chosen.id], self.held.episode)
