"""The home sheet as plain text, Markdown and one page of HTML: for the person, in plain words."""

from __future__ import annotations

from html import escape
from textwrap import wrap

from store.care.home_sheet import FootRow, Sheet, SheetItem
from store.care.in_words import visible
from store.knowledge.words import Side
from store.papers import sheet_words as words
from store.papers.drawings import drawing
from store.papers.page import WIDTH, Block, Page, md


def as_text(sheet: Sheet) -> str:
    """The sheet as plain text, lines of at most 78 characters."""
    lines = [line for part in _parts(sheet) for line in part]
    return "\n".join(lines).rstrip() + "\n"


def as_markdown(sheet: Sheet) -> str:
    """The sheet as Markdown."""
    label = md(sheet.label)
    lines = [f"# Your ankle at home: {label}", "", md(" ".join(words.head(sheet))), ""]
    for one in sheet.items:
        lines += [f"## {one.n}. {md(one.name)}", "", f"**{md(words.dose(one))}**", ""]
        lines += [f"- {md(text)}" for text in words.told(one)]
        lines.append("")
    lines += [
        "## When",
        "",
        f"| | {words.foot(sheet, Side.LEFT)} | {words.foot(sheet, Side.RIGHT)} |",
        "| --- | --- | --- |",
    ]
    lines += [
        f"| {row.when} | {md(words.names(sheet, row.left))} | {md(words.names(sheet, row.right))} |"
        for row in sheet.rows
    ]
    lines += ["", "## Tick", "", "| | " + " | ".join(words.DAYS) + " |", "| --- |" + " --- |" * 7]
    lines += [f"| {row} |" + "  |" * 7 for row in words.tick_rows(sheet)]
    lines.append("")
    for title, texts in words.blocks(sheet):
        lines += [f"## {title}", "", *(f"- {md(text)}" for text in texts), ""]
    lines += [words.last_line(sheet), "", words.JUDGEMENT, ""]
    return "\n".join(lines)


def as_html(sheet: Sheet) -> str:
    """The sheet as one self-contained page that prints on one sheet of A4: no script, nothing is fetched."""
    size, alone = type_size(sheet), "one" if len(sheet.items) == 1 else ""
    label = escape(visible(sheet.label))
    items = "".join(_html_item(one) for one in sheet.items)
    rows = "".join(_html_row(sheet, row) for row in sheet.rows)
    ticks = "".join(f"<tr><th>{escape(row)}</th>{'<td></td>' * 7}</tr>" for row in words.tick_rows(sheet))
    heads = "".join(f"<th>{day}</th>" for day in words.DAYS)
    blocks = "".join(
        f"<section><h2>{escape(title)}</h2>{''.join(f'<p>{escape(text)}</p>' for text in texts)}</section>"
        for title, texts in words.blocks(sheet)
    )
    feet = f"<th></th><th>{words.foot(sheet, Side.LEFT)}</th><th>{words.foot(sheet, Side.RIGHT)}</th>"
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Home sheet</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><style>{CSS}</style></head>
<body class="{alone}" style="font-size: {size:g}pt"><header><h1>Your ankle at home</h1>
<p><b>{label}</b> {escape(" ".join(words.head(sheet)))}</p></header>
<main>{items}</main>
<div class="tables"><table class="feet"><tr>{feet}</tr>{rows}</table>
<table class="ticks"><tr><th></th>{heads}</tr>{ticks}</table></div>
<div class="blocks">{blocks}</div>
<footer>{escape(words.last_line(sheet))} {words.JUDGEMENT}</footer></body></html>
"""


def as_page(sheet: Sheet) -> Page:
    """The words of the sheet without its drawings, as a page of blocks: for the screen."""
    items = tuple(
        Block(f"{one.n}. {visible(one.name)}", (words.dose(one), *words.told(one))) for one in sheet.items
    )
    when = tuple(
        f"{row.when}, {words.foot(sheet, side)}: {words.names(sheet, numbers)}"
        for row in sheet.rows
        for side, numbers in ((Side.LEFT, row.left), (Side.RIGHT, row.right))
    )
    rest = tuple(Block(title, texts) for title, texts in words.blocks(sheet))
    title = f"Your ankle at home: {visible(sheet.label)}"
    return Page(
        title,
        tuple(words.head(sheet)),
        (*items, Block("When", when), *rest),
        (words.last_line(sheet), words.JUDGEMENT),
    )


def _parts(sheet: Sheet) -> list[list[str]]:
    """The parts of the plain text, each with a blank line behind it."""
    found = [[f"YOUR ANKLE AT HOME: {visible(sheet.label)}", *_filled(" ".join(words.head(sheet))), ""]]
    for one in sheet.items:
        told = [line for text in words.told(one) for line in _filled(text, "   - ", "     ")]
        found.append([f"{one.n}. {visible(one.name).upper()}", *_filled(words.dose(one), "   ", "   "), *told, ""])
    for row in sheet.rows:
        for side, numbers in ((Side.LEFT, row.left), (Side.RIGHT, row.right)):
            found.append(
                _filled(f"{row.when}, {words.foot(sheet, side)}: {words.names(sheet, numbers)}", "", "   ")
            )
    ticks = [f"{row:<28}" + " ".join("[ ]" for _ in words.DAYS) for row in words.tick_rows(sheet)]
    found.append(["", " " * 28 + " ".join(words.DAYS), *ticks, ""])
    for title, texts in words.blocks(sheet):
        found.append([title.upper(), *(line for text in texts for line in _filled(text, "   ", "   ")), ""])
    return [*found, _filled(f"{words.last_line(sheet)} {words.JUDGEMENT}")]


def _filled(text: str, first: str = "", rest: str = "") -> list[str]:
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest) or [""]


# the page


def _html_item(one: SheetItem) -> str:
    told = "".join(f"<p>{escape(text)}</p>" for text in words.told(one) if text != visible(one.pull))
    pull = f'<p class="pull">{escape(visible(one.pull))}</p>' if one.pull else ""
    return (
        f"<article>{drawing(one.picture)}<div><h2>{one.n}. {escape(visible(one.name))}</h2>"
        f'<p class="dose">{escape(words.dose(one))}</p>{pull}<ul>{told}</ul></div></article>'
    )


def _html_row(sheet: Sheet, row: FootRow) -> str:
    cells = "".join(f"<td>{escape(words.names(sheet, numbers))}</td>" for numbers in (row.left, row.right))
    return f"<tr><th>{row.when}</th>{cells}</tr>"


LARGEST, SMALLEST = 15.0, 7.0
"""Points of the words."""

FIXED, PICTURE, TABLE, ROOM = 800, 180, 3, 485_000
"""In letters: what is on every sheet; what a drawing takes; how much wider a letter of the table counts. The last
is how many letters, times the square of their points, fit a page. Measured with a browser that prints, on sheets
of few things and many, with few words and many; the estimate is good to 7 %, and the least of them was taken.
"""


def type_size(sheet: Sheet) -> float:
    """Points of the largest type with which it stands on one page, by how much is said: no browser chooses it."""
    each = [PICTURE + len("".join((one.name, words.dose(one), *words.told(one)))) for one in sheet.items]
    table = sum(max(len(words.names(sheet, row.left)), len(words.names(sheet, row.right))) for row in sheet.rows)
    letters = FIXED + _two_columns(each) + TABLE * table
    fits: float = (ROOM / letters) ** 0.5
    return min(max(int(fits * 4) / 4, SMALLEST), LARGEST)


def _two_columns(each: list[int]) -> int:
    """What things in two columns take, none of them parted: twice the longer column; one alone has the width."""
    if len(each) < 2:
        return sum(each)
    return 2 * min(max(sum(each[:at]), sum(each[at:])) for at in range(1, len(each)))


CSS = """
@page { size: A4; margin: 9mm 11mm; }
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font: 12pt/1.22 sans-serif; color: #111; background: #fff; }
body { max-width: 190mm; margin: 0 auto; padding: 4mm; }
body.one main { columns: 1; }
header { border-bottom: 1.5pt solid #111; padding-bottom: 1mm; margin-bottom: 2mm; }
header p, section p, article p { margin-top: 0.4mm; }
h1 { font-size: 1.4em; } h2 { font-size: 1.05em; }
main { columns: 2; column-gap: 6mm; }
article { break-inside: avoid; overflow-wrap: anywhere; padding-bottom: 2.2mm; }
article p { font-size: 0.92em; }
svg { float: right; width: 8em; height: 6.6em; margin: 0 0 1mm 2mm; }
article .dose { font-weight: bold; } .pull { font-weight: bold; border-left: 2pt solid #111; padding-left: 1.5mm; }
.tables { display: flex; flex-direction: column; gap: 2mm; margin: 1mm 0 2mm; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 0.7pt solid #555; padding: 0.5mm 1.2mm; text-align: left; overflow-wrap: anywhere; }
th, td { font-size: 0.88em; }
.feet td { width: 42%; } .ticks td { width: 9%; height: 1.9em; } .ticks th { font-weight: normal; }
.blocks { display: grid; grid-template-columns: 1fr 1fr 1fr; gap: 4mm; }
.blocks { border-top: 1.5pt solid #111; padding-top: 1mm; }
.blocks p { font-size: 0.88em; }
footer { font-size: 0.68em; margin-top: 1.5mm; color: #444; }
@media print { body { padding: 0; max-width: none; } }
@media screen and (max-width: 700px) { main { columns: 1; } .blocks { grid-template-columns: 1fr; } }
"""
