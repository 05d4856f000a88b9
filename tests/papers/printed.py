"""A page of HTML as a headless browser prints it."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NO_BROWSER = "needs a headless browser to print with"


def printed_pages(html: str, folder: Path) -> int:
    """How many pages of paper it takes."""
    page, printed = folder / "page.html", folder / "page.pdf"
    page.write_text(html, encoding="utf-8")
    words = [str(CHROMIUM), "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    words += [f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={printed}", page.as_uri()]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    return len(re.findall(rb"/Type\s*/Page[^s]", printed.read_bytes()))
