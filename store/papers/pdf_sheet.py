"""The home sheet as PDF: drawings, two feet, boxes to tick, on one page. Wants the extra `pdf`."""

from __future__ import annotations

from fpdf.enums import TableBordersLayout, VAlign

from store.care.home_sheet import Sheet, SheetItem
from store.knowledge.words import Side
from store.papers import sheet_words as words
from store.papers.drawings import HEIGHT, WIDTH, drawing
from store.papers.pdf import on_one_page
from store.papers.pdf_font import Font, find_font
from store.papers.pdf_ink import Ink

SIZES = (15.0, 14.5, 14.0, 13.5, 13.0, 12.5, 12.0, 11.5, 11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0)
"""Points: the largest with which the sheet stands on one page."""

READABLE = 10
"""Where no size fits one page, the place of the size for several."""

MARGIN_MM = 12
DRAWING_MM = 2.4
"""Width of a drawing for each point of the words."""


def sheet_pdf(sheet: Sheet, font: Font | None = None) -> bytes:
    """The sheet on A4, in the largest type that fits one page. `font` as in `as_pdf`."""
    font = font or find_font()
    return on_one_page(lambda size: _written(sheet, font, size), SIZES, READABLE)


def _written(sheet: Sheet, font: Font | None, size: float) -> Ink:
    ink = Ink("Home sheet", font=font, margin_mm=MARGIN_MM)
    ink.line("Your ankle at home", size=size * 1.4, bold=True)
    ink.line(f"{sheet.label}: {' '.join(words.head(sheet))}", size=size)
    ink.pdf.ln(1.5)
    for one in sheet.items:
        _item(ink, one, size)
    _when(ink, sheet, size)
    ink.pdf.ln(2)
    _ticks(ink, sheet, size)
    ink.pdf.ln(2)
    _blocks(ink, sheet, size)
    ink.pdf.ln(1.5)
    for line in (words.last_line(sheet), words.JUDGEMENT):
        ink.line(line, size=size * 0.75)
    for line in ink.lacks:
        ink.line(line, size=size * 0.75)
    return ink


def _item(ink: Ink, one: SheetItem, size: float) -> None:
    """The drawing on the left and the words beside it."""
    pdf = ink.pdf
    wide = DRAWING_MM * size
    svg = drawing(one.picture)
    tall = wide * HEIGHT / WIDTH if svg else 0.0
    if pdf.will_page_break(tall or size):
        pdf.add_page()
    top = pdf.get_y()
    if svg:
        ink.draw(svg, pdf.l_margin, top, wide)
    page, beside = pdf.page_no(), pdf.l_margin + (wide + 4 if svg else 0)
    ink.line(f"{one.n}. {one.name}", size=size * 1.05, bold=True, x=beside)
    ink.line(words.dose(one), size=size * 0.95, bold=True, x=beside)
    for text in words.told(one):
        ink.line(text, size=size * 0.95, bold=text == one.pull, x=beside)
    below = top + tall if pdf.page_no() == page else pdf.t_margin
    pdf.set_y(max(pdf.get_y(), below) + size * 0.15)


def _when(ink: Ink, sheet: Sheet, size: float) -> None:
    """What each foot does at each time of day, the left one on the left."""
    ink.face(size * 0.88)
    with ink.pdf.table(col_widths=(16, 42, 42), text_align="LEFT", line_height=size * 0.42) as table:
        table.row([ink.painted(cell) for cell in ("", *(words.foot(sheet, side) for side in Side))])
        for row in sheet.rows:
            feet = (words.names(sheet, numbers) for numbers in (row.left, row.right))
            table.row([ink.painted(cell) for cell in (row.when, *feet)])


def _ticks(ink: Ink, sheet: Sheet, size: float) -> None:
    """Boxes to tick, day by day."""
    ink.face(size * 0.88)
    widths = (37, *[9] * len(words.DAYS))
    with ink.pdf.table(col_widths=widths, text_align="LEFT", line_height=size * 0.6) as table:
        table.row(["", *words.DAYS])
        for name in words.tick_rows(sheet):
            table.row([ink.painted(name), *[""] * len(words.DAYS)])


def _blocks(ink: Ink, sheet: Sheet, size: float) -> None:
    """When to stop, what keeps it safe, whom to call: side by side."""
    ink.face(size * 0.88)
    blocks = words.blocks(sheet)
    layout = TableBordersLayout.NONE
    with ink.pdf.table(
        text_align="LEFT", line_height=size * 0.4, borders_layout=layout, gutter_width=3, v_align=VAlign.T
    ) as table:
        table.row([title for title, _ in blocks])
        table.row(["\n".join(map(ink.painted, texts)) for _, texts in blocks])
