"""The home sheet as plain text, Markdown and one page of HTML: for the person, in plain words."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from textwrap import wrap

from store.care.dates import day_text
from store.care.home_sheet import FootRow, Sheet, SheetItem
from store.care.in_words import visible
from store.knowledge.words import Side
from store.papers.drawings import drawing
from store.papers.page import Block, Page

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
TEXT_WIDTH = 78
NO_CLINIC = "our phone number: ______________________"
INVENTED = "This person is invented, and so is all that stands here."
JUDGEMENT = "This sheet supports, and does not replace, what your clinician told you."


def as_text(sheet: Sheet) -> str:
    """The sheet as plain text, lines of at most 78 characters."""
    lines = [line for part in _parts(sheet) for line in part]
    return "\n".join(lines).rstrip() + "\n"


def as_markdown(sheet: Sheet) -> str:
    """The sheet as Markdown."""
    label = _md(sheet.label)
    lines = [f"# Your ankle at home: {label}", "", _md(" ".join(_head(sheet))), ""]
    for one in sheet.items:
        lines += [f"## {one.n}. {_md(one.name)}", "", f"**{_md(_dose_line(one))}**", ""]
        lines += [f"- {_md(text)}" for text in _told(one)]
        lines.append("")
    lines += [
        "## When",
        "",
        f"| | {_foot(sheet, Side.LEFT)} | {_foot(sheet, Side.RIGHT)} |",
        "| --- | --- | --- |",
    ]
    lines += [f"| {row.when} | {_names(sheet, row.left)} | {_names(sheet, row.right)} |" for row in sheet.rows]
    lines += ["", "## Tick", "", "| | " + " | ".join(DAYS) + " |", "| --- |" + " --- |" * 7]
    lines += [f"| {row} |" + "  |" * 7 for row in _tick_rows(sheet)]
    lines.append("")
    for title, texts in _blocks(sheet):
        lines += [f"## {title}", "", *(f"- {_md(text)}" for text in texts), ""]
    lines += [_foot_line(sheet), "", JUDGEMENT, ""]
    return "\n".join(lines)


def as_html(sheet: Sheet) -> str:
    """The sheet as one self-contained page that prints on one sheet of A4: no script, nothing is fetched."""
    roomy = next((name for most, name in SIZES if len(sheet.items) <= most), "least")
    label = escape(visible(sheet.label))
    items = "".join(_html_item(one) for one in sheet.items)
    rows = "".join(_html_row(sheet, row) for row in sheet.rows)
    ticks = "".join(f"<tr><th>{escape(row)}</th>{'<td></td>' * 7}</tr>" for row in _tick_rows(sheet))
    heads = "".join(f"<th>{day}</th>" for day in DAYS)
    blocks = "".join(
        f"<section><h2>{escape(title)}</h2>{''.join(f'<p>{escape(text)}</p>' for text in texts)}</section>"
        for title, texts in _blocks(sheet)
    )
    feet = f"<th></th><th>{_foot(sheet, Side.LEFT)}</th><th>{_foot(sheet, Side.RIGHT)}</th>"
    return f"""<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Home sheet</title>
<meta name="viewport" content="width=device-width, initial-scale=1"><style>{CSS}</style></head>
<body class="{roomy}"><header><h1>Your ankle at home</h1>
<p><b>{label}</b> {escape(" ".join(_head(sheet)))}</p></header>
<main>{items}</main>
<div class="tables"><table class="feet"><tr>{feet}</tr>{rows}</table>
<table class="ticks"><tr><th></th>{heads}</tr>{ticks}</table></div>
<div class="blocks">{blocks}</div>
<footer>{escape(_foot_line(sheet))} {JUDGEMENT}</footer></body></html>
"""


def as_page(sheet: Sheet) -> Page:
    """The words of the sheet without its drawings, as a page of blocks: for PDF."""
    items = tuple(Block(f"{one.n}. {visible(one.name)}", (_dose_line(one), *_told(one))) for one in sheet.items)
    when = tuple(
        f"{row.when}, {_foot(sheet, side)}: {_names(sheet, numbers)}"
        for row in sheet.rows
        for side, numbers in ((Side.LEFT, row.left), (Side.RIGHT, row.right))
    )
    rest = tuple(Block(title, texts) for title, texts in _blocks(sheet))
    title = f"Your ankle at home: {visible(sheet.label)}"
    return Page(title, tuple(_head(sheet)), (*items, Block("When", when), *rest), (_foot_line(sheet), JUDGEMENT))


# what all of them say


def _head(sheet: Sheet) -> list[str]:
    says = [f"{day_text(sheet.issued_on)}."]
    says += [f"Goal: {visible(sheet.goal)}."] if sheet.goal else []
    says += [f"For {sheet.weeks} weeks."] if sheet.weeks else []
    says += [f"We look at this again on {day_text(sheet.review_on)}."] if sheet.review_on else []
    says += [f"From {visible(sheet.examiner)}."] if sheet.examiner else []
    return [*says, *([INVENTED] if sheet.invented else [])]


def _dose_line(one: SheetItem) -> str:
    return f"{one.dose} {one.where[:1].upper()}{one.where[1:]}. {one.often}"


def _told(one: SheetItem) -> list[str]:
    other = f"Too hard? {one.easier} " if one.easier else ""
    other += f"Too easy? {one.harder}" if one.harder else ""
    says = [*one.steps, one.pull, " ".join(one.care), other.strip()]
    return [visible(text) for text in says if text]


def _foot(sheet: Sheet, side: Side) -> str:
    return f"{side.value.capitalize()} foot" + (" (the sore one)" if side is sheet.injured else "")


def _names(sheet: Sheet, numbers: Sequence[int]) -> str:
    return "; ".join(f"{n}. {visible(sheet.items[n - 1].name)}" for n in numbers) or "rest"


def _tick_rows(sheet: Sheet) -> list[str]:
    return [*(row.when for row in sheet.rows if row.left or row.right), "Pain next morning, 0 to 10"]


def _blocks(sheet: Sheet) -> list[tuple[str, tuple[str, ...]]]:
    words = sheet.words
    clinic = f"Call {visible(sheet.clinic)}" if sheet.clinic else f"Call {NO_CLINIC}"
    return [
        ("Stop", words.stop),
        ("Safe", (*words.hold_on, *(words.bands if any(one.pull for one in sheet.items) else ()))),
        ("Call", (*words.call_today, words.emergency, f"{clinic}.")),
    ]


def _foot_line(sheet: Sheet) -> str:
    over = "" if sheet.grade <= sheet.aim else f", above {sheet.aim:g}: read it out together"
    grade = f"{sheet.grade:.1f}" if sheet.grade >= 1 else "below 1"
    return f"Reading grade {grade}{over}."


def _parts(sheet: Sheet) -> list[list[str]]:
    """The parts of the plain text, each with a blank line behind it."""
    found = [[f"YOUR ANKLE AT HOME: {visible(sheet.label)}", *_filled(" ".join(_head(sheet))), ""]]
    for one in sheet.items:
        told = [line for text in _told(one) for line in _filled(text, "   - ", "     ")]
        found.append([f"{one.n}. {visible(one.name).upper()}", *_filled(_dose_line(one), "   ", "   "), *told, ""])
    for row in sheet.rows:
        for side, numbers in ((Side.LEFT, row.left), (Side.RIGHT, row.right)):
            found.append(_filled(f"{row.when}, {_foot(sheet, side)}: {_names(sheet, numbers)}", "", "   "))
    ticks = [f"{row:<28}" + " ".join("[ ]" for _ in DAYS) for row in _tick_rows(sheet)]
    found.append(["", " " * 28 + " ".join(DAYS), *ticks, ""])
    for title, texts in _blocks(sheet):
        found.append([title.upper(), *(line for text in texts for line in _filled(text, "   ", "   ")), ""])
    return [*found, _filled(f"{_foot_line(sheet)} {JUDGEMENT}")]


def _filled(text: str, first: str = "", rest: str = "") -> list[str]:
    return wrap(text, TEXT_WIDTH, initial_indent=first, subsequent_indent=rest) or [""]


def _md(text: str) -> str:
    """Text in which nothing is taken for a mark of Markdown or HTML."""
    return "".join(f"\\{char}" if char in "\\`*_[]<>#|&" else char for char in visible(text))


# the page


def _html_item(one: SheetItem) -> str:
    told = "".join(f"<p>{escape(text)}</p>" for text in _told(one) if text != visible(one.pull))
    pull = f'<p class="pull">{escape(visible(one.pull))}</p>' if one.pull else ""
    return (
        f"<article>{drawing(one.picture)}<div><h2>{one.n}. {escape(visible(one.name))}</h2>"
        f'<p class="dose">{escape(_dose_line(one))}</p>{pull}<ul>{told}</ul></div></article>'
    )


def _html_row(sheet: Sheet, row: FootRow) -> str:
    cells = "".join(f"<td>{escape(_names(sheet, numbers))}</td>" for numbers in (row.left, row.right))
    return f"<tr><th>{row.when}</th>{cells}</tr>"


SIZES = ((3, "few"), (4, "usual"), (5, "more"), (6, "many"), (8, "most"))
"""Up to so many things the type is as large as lets them stand on one page."""

CSS = """
@page { size: A4; margin: 9mm 11mm; }
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font: 12.5pt/1.22 sans-serif; color: #111; background: #fff; }
body { max-width: 190mm; margin: 0 auto; padding: 4mm; }
body.usual { font-size: 12pt; } body.more { font-size: 10.5pt; } body.many { font-size: 10pt; }
body.most { font-size: 8.5pt; } body.least { font-size: 7.5pt; }
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
