"""Making an encrypted record from the command line."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from store.care.care import open_care
from store.care.faults import CareFault, RecordFault
from store.care.people import new_person
from store.knowledge.time import SetClock
from tests.command.conftest import Shell
from tests.helpers.stage import NOON
from tui.verbs import make_encrypted

pytest.importorskip("sqlcipher3", reason="the extra `encrypted` is not installed")

Answer = Callable[..., None]


@pytest.fixture
def answer(monkeypatch: pytest.MonkeyPatch) -> Answer:
    def answers(*given: str) -> None:
        left = iter(given)
        monkeypatch.setattr("getpass.getpass", lambda _: next(left))

    return answers


def options(path: Path) -> Namespace:
    return Namespace(path=path, file=None, clock=SetClock(NOON), examiner="A.B.")


def test_it_opens_with_its_passphrase_only(tmp_path: Path, answer: Answer) -> None:
    path = tmp_path / "clinic.sqlite"
    answer("a long walk", "a long walk")
    make_encrypted(options(path)).close()
    assert not path.read_bytes().startswith(b"SQLite format 3")
    open_care(path, SetClock(NOON), passphrase="a long walk").close()
    with pytest.raises(RecordFault):
        open_care(path, SetClock(NOON))


@pytest.mark.parametrize(("given", "says"), [(("",), "empty"), (("one", "other"), "differ")])
def test_a_slip_makes_nothing(tmp_path: Path, answer: Answer, given: tuple[str, ...], says: str) -> None:
    path = tmp_path / "clinic.sqlite"
    answer(*given)
    with pytest.raises(CareFault, match=says):
        make_encrypted(options(path))
    assert not path.exists()


def test_another_encrypted_record_is_brought_in_with_its_passphrase(
    tmp_path: Path, answer: Answer, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "clinic.sqlite"
    answer("a long walk", "a long walk")
    with closing(make_encrypted(options(other))) as care:
        new_person(care, "K.L.")
    shell = Shell(monkeypatch, capsys, tmp_path / "record.sqlite")
    open_care(shell.path, shell.clock, create=True).close()
    assert "encrypted" in shell("merge", str(other)).err
    shell.answers()
    answer("a long walk")
    assert shell("merge", str(other)).out.startswith("1 entry added")
    assert "K.L." in shell("show").out


def test_a_record_that_is_there_stays_as_it_is(tmp_path: Path, answer: Answer) -> None:
    path = tmp_path / "clinic.sqlite"
    open_care(path, SetClock(NOON), create=True).close()
    before = path.read_bytes()
    answer()
    with pytest.raises(CareFault, match="stays as it is"):
        make_encrypted(options(path))
    assert path.read_bytes() == before
