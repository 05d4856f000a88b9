"""The screens in a real browser: a reading is entered in one window and seen in the other."""

from __future__ import annotations

import asyncio
import socket
import subprocess
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

pytest.importorskip("textual_serve", reason="the extra `web` is not installed")

from aiohttp import ClientSession

from store.care.care import open_care
from store.care.people import EpisodeForm, new_person
from store.knowledge.time import SetClock
from store.knowledge.words import Side
from tests.browser.chromium import browser, chromium
from tests.terminal.driver import clean_environment
from tests.terminal.programs import BOTHFEET, as_json

CHROMIUM = chromium()


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
        return port


@asynccontextmanager
async def served(file: Path, home: Path) -> AsyncIterator[str]:
    """A record that is served; the address of its page."""
    port = free_port()
    process = await asyncio.create_subprocess_exec(
        BOTHFEET, "serve", file, "--port", str(port), "--examiner", "X",
        env=clean_environment(home), stdin=asyncio.subprocess.DEVNULL, stdout=asyncio.subprocess.PIPE,
    )  # fmt: skip
    assert process.stdout is not None
    try:
        line = (await asyncio.wait_for(process.stdout.readline(), 60)).decode()
        url = f"http://127.0.0.1:{port}"
        assert url in line, line
        yield url
    finally:
        process.terminate()
        await process.wait()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "a clinic's.sqlite"
    with closing(open_care(path, SetClock(datetime(2026, 11, 25, 10, tzinfo=UTC)), create=True)) as care:
        new_person(care, "A.B.", form=EpisodeForm(Side.LEFT))
    return path


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: the browser is not driven")
async def test_a_reading_entered_in_one_window_is_seen_in_the_other(file: Path, tmp_path: Path) -> None:
    assert CHROMIUM is not None
    async with served(file, tmp_path) as url, browser(CHROMIUM, tmp_path) as chrome:
        first, second = await chrome.window(url), await chrome.window(url)
        for window in (first, second):
            await window.shows("A.B.")
            await window.enter()
            await window.shows("Nothing has been measured yet")
        await first.type("v")
        await first.shows("consent")
        await first.press("F6", 117)
        await first.shows("or one line:")
        await first.type("girth 52.5 51")
        await first.enter()
        await second.shows("52.5")
        elsewhere = [at for at in (*first.asked, *second.asked) if not at.startswith((url, "data:", "blob:"))]
        assert not elsewhere, "the page fetches nothing from anywhere else"
    assert "52.5" in str(as_json(file, tmp_path, "show", "A.B."))


@pytest.mark.parametrize(("header", "value"), [("Host", "evil.example"), ("Origin", "http://evil.example")])
async def test_another_page_gets_nothing(header: str, value: str, file: Path, tmp_path: Path) -> None:
    async with served(file, tmp_path) as url, ClientSession() as client:
        for page in ("/", "/ws"):
            async with client.get(url + page, headers={header: value}) as answer:
                assert answer.status == 403


@pytest.mark.parametrize("words", [["--host", "0.0.0.0"], ["--port", "0"]])
def test_what_would_let_others_in_is_refused(words: list[str], file: Path, tmp_path: Path) -> None:
    done = subprocess.run(
        [BOTHFEET, "serve", file, *words],
        env=clean_environment(tmp_path),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"bothfeet: {' '.join(words)} ")
