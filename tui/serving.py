"""The screens in a browser on this computer: textual-serve on the loopback address, a process a window, one file.

Whoever reaches the port has the record, since there is no log-in here. So it listens on the loopback address
alone, and refuses what a page from elsewhere could send through the browser: a foreign name of the host or a
foreign origin. Nothing is fetched from anywhere else.
"""

from __future__ import annotations

import shlex
import subprocess
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path
from urllib.parse import urlsplit

from aiohttp import web
from textual_serve.server import Server

ENDS_S = 2.0  # how long open windows may take to close when it ends
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


def command_line(path: Path, examiner: str, *, silent: bool) -> str:
    """The line of a shell that opens the record in one window."""
    words = [sys.executable, "-P", "-m", "tui", "--file", str(path.resolve())]
    words += ["--examiner", examiner] if examiner else []
    words += ["--no-sound"] if silent else []
    return subprocess.list2cmdline(words) if sys.platform == "win32" else shlex.join(words)


def origin_of(url: str) -> str:
    """Scheme, host and port of a URL, as a browser names an origin."""
    parts = urlsplit(url)
    return f"{parts.scheme}://{parts.netloc}"


class LoopbackServer(Server):
    """Serves one command to the browsers of this computer, or to a proxy that stands at `public_url`."""

    def __init__(self, command: str, host: str, port: int, public_url: str = "") -> None:
        self._local = f"http://{f'[{host}]' if ':' in host else host}:{port}"
        super().__init__(command, host, port, "bothfeet", public_url.rstrip("/") or self._local)
        self._origins = {self._local, f"http://localhost:{port}", origin_of(self.public_url)}

    def initialize_logging(self) -> None:
        """No log: it would tell local variables, which here are somebody's readings."""

    async def on_startup(self, app: web.Application) -> None:
        """Nothing is said before the port is open."""

    def serve(self, debug: bool = False) -> None:
        """Serve until ctrl+c or a signal to end. Raises OSError where the port cannot be had."""
        del debug
        says = f"bothfeet is at {self.public_url}: open it in a browser. ctrl+c ends it."
        web.run_app(
            self._make_app(),
            host=self.host,
            port=self.port,
            access_log=None,
            shutdown_timeout=ENDS_S,
            print=lambda *_: print(says, flush=True),  # called once the port is open
        )

    async def _make_app(self) -> web.Application:
        app = await super()._make_app()
        app.middlewares.append(self._guard)
        return app

    @web.middleware
    async def _guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Refuse what another site sends through the browser; let the page fetch nothing from elsewhere."""
        hosts = {urlsplit(origin).netloc for origin in self._origins}
        origin = request.headers.get("Origin")
        if request.host not in hosts or (origin is not None and origin not in self._origins):
            raise web.HTTPForbidden(text="bothfeet answers only to its own page on this computer\n")
        response = await handler(request)
        if not response.prepared:
            own = " ".join(sorted(self._origins))
            talks = own.replace("http://", "ws://").replace("https://", "wss://")
            response.headers["Content-Security-Policy"] = (
                f"default-src 'none'; script-src {own} 'unsafe-inline'; style-src {own} 'unsafe-inline'; "
                f"img-src {own} data:; font-src {own} data:; connect-src {own} {talks}; frame-ancestors 'none'"
            )
            response.headers["Cache-Control"] = "no-store"
            response.headers["Referrer-Policy"] = "no-referrer"
        return response


def run(path: Path, host: str, port: int, public_url: str, examiner: str) -> None:
    """Serve until ctrl+c. Raises OSError where the port cannot be had.

    Behind a proxy whoever looks is not at this computer: its tones would sound in an empty room.
    """
    LoopbackServer(command_line(path, examiner, silent=bool(public_url)), host, port, public_url).serve()
