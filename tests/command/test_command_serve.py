"""What `serve` refuses, in a sentence; what it shows is looked at in a browser."""

from __future__ import annotations

import socket
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care.care import open_care
from store.knowledge.time import SetClock
from tests.command.conftest import Shell


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.5", "::", "example.org"])
def test_any_address_but_the_loopback_is_refused(host: str, shell: Shell) -> None:
    done = shell("serve", "--host", host)
    assert done.status == 2
    assert f"--host {host} would let others in, and there is no log-in here" in done.err


def test_a_port_that_is_none_is_refused(shell: Shell) -> None:
    done = shell("serve", "--port", "70000")
    assert (done.status, done.err) == (
        2, "bothfeet: --port 70000 is no port: type one from 1 to 65535, as 8000\n"
    )  # fmt: skip


@pytest.mark.parametrize("url", ["ankles.example", "ftp://ankles.example", "https://", "https://a:port", "//a"])
def test_an_address_that_no_browser_opens_is_refused(url: str, shell: Shell) -> None:
    done = shell("serve", "--public-url", url)
    assert (done.status, done.err) == (
        2, f"bothfeet: --public-url {url} is no address: type it whole, such as https://ankles.example\n"
    )  # fmt: skip


def test_without_the_extra_it_says_what_to_install(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "tui.serving", raising=False)
    monkeypatch.setitem(sys.modules, "textual_serve.server", None)
    done = shell("serve")
    assert done.status == 2
    assert "the extra `web`, which is not installed: pip install '.[web]'" in done.err


def test_a_port_that_is_taken_is_said(shell: Shell) -> None:
    pytest.importorskip("textual_serve", reason="the extra `web` is not installed")
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        done = shell("serve", "--port", str(port))
    assert done.status == 2
    assert f"port {port} cannot be had" in done.err
    assert done.out == ""


def test_an_encrypted_record_is_not_served(shell: Shell, tmp_path: Path) -> None:
    pytest.importorskip("textual_serve", reason="the extra `web` is not installed")
    pytest.importorskip("sqlcipher3", reason="the extra `encrypted` is not installed")
    path = tmp_path / "secret.sqlite"
    clock = SetClock(datetime(2026, 11, 25, 10, tzinfo=UTC))
    with closing(open_care(path, clock, create=True, passphrase="a long one")):
        pass
    done = shell("serve", str(path))
    assert done.status == 2
    assert "an encrypted record is not served" in done.err


def test_a_file_that_is_no_record_is_refused_before_anything_is_served(shell: Shell, tmp_path: Path) -> None:
    pytest.importorskip("textual_serve", reason="the extra `web` is not installed")
    path = tmp_path / "notes.sqlite"
    path.write_text("not a record at all, " * 100)
    done = shell("serve", str(path))
    assert done.status == 2
    assert done.out == ""


def test_the_line_of_a_window_names_the_file_whatever_its_name_is(tmp_path: Path) -> None:
    pytest.importorskip("textual_serve", reason="the extra `web` is not installed")
    import shlex

    from tui.serving import command_line

    path = tmp_path / "a clinic's; rm -rf $HOME.sqlite"
    words = shlex.split(command_line(path, "M. O'N", silent=True))
    assert words[-5:] == ["--file", str(path), "--examiner", "M. O'N", "--no-sound"]
