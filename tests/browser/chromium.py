"""A headless Chromium steered by its own DevTools protocol; what a window shows is read from what it is sent."""

from __future__ import annotations

import asyncio
import base64
import json
import shutil
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pyte
from aiohttp import ClientSession, ClientWebSocketResponse, WSMsgType

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
PATIENCE_S = 60.0
COLUMNS, LINES = 200, 60  # at least as many as a window has: what it paints is placed, not wrapped


def chromium() -> str | None:
    """The browser of this computer, or None."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


class Window:
    """One window of the browser: keys go in as a person's do, and what its terminal is sent is painted here."""

    def __init__(self, session: str, send: Callable[..., Any]) -> None:
        self.session = session
        self._send = send
        self._screen = pyte.Screen(COLUMNS, LINES)
        self._stream = pyte.ByteStream(self._screen)
        self.asked: list[str] = []  # the addresses that it fetched from

    def heard(self, event: dict[str, Any]) -> None:
        if event["method"] == "Network.webSocketFrameReceived" and event["params"]["response"]["opcode"] == 2:
            self._stream.feed(base64.b64decode(event["params"]["response"]["payloadData"]))
        elif event["method"] == "Network.responseReceived":
            self.asked.append(event["params"]["response"]["url"])

    @property
    def text(self) -> str:
        return "\n".join(line.rstrip() for line in self._screen.display)

    async def type(self, text: str) -> None:
        await self._send("Input.insertText", {"text": text}, self.session)

    async def press(self, key: str, code: int) -> None:
        find = {"expression": "document.querySelector('textarea').focus()"}
        await self._send("Runtime.evaluate", find, self.session)
        for kind in ("keyDown", "keyUp"):
            await self._send(
                "Input.dispatchKeyEvent",
                {"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code},
                self.session,
            )

    async def enter(self) -> None:
        await self.press("Enter", 13)

    async def shows(self, text: str) -> None:
        """Wait until a text is on the screen of this window."""
        for _ in range(int(PATIENCE_S / 0.02)):
            if text in self.text:
                return
            await asyncio.sleep(0.02)
        raise AssertionError(f"{text!r} never came:\n{self.text.strip()}")


class Browser:
    """The whole of it; `window` opens one more."""

    def __init__(self, socket: ClientWebSocketResponse) -> None:
        self._socket = socket
        self._answers: dict[int, asyncio.Future[dict[str, Any]]] = {}
        self._windows: dict[str, Window] = {}

    async def listen(self) -> None:
        async for message in self._socket:
            if message.type is not WSMsgType.TEXT:
                continue
            told = json.loads(message.data)
            if "id" in told:
                self._answers.pop(told["id"]).set_result(told)
            elif told.get("sessionId") in self._windows:
                self._windows[told["sessionId"]].heard(told)

    async def send(self, method: str, params: dict[str, Any], session: str = "") -> dict[str, Any]:
        number = len(self._answers) + 1 + max(self._answers, default=0)
        self._answers[number] = answer = asyncio.get_running_loop().create_future()
        asked = {"id": number, "method": method, "params": params} | ({"sessionId": session} if session else {})
        await self._socket.send_json(asked)
        told = await asyncio.wait_for(answer, PATIENCE_S)
        assert "error" not in told, told
        result: dict[str, Any] = told["result"]
        return result

    async def window(self, url: str) -> Window:
        target = await self.send("Target.createTarget", {"url": "about:blank", "newWindow": True})
        session = await self.send("Target.attachToTarget", {"targetId": target["targetId"], "flatten": True})
        window = self._windows[session["sessionId"]] = Window(session["sessionId"], self.send)
        await self.send("Network.enable", {}, window.session)
        await self.send("Page.enable", {}, window.session)
        await self.send("Emulation.setFocusEmulationEnabled", {"enabled": True}, window.session)
        await self.send("Page.navigate", {"url": url}, window.session)
        return window


@asynccontextmanager
async def browser(path: str, folder: Path) -> AsyncIterator[Browser]:
    """A browser with a profile of its own in `folder`, which ends with it."""
    process = await asyncio.create_subprocess_exec(
        path, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
        "--disable-background-networking", "--window-size=1280,800", "--remote-debugging-port=0",
        f"--user-data-dir={folder / 'profile'}", "about:blank",
        stdin=asyncio.subprocess.DEVNULL, stdout=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.PIPE,
    )  # fmt: skip
    assert process.stderr is not None
    try:
        address = ""
        while not address:
            line = (await asyncio.wait_for(process.stderr.readline(), PATIENCE_S)).decode(errors="replace")
            assert line, "the browser ended at once"
            address = line.partition("DevTools listening on ")[2].strip()
        drained = asyncio.create_task(process.stderr.read())
        async with ClientSession() as client, client.ws_connect(address, max_msg_size=0) as socket:
            found = Browser(socket)
            listening = asyncio.create_task(found.listen())
            yield found
            listening.cancel()
        drained.cancel()
    finally:
        process.kill()
        await process.wait()
