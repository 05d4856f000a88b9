"""The choice of a side: left stands on the left, right on the right, and none is chosen from the start."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive

from store.knowledge.words import Side
from tui.widgets.choice_field import LABEL_ROOM, ChoiceField
from tui.widgets.look import FLAG, Role, mark, side_head, side_role

HINT = "← or l, → or r"
MISSING = "choose the side: ← left, → right"


class SideField(ChoiceField[Side | None]):
    """The left arrow chooses left, the right arrow right; a line below says what to press, or what is missing."""

    wrong: reactive[str] = reactive("")

    def __init__(
        self, label: str, *, value: Side | None = None, help_text: str = "", id: str | None = None
    ) -> None:
        choices = [(None, "?"), (Side.LEFT, "left"), (Side.RIGHT, "right")]
        super().__init__(label, choices, value=value, help_text=help_text, id=id)

    def action_walk(self, by: int) -> None:
        """To the side that the arrow points to."""
        self.value = Side.RIGHT if by > 0 else Side.LEFT

    def check(self) -> bool:
        """Whether a side was chosen; says so when none was."""
        self.wrong = "" if self.value is not None else MISSING
        return self.value is not None

    def watch_chosen(self) -> None:
        """What was missing is there."""
        self.wrong = ""
        super().watch_chosen()

    def render(self) -> Content:
        """The label and both sides, the chosen one in brackets and in its colour; a hint below."""
        label = mark(Role.INK, bold=True) if self.has_focus else mark(Role.QUIET)
        pieces = [(self.label.ljust(LABEL_ROOM)[:LABEL_ROOM], label)]
        for side in Side:
            word = f"{side_head(side)} {side}" if side is Side.LEFT else f"{side} {side_head(side)}"
            if side is self.value:
                pieces.append((f"[{word}]", mark(side_role(side), bold=True)))
            else:
                pieces.append((f" {word} ", mark(Role.QUIET)))
        if self.wrong:
            pieces.append((f"\n{FLAG} {self.wrong}", mark(Role.LOSS)))
        else:
            pieces.append((f"\n{' ' * LABEL_ROOM} {HINT if self.value is None else ''}", mark(Role.QUIET)))
        return Content.assemble(*pieces)
