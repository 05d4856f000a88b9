"""The verb that shows the screens in a browser on this computer: what it refuses, and in which words."""

from __future__ import annotations

from argparse import Namespace
from contextlib import closing

from tui.verbs import path_of

LOOPBACK = {"127.0.0.1": "127.0.0.1", "localhost": "127.0.0.1", "::1": "::1"}
"""What may stand behind --host, and the address that it means."""

MOST_DIGITS = 10


def serve(options: Namespace) -> int:
    """Show one record in browsers on this computer, until ctrl+c. Raises a fault with a sentence."""
    from store.care.faults import CareFault, RecordFault, wants_passphrase

    host = LOOPBACK.get(options.host)
    if host is None:
        raise CareFault(
            f"--host {options.host} would let others in, and there is no log-in here: it is served on 127.0.0.1 "
            "only. To reach it from elsewhere put your own proxy with a log-in before it"
        )
    port = _port(options.port)
    if port is None:
        raise CareFault(f"--port {options.port} is no port: type one from 1 to 65535, as 8000")
    if options.path is not None and options.file is not None:
        raise CareFault("two files are named: leave --file out, or the other")
    if options.public_url and not _is_address(options.public_url):
        raise CareFault(
            f"--public-url {options.public_url} is no address: type it whole, such as https://ankles.example"
        )
    try:
        from tui import serving
    except ImportError as missing:
        raise CareFault(
            "the browser needs the extra `web`, which is not installed: pip install '.[web]' in the checkout"
        ) from missing
    from store.care.care import open_care

    try:
        with closing(open_care(path_of(options), options.clock, examiner=options.examiner, create=True)) as care:
            path = care.record.path
    except RecordFault as found:
        if wants_passphrase(found):
            raise CareFault(
                "an encrypted record is not served: whoever reached the port would read it without its "
                "passphrase. Open it in a terminal"
            ) from found
        raise
    try:
        serving.run(path, host, port, options.public_url, options.examiner)
    except OSError as taken:
        raise CareFault(
            f"port {port} cannot be had, something may listen there already: name another with --port"
        ) from taken
    return 0


def _port(text: str) -> int | None:
    """The port that is meant; None where it is none."""
    port = int(text) if text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS else 0
    return port if 0 < port < 65536 else None


def _is_address(url: str) -> bool:
    """Whether a browser could open it: http or https, and a host."""
    from urllib.parse import urlsplit

    try:
        parts = urlsplit(url)
        return parts.scheme in {"http", "https"} and bool(parts.hostname) and parts.port != 0
    except ValueError:  # of brackets or a port that cannot be
        return False
