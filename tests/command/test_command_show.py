"""`show`: plain text fit for a screen reader, JSON of the agreed shape, nothing that is blind or unprintable."""

from __future__ import annotations

import json
import re
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from store.care.appointments import plan
from store.care.care import open_care
from store.care.correcting import correct, form_of, open_again
from store.care.finding import find_person
from store.care.people import EpisodeForm, close_episode, new_person
from store.care.visits import start_visit
from store.knowledge.words import Grade, Side
from store.record import people
from tests.command.conftest import NOON, Shell

READING = {
    "value", "trials", "status", "moment", "conditions", "taken_at", "taken_on", "taken_offset_min", "examiner",
}  # fmt: skip
MEASURE = {
    "id", "unit", "reference", "gap", "gap_at_least", "gap_warnings", "deficit", "lsi", "lsi_bound", "change",
    "retest", "hidden", "estimate", "forecast", "no_forecast", "threshold", "flat",
}  # fmt: skip


def data(shell: Shell, *words: str) -> dict[str, Any]:
    done = shell("show", *words, "--json")
    assert (done.status, done.err) == (0, "")
    found: dict[str, Any] = json.loads(done.out)
    return found


def measure(shown: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in shown["measures"] if one["id"] == name)
    return found


# text


def test_the_caseload_in_text(shell: Shell) -> None:
    done = shell("show")
    assert (done.status, done.err) == (0, "")
    head, count, *rest = done.out.split("\n\n")
    assert head == "These people are invented, and so is all that was measured of them."
    assert count == "12 open episodes, 1 seen today"
    assert "R.K., right ankle injured, lateral ligament, II, week 4, next visit" in rest[0]
    assert "next visit today 13:00" in rest[0].splitlines()[0]
    assert "widest gap: lunge, 5.3 short" in rest[0].splitlines()[0]
    assert (
        rest[1] == "closed\nD.P., right ankle injured, lateral ligament, II, closed 21 Aug 2026, recall due 21 Nov"
    )


def test_one_ankle_in_text(shell: Shell) -> None:
    said = shell("show", "R.K.").out
    assert "R.K., 30 years, right ankle injured, lateral ligament, grade II\n" in said
    assert "week 4, day 27 since the injury of 27 Oct 2026, healing phase: repair into remodelling\n" in said
    assert "goal: 21 km forest race, 14 Mar 2027, in 15 weeks\n" in said
    lunge = next(line for line in said.splitlines() if line.startswith("lunge: "))
    assert lunge.startswith(
        "lunge: left 10.1 cm, right 4.8 cm, 20 Nov 2026; the injured right is 5.3 cm short against"
    )
    assert "LSI" not in lunge
    assert "within measurement error" in lunge
    assert "re-test of 20 Nov 2026, blind: +0.7, within measurement error" in lunge
    assert "LSI 3" in next(line for line in said.splitlines() if line.startswith("heel raise: "))
    assert "safety screen of 30 Oct 2026, by invented: no stop sign found\n" in said
    assert "safety asked as a group, no change reported, 20 Nov 2026, by invented\n" in said
    assert "home programme of 13 Nov 2026, carried over from 9 Nov" in said
    assert said.rstrip().endswith("a licensed clinician's judgement and local protocol.")


def test_text_draws_nothing_and_leaves_no_meaning_to_a_place(shell: Shell) -> None:
    for words in (["show"], ["show", "R.K."], ["show", "A.O."], ["measures"], ["measures", "girth"]):
        said = shell(*words).out
        assert not re.search("[\u2500-\u259f▲▼◀▶·○✓|]", said)
        assert not re.search(r"\S {2,}\S", said), "columns would be meaning by place"
    for line in shell("show", "R.K.").out.splitlines():
        if line.startswith(("lunge:", "girth:", "stance, eyes open:", "heel raise:")):
            assert re.match(r"[^:]+: left .+, right .+", line)


def test_both_injured_ankles_are_told_and_one_by_its_side(shell: Shell) -> None:
    both = shell("show", "A.O.").out
    assert both.count("A.O., 43 years") == 2
    assert both.count("These people are invented") == 1
    assert "both ankles are injured: there is no uninjured side to hold this one against" in both
    assert " against the uninjured side" not in both
    right = shell("show", "A.O.", "--side", "right").out
    assert "right ankle injured" in right
    assert "left ankle injured" not in right


def test_a_person_may_be_named_by_the_start_of_an_id(shell: Shell) -> None:
    whole = data(shell, "R.K.")["person"]["id"]
    assert data(shell, whole[:-1])["person"]["label"] == "R.K."
    several = shell("show", whole[:3])
    assert several.status == 2
    assert "people answer to" in several.err


def test_without_an_episode_or_a_person_it_says_what_to_do(own: Shell) -> None:
    care = own.care()
    new_person(care, "M.M.")
    care.close()
    assert own("show", "M.M.").err == "bothfeet: M.M. has no episode yet: open one on screen (F2)\n"
    assert own("show", "K.L.", "--side", "left").err == (
        "bothfeet: K.L. has no episode of the left ankle: open one on screen (F2)\n"
    )
    assert "without an episode\nM.M." in own("show").out
    assert "nothing measured yet" in own("show", "K.L.").out
    assert "invented" not in own("show").out


def test_readings_in_a_brace_are_compared_with_a_warning(own: Shell) -> None:
    own("add", "K.L.", "lunge 10 5")
    own.clock.put(NOON + timedelta(days=3))
    own("add", "K.L.", "lunge 10 7.5 brace")
    said = own("show", "K.L.").out
    assert "right 7.5 cm in brace" in said
    assert "+2.5, clear gain, but not under the same conditions: none noted, then brace" in said


def test_a_measure_that_this_copy_does_not_know_is_named(own: Shell) -> None:
    own("add", "K.L.", "lunge 10 5")
    with closing(sqlite3.connect(own.path)) as db, db:
        db.create_function("fold", 1, str)
        names = [row[1] for row in db.execute("PRAGMA table_info(reading)")]
        kept = dict(zip(names, db.execute("SELECT * FROM reading").fetchone(), strict=True))
        kept |= {"id": kept["id"][:-4] + "ffff", "measure": "squat_depth"}
        marks = ", ".join(f":{name}" for name in names)
        db.execute(f"INSERT INTO reading VALUES ({marks})", kept)
    assert (
        "squat_depth: it stands in the file, but this copy does not know this measure" in own("show", "K.L.").out
    )
    assert data(own, "K.L.")["unknown_measures"] == ["squat_depth"]


def test_what_another_program_put_into_a_label_cannot_steer_the_terminal(own: Shell) -> None:
    care = own.care()
    (person,) = people.people_labelled(care.record, "K.L.")
    bad = "K\x1b[31mL\u202e\x9b2J\nmore"
    care.record.db.execute(
        "UPDATE person SET label = :bad, revision = :next, revised_because = 'x' WHERE id = :id",
        {"bad": bad, "next": care.new_id(), "id": person.id},
    )
    care.close()
    for words in (["show"], ["show", person.id], ["show", "--json"], ["show", person.id, "--json"], ["show", "K"]):
        done = own(*words)
        assert not any(char in done.out + done.err for char in "\x1b\u202e\x9b"), words
    assert "KU+001B[31mLU+202EU+009B2JU+000Amore, right ankle injured" in own("show").out
    assert data(own)["people"][0]["label"] == bad


def test_a_formula_in_a_label_is_only_text(own: Shell) -> None:
    care = own.care()
    new_person(care, "=1+1", form=EpisodeForm(Side.LEFT))
    care.close()
    assert "=1+1, left ankle injured" in own("show").out


# JSON


def test_the_caseload_as_json(shell: Shell) -> None:
    shown = data(shell)["people"]
    expected_today = ["R.K.", "I.S.", "M.B.", "S.L."]
    in_care = [*expected_today, "A.O.", "A.O.", "B.W.", "H.Z.", "J.V.", "K.F.", "N.R.", "T.M."]
    well = ["A.W.", "C.H.", "E.T.", "G.P.", "L.D.", "P.J."]
    assert [one["label"] for one in shown] == [*in_care, "D.P.", *well]
    assert {one["injured_side"] for one in shown} == {"left", "right", None}
    stages = {one["label"]: one["stage"] for one in shown if one["stage"]}
    assert stages == {"T.M.": "jog", "I.S.": "walk", "B.W.": "agility"}
    assert [one["open"] for one in shown] == [True] * 12 + [False] * 7
    assert {one["label"] for one in shown if one["open"] and one["grade"] is None} == {"J.V.", "N.R."}
    assert shown[12]["closed_on"] == "2026-08-21"
    assert shown[12]["recall_due"] == {"months": 3, "on": "2026-11-21", "due": True}


def test_one_ankle_as_json(shell: Shell) -> None:
    shown = data(shell, "R.K.")
    assert {"person", "episode", "measures"} <= set(shown)
    assert shown["person"]["label"] == "R.K."
    assert shown["episode"]["injured_side"] == "right"
    assert (shown["episode"]["grade"], shown["episode"]["stage"]) == ("II", None)
    assert shown["episode"]["goal_on"] == "2027-03-14"
    assert shown["invented"] is True
    for one in shown["measures"]:
        sides = {"left", "right"} if "left" in one else {"single"}
        assert set(one) == MEASURE | sides
        for side in sides:
            assert one[side] is None or set(one[side]) == READING


def test_a_paired_measure_as_json(shell: Shell) -> None:
    lunge = measure(data(shell, "R.K."), "lunge")
    assert lunge["unit"] == "cm"
    assert lunge["left"]["trials"] == [10.3, 10.0, 10.0]
    assert lunge["right"]["status"] == "measured"
    assert lunge["right"]["taken_at"].endswith("Z")
    assert datetime.fromisoformat(lunge["right"]["taken_at"]).utcoffset() == timedelta(0)
    assert lunge["right"]["taken_on"] == "2026-11-20"
    assert lunge["right"]["taken_offset_min"] == 60
    assert lunge["reference"] == {"kind": "uninjured side", "value": 10.1}
    assert lunge["gap"] == -lunge["deficit"] == pytest.approx(-5.333333333, abs=1e-9)
    assert lunge["change"] == {
        "value": 0.266666667, "mdc": 1.9, "verdict": "within measurement error", "at_least": False, "warnings": [],
    }  # fmt: skip
    assert lunge["retest"]["change"] == 0.733333333
    assert lunge["retest"]["blind"] is True


def test_a_single_measure_as_json(shell: Shell) -> None:
    pain = measure(data(shell, "R.K."), "pain_now")
    assert pain["single"]["value"] == 1
    assert (pain["gap"], pain["lsi"], pain["reference"]) == (None, None, None)
    assert pain["change"]["verdict"] == "error unknown"
    assert pain["change"]["mdc"] is None


def test_the_index_stands_where_it_can_be_computed_and_never_of_girth(shell: Shell) -> None:
    shown = data(shell, "R.K.")
    assert measure(shown, "lunge")["lsi"] == pytest.approx(47.194719472)
    assert measure(shown, "heel_raise")["lsi"] == pytest.approx(
        100 * 8 / measure(shown, "heel_raise")["left"]["value"]
    )
    assert measure(shown, "girth")["lsi"] is None
    assert measure(data(shell, "A.O."), "lunge")["lsi"] is None, "both ankles are injured"


def test_unable_and_cap_reached_as_json(shell: Shell) -> None:
    unable = measure(data(shell, "N.R."), "stance_open")
    assert unable["right"]["status"] == "unable"
    assert unable["right"]["value"] is None
    assert unable["right"]["trials"] == []
    assert (unable["gap"], unable["lsi"], unable["change"]) == (None, None, None)
    capped = measure(data(shell, "S.L."), "stance_open")
    assert (capped["left"]["status"], capped["left"]["value"]) == ("cap reached", 45)


def test_figures_are_raw_without_the_noise_of_binary_fractions(own: Shell) -> None:
    own("add", "K.L.", "lunge l 10.1 10.2 10.3 r 4.7 4.8 5")
    said = own("show", "K.L.", "--json").out
    assert all(len(figure.split(".")[1]) <= 9 for figure in re.findall(r"\d+\.\d+", said))
    assert measure(json.loads(said), "lunge")["right"]["value"] == 4.833333333


def test_an_empty_record_is_an_empty_list(own: Shell) -> None:
    own.path.unlink()
    open_care(own.path, own.clock, create=True).close()
    assert data(own) == {"people": [], "invented": False}
    assert own("show").out == "nobody is in this record yet: `bothfeet` opens the screens, and F2 adds a person\n"


def test_blind_values_are_left_out_of_text_and_data(shell: Shell) -> None:
    care = shell.care()
    shown = data(shell, "R.K.")
    start_visit(care, care.episode(shown["episode"]["id"]))
    care.close()
    shell("add", "R.K.", "lunge 10.3 6.6")
    lunge = measure(data(shell, "R.K."), "lunge")
    assert lunge["hidden"] is True
    assert lunge["right"]["taken_on"] == "2026-11-20"
    said = shell("show", "R.K.").out
    assert "6.6" not in said
    assert "today's values are hidden until the re-test is in" in said
    assert "widest gap: hidden until re-test" in shell("show").out


def test_when_somebody_comes_next_is_told(own: Shell) -> None:
    care = own.care()
    plan(care, find_person(care, "K.L."), "+2 9:30")
    care.close()
    day = (own.clock.now().on + timedelta(days=2)).isoformat()
    assert re.search(r"^K\.L\., .*, next visit \w{3} 09:30", own("show").out, re.M)
    assert re.search(r"^next visit \w{3} 09:30$", own("show", "K.L.").out, re.M)
    told = data(own, "K.L.")["appointment"]
    assert (told["due_on"], told["minutes"]) == (day, 30)
    assert data(own)["people"][0]["due_at"] == told["due_at"]


# visits


def test_the_last_three_visits_are_told_with_what_was_said_measured_and_timed(shell: Shell) -> None:
    said = shell("show", "R.K.").out
    assert "\n\nthe last 3 visits of 8, the newest first (--visits all tells every one)\n\n" in said
    blocks = [block for block in said.split("\n\n") if re.match(r"\w{3} \d+ Nov 2026 \d\d:\d\d, week", block)]
    assert [block.split(",")[0] for block in blocks] == [
        "Fri 20 Nov 2026 09:20",
        "Tue 17 Nov 2026 10:40",
        "Fri 13 Nov 2026 09:20",
    ]
    for line in (
        "pain: now 1, worst 3, next morning 1, walking 2",
        "home programme: 3 of 3 days planned",
        "mobilisation, belt: right, 3 of 3 sets, 10 reps each; set 1: pain 0; set 2: pain 0; set 3: pain 0",
    ):
        assert line in blocks[0].splitlines()
    ways = "front|back|in|out"  # in an order that hangs on the id of the bout
    assert re.search(
        rf"\ndirection shifts: right, 10 of 12 in control, lost: (({ways}) 1, ({ways}) 1|({ways}) 2)\n", blocks[0]
    )
    assert "; set 1 right: 2 faults, control 2, small corrections; " in blocks[0]
    assert "re-test left 9.8, right 5.5 cm, taken blind; left -0.3" in blocks[0]


def test_as_many_visits_as_are_asked_for(shell: Shell) -> None:
    def told(*words: str) -> int:
        return len(re.findall(r"^\w{3} \d+ \w+ 2026 \d\d:\d\d, week", shell("show", "R.K.", *words).out, re.M))

    assert [told("--visits", "0"), told("--visits", "1"), told("--visits", "all")] == [0, 1, 8]
    assert len(data(shell, "R.K.")["visits"]) == 8
    assert len(data(shell, "R.K.", "--visits", "2")["visits"]) == 2
    wrong = shell("show", "R.K.", "--visits", "some")
    assert wrong.status == 2
    assert wrong.err == "bothfeet: --visits some is no number: type how many visits, as 5, or all\n"


def test_visits_as_json(shell: Shell) -> None:
    last = data(shell, "R.K.")["visits"][0]
    assert (last["kind"], last["week"], last["minutes"], last["hidden"]) == ("clinic", 4, 39.2, [])
    assert last["started_at"] == "2026-11-20T08:20:00.000Z"
    assert last["said"] == {
        "pain_now": 1, "pain_worst": 3, "pain_morning": 1, "pain_walk": 2, "confidence": 6, "gave_way": 0,
        "home_done": 3, "home_planned": 3, "consent": True, "consent_at": last["said"]["consent_at"],
    }  # fmt: skip
    lunge = [one for one in last["readings"] if one["measure"] == "lunge" and one["side"] == "right"]
    assert [(one["moment"], one["blind"]) for one in lunge] == [("before", False), ("after", True)]
    right = next(one for one in last["retests"] if one["side"] == "right")
    assert (right["change"], right["verdict"]) == (0.733333333, "within measurement error")
    belt, hold, shifts, _ = last["bouts"]
    assert (belt["activity"], belt["side"], belt["kind"]) == ("mobilisation_belt", "right", "paced reps")
    assert (belt["pain"], belt["done"]["reps"], belt["planned"]["reps"]) == ([0, 0, 0], 30, 30)
    assert (belt["ended_early"], belt["pauses"]) == (False, 0)
    assert (hold["side"], hold["sides"], hold["faults"]) == (None, ["left", "right"], 4)
    assert [one["control"] for one in hold["sets"]] == [3, 3, 3, 2, 2, 2]
    lost = [shift["direction"] for shift in shifts["sets"][0]["shifts"] if not shift["controlled"]]
    assert len(lost) == 2
    told = ", ".join(f"{way} {lost.count(way)}" for way in dict.fromkeys(lost))
    assert f"direction shifts: right, 10 of 12 in control, lost: {told}\n" in shell("show", "R.K.").out


def test_a_visit_in_which_nothing_was_done_is_no_visit(shell: Shell) -> None:
    before = shell("show", "R.K.").out
    care = shell.care()
    found = data(shell, "R.K.")
    start_visit(care, care.episode(found["episode"]["id"]))
    care.close()
    assert shell("show", "R.K.").out == before
    assert data(shell, "R.K.")["visits"] == found["visits"]
    shell("add", "R.K.", "girth 51 52")
    assert "a visit goes on since 23 Nov 2026 12:00" in shell("show", "R.K.").out
    assert "Mon 23 Nov 2026 12:00, week 4, clinic, still open" in shell("show", "R.K.").out


def test_a_blind_visit_tells_nothing_of_what_came_before_the_re_test(shell: Shell) -> None:
    care = shell.care()
    start_visit(care, care.episode(data(shell, "R.K.")["episode"]["id"]))
    care.close()
    shell("add", "R.K.", "lunge 10.31 6.62")
    (now, *_) = data(shell, "R.K.")["visits"]
    assert now["hidden"] == ["lunge"]
    assert now["readings"] == now["retests"] == []
    for words in (["show", "R.K."], ["show", "R.K.", "--json"], ["show", "R.K.", "--visits", "1"]):
        said = shell(*words).out
        assert "6.6" not in said
        assert "10.31" not in said


def test_what_was_graded_later_and_closed_is_told_as_it_stands_now(shell: Shell) -> None:
    with closing(shell.care()) as care:
        person, episode = new_person(care, "Q.X.", form=EpisodeForm(Side.LEFT))
        assert episode is not None
        _, graded = correct(care, person, episode, "Q.Y.", "1995", replace(form_of(episode), grade=Grade.II))
        closed = close_episode(care, graded)
    assert data(shell, "Q.Y.")["person"]["born"] == "1995"
    told = data(shell, "Q.Y.")["episode"]
    assert closed.closed is not None
    assert (told["grade"], told["closed_at"]) == ("II", closed.closed.text)
    text = shell("show", "Q.Y.").out
    assert "lateral ligament, grade II" in text
    assert "closed 23 Nov 2026" in text
    with closing(shell.care()) as care:
        open_again(care, care.episode(episode.id))
    assert data(shell, "Q.Y.")["episode"]["closed_at"] is None
    assert "closed 23 Nov 2026" not in shell("show", "Q.Y.").out
