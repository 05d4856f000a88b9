"""A paper in the format that the ending of its file names."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import TypeVar

from store.care.faults import CareFault
from store.care.home_sheet import Sheet
from store.papers import page as pages
from store.papers import sheet as sheets
from store.papers.page import Page
from store.papers.saving import save

Paper = TypeVar("Paper", Page, Sheet)

NO_PDF = (
    "PDF needs the extra `pdf`, which is not installed: pip install '.[pdf]' in the checkout, or name a file that "
    "ends in .html and print that"
)


def _pdf(page: Page) -> bytes:
    try:
        from store.papers.pdf import as_pdf
    except ImportError as missing:
        raise CareFault(NO_PDF) from missing
    return as_pdf(page)


def _sheet_pdf(sheet: Sheet) -> bytes:
    try:
        from store.papers.pdf_sheet import sheet_pdf
    except ImportError as missing:
        raise CareFault(NO_PDF) from missing
    return sheet_pdf(sheet)


FORMATS: Mapping[str, Callable[[Page], str | bytes]] = {
    ".txt": pages.as_text,
    ".md": pages.as_markdown,
    ".html": pages.as_html,
    ".htm": pages.as_html,
    ".pdf": _pdf,
}

SHEET_FORMATS: Mapping[str, Callable[[Sheet], str | bytes]] = {
    ".txt": sheets.as_text,
    ".md": sheets.as_markdown,
    ".html": sheets.as_html,
    ".htm": sheets.as_html,
    ".pdf": _sheet_pdf,
}
"""Of the home sheet, which has drawings and tables."""


def save_page(page: Page, to: Path) -> Path:
    """Write a paper to a file in the format of its ending, and give its path. Raises CareFault."""
    return _save(page, to, FORMATS)


def save_sheet(sheet: Sheet, to: Path) -> Path:
    """The same of a home sheet."""
    return _save(sheet, to, SHEET_FORMATS)


def _save(paper: Paper, to: Path, formats: Mapping[str, Callable[[Paper], str | bytes]]) -> Path:
    made = formats[known_ending(to, formats)]
    save(to, made(paper))
    return to


def known_ending(to: Path, formats: Collection[str]) -> str:
    """The ending of a file. Raises CareFault where it is of no format."""
    ending = to.suffix.lower()
    if ending not in formats:
        why = ", since the ending says the format; .html prints well" if ".html" in formats else ""
        raise CareFault(f"{to.name or to} ends in none of {', '.join(formats)}: name a file that does{why}")
    return ending
