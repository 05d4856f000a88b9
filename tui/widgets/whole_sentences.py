"""Sentences, as many of them whole as there is room for: half a caution can mislead."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from tui.widgets.page_of_words import wrapped


class WholeSentences(Widget):
    """The first sentences that fit whole, the most important first. `apart` puts each on a line of its own."""

    DEFAULT_CSS = """
    WholeSentences { height: auto; width: 1fr; }
    """

    sentences: reactive[tuple[Content, ...]] = reactive((), layout=True)

    def __init__(self, *, apart: bool = False, id: str | None = None) -> None:
        super().__init__(id=id)
        self.apart = apart

    def show(self, sentences: Sequence[Content]) -> None:
        """Show these."""
        self.sentences = tuple(sentences)

    def get_content_height(self, _container: object, _viewport: object, width: int) -> int:
        """All of them, where there is room."""
        return len(wrapped_lines(self.sentences, width, apart=self.apart))

    def render(self) -> Content:
        """Those that fit."""
        width, height = self.content_size
        shown = list(self.sentences)
        while len(shown) > 1 and len(wrapped_lines(shown, width, apart=self.apart)) > height:
            shown.pop()
        return Content("\n" if self.apart else " ").join(shown)


def wrapped_lines(sentences: Sequence[Content], width: int, *, apart: bool) -> list[str]:
    """The lines that sentences take at a width."""
    texts = [sentence.plain for sentence in sentences] if apart else [" ".join(one.plain for one in sentences)]
    return [line for text in texts for line in wrapped(text, max(width, 1))]
