"""A paper in the format that the ending of its file names."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from store.care.faults import CareFault
from store.papers.page import Page, as_html, as_markdown, as_text
from store.papers.saving import save


def _pdf(page: Page) -> bytes:
    try:
        from store.papers.pdf import as_pdf
    except ImportError as missing:
        raise CareFault(
            "PDF needs the extra `pdf`, which is not installed: pip install '.[pdf]' in the checkout, or name a "
            "file that ends in .html and print that"
        ) from missing
    return as_pdf(page)


FORMATS: dict[str, Callable[[Page], str | bytes]] = {
    ".txt": as_text,
    ".md": as_markdown,
    ".html": as_html,
    ".pdf": _pdf,
}


def save_page(page: Page, to: Path) -> Path:
    """Write a paper to a file in the format of its ending, and give its path. Raises CareFault."""
    made = FORMATS.get(to.suffix.lower())
    if made is None:
        raise CareFault(f"name a file that ends in {', '.join(FORMATS)}: the ending says which format it is")
    save(to, made(page))
    return to
