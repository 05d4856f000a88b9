"""The verb of the home sheet: what it prints or saves. It imports what it needs when it runs, never Textual."""

from __future__ import annotations

from argparse import Namespace
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from tui.verbs import care_of, say

if TYPE_CHECKING:
    from store.papers.page import Page

SHEETS = {".html": "as_html", ".htm": "as_html", ".md": "as_markdown", ".txt": "as_text", ".pdf": "as_page"}
"""How a home sheet is written, by the ending of its file."""


def sheet(options: Namespace) -> int:
    """Print the home sheet of a person, or save it: as text, Markdown or a page of HTML by the file's ending."""
    from store.care.faults import CareFault
    from store.care.finding import find_person, shown_episodes
    from store.care.home_sheet import sheet_of
    from store.knowledge.words import Side
    from store.papers import sheet as papers
    from store.papers.saving import save

    out: Path | None = options.out
    ending = out.suffix.lower() if out is not None else ""
    if out is not None and ending not in SHEETS:
        raise CareFault(
            f"{out} ends in none of {', '.join(SHEETS)}: name a file that does; .html prints on one page"
        )
    side = Side(options.side) if options.side else None
    with closing(care_of(options, only_read=True)) as care:
        person = find_person(care, options.person)
        made = sheet_of(care, shown_episodes(care, person, side)[0].id)
    if out is None:
        say(papers.as_text(made).rstrip("\n"))
        return 0
    save(out, _as_pdf(papers.as_page(made)) if ending == ".pdf" else getattr(papers, SHEETS[ending])(made))
    say(f"saved {out}")
    return 0


def _as_pdf(page: Page) -> bytes:
    from store.care.faults import CareFault

    try:
        from store.papers.pdf import as_pdf
    except ImportError as missing:
        raise CareFault(
            "PDF needs the extra `pdf`, which is not installed: pip install '.[pdf]' in the checkout; or save "
            ".html and print that"
        ) from missing
    return as_pdf(page)
