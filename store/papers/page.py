"""A paper as blocks of words, and the same words as plain text, Markdown and one page of HTML."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from textwrap import wrap

from store.care.in_words import visible

WIDTH = 78
NAME_MOST = 44
"""Characters of a name at the head of a line."""
_MD_SPECIAL = r"\`*_{}[]<>#|~&"


@dataclass(frozen=True, slots=True)
class Block:
    """Lines under one title. `svg` is a drawing of ours, which carries its own words for who cannot see it."""

    title: str
    lines: tuple[str, ...]
    svg: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One paper: its title, who and when, its blocks in reading order, and what stands at its foot."""

    title: str
    head: tuple[str, ...]
    blocks: tuple[Block, ...]
    foot: tuple[str, ...]


def as_text(page: Page) -> str:
    """Plain text, lines of at most 78 characters where words allow it."""
    lines = [*_filled(page.title.upper()), *_lines(page.head)]
    for block in page.blocks:
        lines += ["", *_filled(block.title.upper()), *_lines(block.lines)]
    lines += ["", *_lines(page.foot)]
    return "\n".join(lines).rstrip() + "\n"


def as_markdown(page: Page) -> str:
    """Markdown in which nothing that was typed is taken for a mark."""
    parts = [f"# {md(page.title)}", _md_lines(page.head)]
    for block in page.blocks:
        parts += [f"## {md(block.title)}", _md_list(block.lines)]
    parts.append(_md_lines(page.foot))
    return "\n\n".join(part for part in parts if part) + "\n"


def as_html(page: Page) -> str:
    """One self-contained page that prints on A4: no script, nothing is fetched from anywhere."""
    head = "".join(f"<p>{_html(line)}</p>" for line in page.head)
    blocks = "".join(map(_section, page.blocks))
    foot = "".join(f"<p>{_html(line)}</p>" for line in page.foot)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{_html(page.title)}</title><style>{STYLE}</style></head><body><main><h1>{_html(page.title)}</h1>"
        f"<header>{head}</header>{blocks}<footer>{foot}</footer></main></body></html>\n"
    )


STYLE = """
@page { size: A4; margin: 10mm 16mm; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #22262b; font: 12pt/1.4 Georgia, "Liberation Serif", serif; }
main { max-width: 46rem; margin: 2rem auto; padding: 0 1rem; overflow-wrap: anywhere; }
h1 { font-size: 1.6em; line-height: 1.2; margin: 0 0 .3rem; }
h1::first-letter, h2::first-letter { text-transform: uppercase; }
h2 { font-size: 1.1em; margin: 1.1rem 0 .25rem; padding-top: .35rem; border-top: 1px solid #d2cec4; }
p { margin: 0 0 .25rem; padding-left: 1rem; text-indent: -1rem; }
header p, footer p { padding: 0; text-indent: 0; }
footer { margin-top: 1.4rem; padding-top: .5rem; border-top: 2px solid #22262b; font-size: .9em; }
figure { margin: .5rem 0; break-inside: avoid; }
svg { width: 100%; height: auto; display: block; }
h2 { break-after: avoid; }
p { orphans: 2; widows: 2; }
@media print {
  body { font-size: 10pt; line-height: 1.22; }
  main { max-width: none; margin: 0; padding: 0; }
  h2 { margin-top: .6rem; padding-top: .25rem; }
  p { margin-bottom: .12rem; }
  figure { margin: .2rem 0; }
  svg { width: 82%; }
  footer { margin-top: .6rem; padding-top: .25rem; break-inside: avoid; }
}
"""


def _section(block: Block) -> str:
    lines = "".join(f"<p>{_named(line) or '&nbsp;'}</p>" for line in block.lines)
    return f"<section><h2>{_html(block.title)}</h2>{_figure(block)}{lines}</section>"


def _named(line: str) -> str:
    """A line whose name, such as that of a measure, stands out."""
    name, colon, says = line.partition(": ")
    if not colon or len(name) > NAME_MOST or not says:
        return _html(line)
    return f"<b>{_html(name)}:</b> {_html(says)}"


def _figure(block: Block) -> str:
    return f"<figure>{block.svg}</figure>" if block.svg else ""


def _html(text: str) -> str:
    return escape(visible(text), quote=True)


def _lines(lines: Iterable[str]) -> list[str]:
    return [part for line in lines for part in _filled(visible(line))]


def _filled(text: str) -> list[str]:
    return wrap(text, WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False) or [""]


def md(text: str) -> str:
    """Text in which nothing is taken for a mark of Markdown or HTML."""
    return "".join(f"\\{char}" if char in _MD_SPECIAL else char for char in visible(text))


def _md_lines(lines: Iterable[str]) -> str:
    return "  \n".join(md(line) for line in lines)


def _md_list(lines: Iterable[str]) -> str:
    return "\n".join(f"- {md(line)}" for line in lines if line)
