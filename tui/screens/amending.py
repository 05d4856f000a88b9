"""What is put right on an episode's screen: what was asked, its closing, and the undo of both."""

from __future__ import annotations

from store.care import correcting
from store.care import undoing as visit_undoing
from store.care.appointments import coming_words
from store.care.correcting import Act, open_again
from store.care.dates import day_text
from store.care.faults import FAULTS
from store.care.people import close_episode
from store.care.standing import Standing
from tui.widgets import commands
from tui.widgets.commands import Command, get, relabelled
from tui.widgets.keyed_screen import KeyedScreen
from tui.widgets.message_line import Kind

NOTHING = "Nothing to undo: no visit is open here. g, then e puts a value right or takes it out."
IN_VISIT = "A visit of this episode is still open: go into it (v) and end it (x), then close the episode."
_NEEDS_OPEN = ("visit", "measure", "timer")


class Amending(KeyedScreen[None]):
    """Mixed into the screen of an episode, which holds its standing and reads it again."""

    episode: str
    held: Standing | None
    act: Act | None = None
    """The correction or closing that undo would take back."""

    def read_again(self) -> None:
        """Show the episode as it stands now."""
        raise NotImplementedError

    def read_act(self) -> None:
        """Look what could be taken back. Raises what care raises."""
        self.act = correcting.newest(self.shell.care, self.held.episode) if self.held is not None else None

    def why_not_amend(self, command_id: str) -> str | None:
        """What a closed episode, or an open visit, stands in the way of."""
        held = self.held
        if held is None:
            return None
        closed = held.episode.closed
        if command_id in _NEEDS_OPEN and closed is not None:
            return f"This episode was closed on {day_text(closed.on)}: open it again first (x)."
        if command_id == "end" and closed is None and held.open_visit is not None:
            return IN_VISIT
        if command_id == "undo" and held.open_visit is None and self.act is None:
            return NOTHING
        return None

    @property
    def is_closed(self) -> bool:
        """Whether the episode on show is closed."""
        return self.held is not None and self.held.episode.closed is not None

    def end_key(self) -> Command:
        """X under the words that fit."""
        return relabelled(get("end"), "open again" if self.is_closed else "close episode")

    def do_edit(self) -> None:
        """Put right what was asked."""
        assert self.held is not None
        self.shell.open(commands.PERSON, person=self.held.person, editing=self.held.episode)

    def do_end(self) -> None:
        """Close the episode, or open it again; undo takes either back."""
        assert self.held is not None
        care, episode = self.shell.care, self.held.episode
        try:
            if episode.closed is None:
                close_episode(care, episode)
                planned = coming_words(care, episode.person)
                stays = f"; the visit planned for {planned} stands: w moves it or calls it off" if planned else ""
                self.say(f"episode closed; x opens it again{stays}", Kind.SAVED, undo=True)
            else:
                open_again(care, episode)
                self.say("episode opened again", Kind.SAVED, undo=True)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        self.read_again()

    def undo_saved(self) -> None:
        """Take back the newest: what was saved in the visit in hand, or a correction or closing."""
        assert self.held is not None
        care, visit, act = self.shell.care, self.held.open_visit, self.act
        try:
            if act is not None and (visit is None or act.revision > visit_undoing.newest(care, visit)):
                self.say(correcting.undo(care, self.held.episode), Kind.SAVED)
            else:
                assert visit is not None
                self.say(visit_undoing.undo(care, visit), Kind.SAVED)
        except FAULTS as fault:
            self.say(str(fault), Kind.WRONG)
        self.read_again()
