"""A paper as PDF: its words in reading order, and its drawing. Wants the extra `pdf`."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from store.papers.page import Block, Page
from store.papers.pdf_font import Font, find_font
from store.papers.pdf_ink import Ink

SIZES = (11.5, 11.0, 10.5, 10.0, 9.5)
"""Points of the words: the largest with which all stands on one page, else the largest."""


def as_pdf(page: Page, font: Font | None = None) -> bytes:
    """A4 in reading order. `font` is by default one of this computer; letters that it lacks have a substitute, and
    the foot says so.
    """
    font = font or find_font()
    return on_one_page(lambda size: _written(page, font, size), SIZES)


def on_one_page(made: Callable[[float], Ink], sizes: Sequence[float], else_at: int = 0) -> bytes:
    """The paper in the first of falling sizes that fits one page; if none does, in that of the place `else_at`."""
    low, high, fits = 0, len(sizes), None
    while low < high:
        middle = (low + high) // 2
        ink = made(sizes[middle])
        if ink.pdf.page_no() == 1:
            high, fits = middle, ink
        else:
            low = middle + 1
    return (fits or made(sizes[else_at])).done()


def _written(page: Page, font: Font | None, size: float) -> Ink:
    ink = Ink(page.title, font=font)
    ink.line(_large(page.title), size=size * 1.55, bold=True)
    ink.pdf.ln(1)
    for line in page.head:
        ink.line(line, size=size)
    for block in page.blocks:
        _block(ink, block, size)
    ink.pdf.ln(3)
    _rule(ink)
    for line in page.foot:
        ink.line(line, size=size * 0.9)
    for line in ink.lacks:
        ink.line(line, size=size * 0.9)
    return ink


def _large(title: str) -> str:
    return title[:1].upper() + title[1:]


def _block(ink: Ink, block: Block, size: float) -> None:
    pdf = ink.pdf
    pdf.ln(2.5)
    if pdf.will_page_break(size * 1.6):  # a title never stands alone at the foot
        pdf.add_page()
    ink.line(_large(block.title), size=size * 1.12, bold=True)
    if block.svg:
        _figure(ink, block.svg)
    for line in block.lines:
        ink.line(line, size=size)
        pdf.ln(0.5)


def _figure(ink: Ink, svg: str) -> None:
    """The drawing over most of the width, whole."""
    pdf = ink.pdf
    wide, tall = size_of(svg)
    across = pdf.epw * 0.9
    height = across * tall / wide
    if pdf.will_page_break(height):
        pdf.add_page()
    ink.draw(svg, pdf.l_margin, pdf.get_y(), across)
    pdf.set_y(pdf.get_y() + height + 1)


def size_of(svg: str) -> tuple[float, float]:
    """Width and height of one of our drawings, from its view box."""
    box = svg.split('viewBox="', 1)[1].split('"', 1)[0].split()
    return float(box[2]), float(box[3])


def _rule(ink: Ink) -> None:
    pdf = ink.pdf
    y = pdf.get_y()
    pdf.set_line_width(0.4)
    pdf.line(pdf.l_margin, y, pdf.w - pdf.r_margin, y)
    pdf.set_y(y + 1.5)
