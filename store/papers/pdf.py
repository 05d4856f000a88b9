"""A paper as PDF, with the fonts every reader has. Wants the extra `pdf`."""

from __future__ import annotations

from fpdf import FPDF
from fpdf.enums import XPos, YPos

from store.care.in_words import visible
from store.papers.page import Page

MARGIN_MM = 18


def as_pdf(page: Page) -> bytes:
    """A4, 12 pt, in reading order. A letter that the font lacks is a question mark."""
    paper = FPDF(format="A4")
    paper.set_margins(MARGIN_MM, MARGIN_MM)
    paper.set_auto_page_break(True, MARGIN_MM)
    paper.set_title(_latin(page.title))
    paper.add_page()
    _line(paper, page.title, size=19, bold=True)
    for line in page.head:
        _line(paper, line)
    for block in page.blocks:
        paper.ln(3)
        _line(paper, block.title, size=13, bold=True)
        for line in block.lines:
            _line(paper, line)
    paper.ln(5)
    for line in page.foot:
        _line(paper, line, size=11)
    return bytes(paper.output())


def _line(paper: FPDF, text: str, *, size: int = 12, bold: bool = False) -> None:
    paper.set_font("Helvetica", style="B" if bold else "", size=size)
    paper.multi_cell(0, size * 0.5, _latin(text), new_x=XPos.LMARGIN, new_y=YPos.NEXT, align="L")


def _latin(text: str) -> str:
    return visible(text).encode("latin-1", "replace").decode("latin-1")
