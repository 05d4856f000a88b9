"""All that is held on a person in one JSON text. The people are invented."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

from store.care.everything import everything_of
from store.papers.json_out import json_parts
from store.record import readings
from tests.care.begun import Begun, begun, walked
from tests.record.made import fill_later_tables


def written(now: Begun) -> dict[str, Any]:
    """The one person of the text."""
    held = everything_of(now.care, now.care.person(now.episode.person))
    data = json.loads(b"".join(json_parts([held], now.clock.now())))
    assert data["exported_at"] == now.clock.now().text
    [one] = data["people"]
    return dict(one)


def test_each_table_is_in_it_by_the_words_of_the_record(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.care.blind = False
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0 tape note \"stiff, 'sore'\"")
    live = walked(now.bout("hold_firm"), now.clock, 200)
    live.end()
    fill_later_tables(now.care.record, now.visit, now.clock)
    one = written(now)
    assert one["person"]["label"] == "R.K."
    assert one["episodes"][0]["injured_side"] == "right"
    assert one["episodes"][0]["injured_on"] == "2026-03-01"
    left, _ = one["readings"][:2]
    assert (left["measure"], left["side"], left["value"], left["trials"]) == (
        "lunge",
        "left",
        10.2,
        [10.2, 10.1, 10.3],
    )
    assert (left["conditions"], left["note"], left["status"]) == (["tape"], "stiff, 'sore'", "measured")
    assert (left["taken_at"], left["taken_on"], left["taken_offset_min"]) == (
        "2026-11-25T09:38:00.000Z", "2026-11-25", 60,
    )  # fmt: skip
    [bout] = one["bouts"]
    assert [event["kind"] for event in bout["events"]][:2] == [event.kind for event in live.state.kept][:2]
    assert bout["came_of"]["sets"]
    assert one["decisions"][0]["reason"] == "walks well"
    assert one["programmes"][0]["items"] == [{"activity": "hold_firm"}]
    assert one["programme_days"][0]["day_on"] == "2026-11-25"
    assert one["notes"][0]["sections"] == {"plan": "again on Thursday"}
    assert one["safety_screens"][0]["answers"] == {"pulse": "no"}
    assert (one["resprains"][0]["side"], one["resprains"][0]["day_on"]) == ("right", "2026-11-25")
    assert (one["run_plans"][0]["ladder"], one["run_plans"][0]["weekdays"]) == ("nine_rungs", ["mon", "wed"])
    [ran] = one["run_sessions"]
    assert (ran["planned_on"], ran["done_on"], ran["pain_during"]) == ("2026-11-25", "2026-11-25", 1)
    assert (ran["pain_morning"], ran["swelling"], ran["distance_km"]) == (None, False, 1.2)
    assert one["appointments"][0]["minutes"] == 30
    assert one["forecasts"][0]["low80"] == 7.0
    assert one["squads"][0]["name"] == "hockey"
    assert one["hidden"] == []


def test_what_was_corrected_and_taken_back_stands_in_it(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("girth l 51 51 51 r 53 53 53")
    readings.retract_readings(now.care.record, [now.kept[0].id], by="AB", because="wrong tape")
    one = written(now)
    assert [reading.get("retracted_at") for reading in one["readings"]] == [
        now.clock.now().text,
        None,
    ]
    [amended] = [each for each in one["amendments"] if each["row_table"] == "reading"]
    assert (amended["by"], amended["because"], amended["was"]["value"]) == ("AB", "wrong tape", 51.0)


def test_what_a_blind_re_test_hides_is_named_and_nowhere(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line("lunge l 10.2 10.1 10.3 r 4.8 4.9 5.0")
    one = written(now)
    assert one["hidden"] == ["lunge"]
    assert one["readings"] == []
    assert "4.9" not in json.dumps(one)


def test_a_strange_label_comes_back_whole(tmp_path: Path) -> None:
    now = begun(tmp_path)
    held = everything_of(now.care, now.care.person(now.episode.person))
    for label in ('=a "b"\n\r\x1b[31m', "x" * 10_000, "é\u202e", "half \ud83d"):
        data = b"".join(json_parts([replace(held, person=held.person._replace(label=label))] * 2, now.clock.now()))
        assert [one["person"]["label"] for one in json.loads(data)["people"]] == [label] * 2


def test_nobody_is_an_empty_list(tmp_path: Path) -> None:
    now = begun(tmp_path)
    assert json.loads(b"".join(json_parts([], now.clock.now())))["people"] == []
