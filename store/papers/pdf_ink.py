"""The paper that a PDF is written on: lines of words in its font, and drawings of ours."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container
from io import BytesIO
from itertools import groupby

from fpdf import FPDF
from fpdf.bidi import BidiParagraph
from fpdf.enums import TextDirection, XPos, YPos

from store.care.in_words import visible
from store.papers.pdf_font import LACKS, PLAINER, SIGNS, UNJOINED, Font, Western, without_marks

MARGIN_MM = 16
INK = "#22262b"
RIGHT_TO_LEFT = frozenset({"R", "AL"})


def in_painted_order(text: str) -> str:
    """The text as it is painted from left to right: each stretch of right-to-left words is turned by itself, so
    that the figures beside a name stay where they are. A stretch of more than a row breaks in the wrong place.
    """
    strong = [(at, way) for at, char in enumerate(text) if (way := unicodedata.bidirectional(char)) in _STRONG]
    turned, upto = [], 0
    for right_to_left, same in groupby(strong, key=lambda one: one[1] in RIGHT_TO_LEFT):
        places = [at for at, _ in same]
        if right_to_left:
            first, last = places[0], places[-1] + 1
            own = BidiParagraph(text=text[first:last], base_direction=TextDirection.RTL)
            turned += [text[upto:first], own.get_reordered_string()]
            upto = last
    return "".join([*turned, text[upto:]])


_STRONG = RIGHT_TO_LEFT | {"L"}


class Ink:
    """An A4 page in one family, plain and bold. Whatever is written comes out as letters that the font has."""

    def __init__(self, title: str, *, font: Font | None, margin_mm: float = MARGIN_MM) -> None:
        self.pdf = FPDF(format="A4")
        self.pdf.set_margins(margin_mm, margin_mm)
        self.pdf.set_auto_page_break(True, margin_mm)
        self.family = "Helvetica"
        self._has: Container[object] = Western()
        self._more = font.more if font is not None else None
        if font is not None:
            self._embed(font)
        self.unknown = self.plainer = self.unjoined = False
        self.pdf.set_title(self.letters(title))
        self.pdf.set_lang("en")
        self.pdf.add_page()

    def _embed(self, font: Font) -> None:
        """Take the letters of a font into the file; one that cannot be read is left."""
        try:
            self.pdf.add_font("paper", "", font.plain)
            self.pdf.add_font("paper", "B", font.bold)
        except Exception:  # whatever is wrong with a font of this computer, there is one built in
            self._more = None
            return
        self.family = "paper"
        self._has = set(self.pdf.fonts["paper"].cmap) & set(self.pdf.fonts["paperB"].cmap)

    def _fall_back(self) -> None:
        """Take in the font that has more letters, once one of them is wanted."""
        path, self._more = self._more, None
        assert path is not None
        try:
            self.pdf.add_font("more", "", path)
        except Exception:  # as above
            return
        self.pdf.set_fallback_fonts(["more"], exact_match=False)
        has = self._has
        assert isinstance(has, set)
        self._has = has | set(self.pdf.fonts["more"].cmap)

    def letters(self, text: str) -> str:
        """Words as this font can write them. What it lacks is told by `lacks`."""
        return "".join(self._letter(char) for char in visible(text))

    def painted(self, text: str) -> str:
        """The same in the order in which they are painted."""
        letters = self.letters(text)
        self.unjoined |= any(unicodedata.bidirectional(char) == "AL" for char in letters)
        return in_painted_order(letters)

    def _letter(self, char: str) -> str:
        if self._more is not None and ord(char) not in self._has:
            self._fall_back()
        if ord(char) in self._has:
            return char
        if char in SIGNS or unicodedata.combining(char):
            self.plainer |= char not in SIGNS
            return SIGNS.get(char, "")
        found = without_marks(char, self._has)
        self.plainer |= bool(found)
        self.unknown |= not found
        return found or "?"

    @property
    def lacks(self) -> tuple[str, ...]:
        """A sentence on letters that could not be written; none where all could."""
        told = ((self.unknown, LACKS), (self.plainer, PLAINER), (self.unjoined, UNJOINED))
        return tuple(says for is_so, says in told if is_so)

    def face(self, size: float, *, bold: bool = False) -> None:
        """The size in points of what is written next."""
        self.pdf.set_font(self.family, style="B" if bold else "", size=size)

    def line(self, text: str, *, size: float = 12, bold: bool = False, x: float | None = None) -> None:
        """A line of words, as many rows as it takes, from `x` mm to the right margin."""
        self.face(size, bold=bold)
        if x is not None:
            self.pdf.set_x(x)
        self.pdf.multi_cell(0, size * 0.44, self.painted(text), new_x=XPos.LMARGIN, new_y=YPos.NEXT, align="L")

    def draw(self, svg: str, x: float, y: float, wide_mm: float) -> None:
        """A drawing of ours, as lines and words and not as dots; its title is for who has it read out."""
        title = re.search("<title>(.*?)</title>", svg)
        says = re.search('aria-label="(.*?)"', svg)
        told = title or says
        svg = re.sub("<title>.*?</title>", "", svg)
        svg = re.sub(r'font-family="[^"]*"', f'font-family="{self.family}"', svg)
        svg = re.sub(r">([^<>]+)<", lambda found: f">{self.painted(found.group(1))}<", svg)
        svg = svg.replace("currentColor", INK)
        if "xmlns" not in svg:
            svg = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
        alt = self.letters(told.group(1)) if told else None
        self.pdf.image(BytesIO(svg.encode("utf-8")), x=x, y=y, w=wide_mm, alt_text=alt)

    def done(self) -> bytes:
        """The file."""
        return bytes(self.pdf.output())
