"""`show --json`: safety screens, new sprains, and what follows a discharge."""

from __future__ import annotations

import json
from typing import Any

from tests.command.conftest import Shell


def data(shell: Shell, *words: str) -> dict[str, Any]:
    done = shell("show", *words, "--json")
    assert (done.status, done.err) == (0, "")
    found: dict[str, Any] = json.loads(done.out)
    return found


def test_the_safety_screens_as_json(shell: Shell) -> None:
    told = data(shell, "J.V.")["safety"]
    assert told == {"screened": False, "last": None, "asked_as_a_group": None, "stands": []}
    told = data(shell, "K.F.")["safety"]
    assert (told["screened"], told["last"]["outcome"], told["last"]["answers"]["talus"]) == (True, "refer", "yes")
    assert told["stands"] == [told["last"]["id"]]


def test_new_sprains_and_what_follows_a_discharge_as_json(shell: Shell) -> None:
    (told,) = data(shell, "S.L.")["resprains"]
    assert (told["side"], told["note"]) == ("left", "turned in on uneven grass, two days off")
    assert data(shell, "S.L.")["after_discharge"] is None
    after = data(shell, "D.P.")["after_discharge"]
    assert [one["due"] for one in after["recalls"]] == [True, False, False]
    assert "new sprain of the left ankle, " in shell("show", "S.L.").out
