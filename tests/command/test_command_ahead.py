"""`show --on`: what is expected, in text and as JSON, and what the next stage still wants."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import Any

import pytest

from store.care.visits import start_visit
from store.knowledge.criteria import Stage
from store.reckon.threshold import LineVerdict
from tests.command.conftest import NOON, Shell

TODAY = NOON.date()
BAND = {"value", "low80", "high80"}


def shown(shell: Shell, *words: str) -> dict[str, Any]:
    done = shell("show", "R.K.", "--json", *words)
    assert (done.status, done.err) == (0, "")
    found: dict[str, Any] = json.loads(done.out)
    return found


def of(data: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in data["measures"] if one["id"] == name)
    return found


def test_a_forecast_for_a_day(shell: Shell) -> None:
    on = TODAY + timedelta(days=14)
    lunge = of(shown(shell, "--on", on.isoformat()), "lunge")
    assert set(lunge["estimate"]) == BAND
    assert set(lunge["forecast"]) == BAND | {"on"}
    assert lunge["forecast"]["on"] == on.isoformat()
    for band in (lunge["estimate"], lunge["forecast"]):
        assert band["low80"] < band["value"] < band["high80"]
    assert lunge["estimate"]["value"] < lunge["forecast"]["value"] < lunge["left"]["value"]
    assert lunge["no_forecast"] is None


def test_the_day_is_today_where_none_is_named(shell: Shell) -> None:
    lunge = of(shown(shell), "lunge")
    assert lunge["forecast"] == lunge["estimate"] | {"on": TODAY.isoformat()}


def test_a_line_with_its_chance_and_its_days(shell: Shell) -> None:
    line = of(shown(shell), "lunge")["threshold"]
    assert set(line) == {"stage", "line", "probability", "verdict", "median_date", "low_date", "high_date"}
    assert line["stage"] == "jog"
    assert 0 <= line["probability"] <= 0.1
    assert line["verdict"] == "clearly short"
    assert TODAY < date.fromisoformat(line["low_date"]) <= date.fromisoformat(line["median_date"])


def test_what_has_no_forecast_says_why(shell: Shell) -> None:
    raises = of(shown(shell), "heel_raise")
    assert raises["forecast"] is None
    assert raises["estimate"] is None
    assert "count" in raises["no_forecast"]
    assert raises["threshold"]["verdict"] in set(LineVerdict)


def test_the_criteria_of_every_stage(shell: Shell) -> None:
    data = shown(shell)
    assert list(data["criteria"]) == list(Stage)
    jog = {one["id"]: one for one in data["criteria"]["jog"]}
    assert jog["range"]["verdict"] == "clearly short"
    assert jog["hops"]["verdict"] == "not measured"
    for one in jog.values():
        assert {"id", "verdict", "value", "line", "age_days", "source", "mark"} <= set(one)
        assert one["verdict"] in set(LineVerdict)
    assert data["episode"]["stage"] in {None, *Stage}


def test_text_tells_the_same(shell: Shell) -> None:
    said = shell("show", "R.K.", "--on", "2026-12-07").out
    assert "\nlunge on 7 Dec 2026: about " in said
    assert "80 % between" in said
    assert "jog 8.0: clearly short" in said
    assert " of 3 met" in said
    assert "advice only: no set of criteria is validated for this ankle" in said


@pytest.mark.parametrize(
    ("on", "says"),
    [
        ("2026-11-22", "2026-11-22 is past"),
        ("2028-01-01", "2028-01-01 is too far: a forecast reaches 365 days"),
        ("next week", "--on next week is no day: type it as 2026-12-24"),
        ("2026-02-30", "--on 2026-02-30 is no day"),
    ],
)
def test_a_day_that_is_none(shell: Shell, on: str, says: str) -> None:
    done = shell("show", "R.K.", "--json", "--on", on)
    assert done.status == 2
    assert says in done.err
    assert done.out == ""


def test_nothing_blind_is_foreseen(shell: Shell) -> None:
    care = shell.care()
    start_visit(care, care.episode(shown(shell)["episode"]["id"]))
    care.close()
    assert shell("add", "R.K.", "lunge 10.1 9.9").status == 0
    data = shown(shell)
    lunge = of(data, "lunge")
    assert lunge["hidden"]
    assert {lunge[key] for key in ("estimate", "forecast", "threshold", "flat")} == {None}
    jog = {one["id"]: one for one in data["criteria"]["jog"]}
    assert jog["range"]["verdict"] == "not measured"
    assert jog["range"]["value"] is None
    assert "lunge today" not in shell("show", "R.K.").out
