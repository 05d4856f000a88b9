"""The goal's day on a record: what is foreseen and what not, what would have to be true, when it is silent."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest

from store.care import stages, visits
from store.care.dates import short_day
from store.care.foreseeing import foresee
from store.care.people import close_episode
from store.care.run_acts import plan, tell
from store.care.run_against import NOT_DECIDED, stands_against
from store.care.run_data import running_data
from store.care.run_goal import GoalAhead, goal_ahead, goal_lines, km_of, told_of_running
from store.care.run_ready import ReadyAhead, Unforeseen, ready_words
from store.care.running import running_standing
from store.care.standing import standing
from store.knowledge.criteria import Stage
from store.record import episodes
from tests.screens.made import opened, orienteer, take

TODAY = date(2026, 11, 25)
REST_MET = (
    "girth l 51.0 51.0 51.0 r 51.3 51.3 51.3", "heel l 24 r 24", "stance l 45 45 45 r 45 45 45",
    "hop_spot yes yes", "pain_hop 0", "confidence 8", "pain_walk 0", "pain_morning 0",
)  # fmt: skip


class Room:
    """R.K., four weeks after the sprain, with a race of 21 km on 14 March."""

    def __init__(self, tmp_path: Path) -> None:
        self.care, self.clock = opened(tmp_path)
        self.id = orienteer(self.care, self.clock).id

    def ahead(self) -> GoalAhead | None:
        return goal_ahead(self.care, running_standing(self.care, self.id), standing(self.care, self.id))

    @property
    def told(self) -> list[str]:
        found = self.ahead()
        return goal_lines(found) if found is not None else []

    def revised(self, **other: object) -> None:
        episode = self.care.episode(self.id)
        changed = episode._replace(**other)  # type: ignore[arg-type]  # by name
        episodes.revise_episode(self.care.record, changed, by="AB", because="told later")

    def measured(self, *lines: str) -> None:
        visit = visits.start_visit(self.care, self.care.episode(self.id), planned=False)
        for line in lines:
            take(self.care, visit, line)
        visits.end_visit(self.care, visit)

    def decided(self, stage: Stage) -> None:
        stages.decide(self.care, standing(self.care, self.id), stage, "as it should be")


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Room]:
    found = Room(tmp_path)
    yield found
    found.care.close()


@pytest.mark.parametrize(
    ("goal", "km"),
    [
        ("21 km forest race", 21),
        ("half marathon, 21,1km", 21.1),
        ("10KM in spring", 10),
        ("league match", None),
        ("from 5 km to 10 km", None),
        ("room 21", None),
        ("", None),
        (None, None),
    ],
)
def test_the_distance_is_what_the_goal_names(goal: str | None, km: float | None) -> None:
    assert km_of(goal) == km


def test_where_something_short_has_no_forecast_no_day_is_told_as_if_it_were_one(room: Room) -> None:
    found = room.ahead()
    assert found is not None
    ready = found.ready
    assert ready is not None
    assert "lunge" in ready.foreseen
    assert {("confidence", "short"), ("heel raise", "short")} <= {tuple(one) for one in ready.unforeseen}
    assert found.chance is None
    assert (ready.days, found.in_one_piece) == ((None, None), (None, None))
    assert ready.low is not None
    assert ready.low > TODAY
    assert ready.not_before == ready.low
    assert found.earliest is not None
    # from 4.5 to 21 km by a tenth a week
    assert found.earliest > ready.low + timedelta(weeks=17)
    first, second = room.told
    assert first.startswith(
        f"when it is ready to jog cannot be foreseen: {len(ready.unforeseen)} have no forecast, such as "
    )
    assert first.endswith(f"; not before {short_day(ready.low)} by girth, lunge")
    assert second.endswith("14 Mar does not hold by this ladder")


def test_what_the_ankle_cannot_do_is_named_first_and_has_no_forecast(room: Room) -> None:
    room.measured("heel r unable", "girth l 51.0 51.0 51.0 r 51.3 51.3 51.3", "lunge l 10.2 r 10.2")
    found = room.ahead()
    assert found is not None
    assert found.ready is not None
    assert found.ready.unforeseen[0] == ("heel raise", "unable")
    assert room.told[0].startswith("when it is ready to jog cannot be foreseen: ")
    assert " such as heel raise (unable) and " in room.told[0]


def test_a_bound_is_never_earlier_than_what_is_foreseen_and_never_today(room: Room) -> None:
    room.measured("lunge l 10.2 r 10.2")
    found = room.ahead()
    assert found is not None
    assert found.ready is not None
    assert found.ready.foreseen == ("girth",)
    dates = foresee(room.care, standing(room.care, room.id), "girth").lines[0].dates
    assert dates is not None
    assert dates.low is not None
    if dates.low > TODAY:
        assert found.ready.not_before == dates.low
    assert f"{short_day(TODAY)}" not in room.told[0]
    assert ReadyAhead(TODAY, TODAY, None, ("girth",), (Unforeseen("heel raise", "unable"),)).not_before is None
    unseen = ready_words(ReadyAhead(TODAY, TODAY, None, ("girth",), (Unforeseen("heel raise", "unable"),)))
    assert unseen == "when it is ready to jog cannot be foreseen: heel raise (unable) has no forecast"
    never = ready_words(ReadyAhead(TODAY, None, None, ("girth",), (Unforeseen("heel raise", "unable"),)))
    assert never.endswith("heel raise (unable) has no forecast; not within a year by girth")


def test_what_would_have_to_be_true_counts_what_has_no_forecast(room: Room) -> None:
    room.measured("girth l 51.0 51.0 51.0 r 51.3 51.3 51.3")
    room.revised(goal="5 km", goal_on=date(2027, 7, 1))
    found = room.ahead()
    assert found is not None
    assert found.ready is not None
    assert f", {len(found.ready.unforeseen)} more met and jogging by " in room.told[1]


def test_where_all_else_is_met_the_chance_is_that_of_the_lunge_by_the_last_day_to_begin(room: Room) -> None:
    room.measured(*REST_MET)
    room.revised(goal="10 km forest race", goal_on=date(2027, 5, 16))
    found = room.ahead()
    assert found is not None
    assert found.ready is not None
    assert (found.ready.foreseen, found.ready.unforeseen) == (("lunge",), ())
    assert found.start_by is not None
    held = standing(room.care, room.id)
    (line,) = (one for one in stages.stage_standing(room.care, held, Stage.JOG).criteria if one.measure == "lunge")
    told = foresee(room.care, held, "lunge").forecast
    assert told is not None
    assert line.answer.line is not None
    assert line.dates is not None
    assert found.ready.days == (line.dates.low, line.dates.high)
    assert room.told[0].startswith(f"ready to jog {short_day(line.dates.low) if line.dates.low else ''} to ")
    assert found.chance is not None
    assert found.chance == pytest.approx(told.chance_past(line.answer.line, found.start_by), abs=0.02)
    assert f"lunge at least {line.answer.line:g}" in room.told[1].replace(".0 ", " ")
    assert f"chance at most {round(100 * found.chance)} %" in room.told[1]


def test_an_easier_line_or_a_later_day_is_never_less_likely(room: Room) -> None:
    room.measured(*REST_MET)
    chances = []
    for day in (date(2027, 4, 1), date(2027, 5, 1), date(2027, 7, 1)):
        room.revised(goal="5 km", goal_on=day)
        found = room.ahead()
        assert found is not None
        chances.append(found.chance or 0.0)
    assert chances == sorted(chances)


def test_once_it_runs_the_day_holds_or_does_not_if_every_session_is_clean(room: Room) -> None:
    room.decided(Stage.JOG)
    plan(room.care, room.id, "mon wed fri")
    room.revised(goal="5 km with the club", goal_on=date(2027, 3, 14))
    found = room.ahead()
    assert found is not None
    assert (found.ready, found.chance) == (None, None)
    assert room.told == ["5 km not before 15 Jan 2027: 14 Mar holds if every session is clean"]
    room.revised(goal="5 km with the club", goal_on=date(2027, 1, 10))
    assert room.told == ["5 km not before 15 Jan 2027: 10 Jan does not hold by this ladder"]


def test_a_told_distance_takes_the_place_of_the_usual_one(room: Room) -> None:
    room.decided(Stage.JOG)
    plan(room.care, room.id, "rung 9 mon wed fri")
    room.revised(goal="8 km", goal_on=date(2027, 3, 14))
    before = room.ahead()
    tell(room.care, room.id, "continuous 45 min 7.5 km pain 0 swelling no")
    after = room.ahead()
    assert before is not None
    assert after is not None
    assert (before.from_km, after.from_km) == (4.5, 7.5)
    assert before.earliest is not None
    assert after.earliest is not None
    assert after.earliest < before.earliest


def test_a_goal_that_names_no_distance_is_not_said_to_fail(room: Room) -> None:
    room.decided(Stage.JOG)
    room.revised(goal="foil tournament", goal_on=TODAY + timedelta(days=14))
    (says,) = room.told
    assert says.startswith("30 continuous not before ")
    assert says.endswith("; the goal is 9 Dec")


def test_it_is_silent_without_a_day_past_it_past_jogging_and_after_the_end(room: Room) -> None:
    room.revised(goal_on=None)
    assert room.ahead() is None
    room.revised(goal_on=TODAY - timedelta(days=1))
    assert room.ahead() is None
    room.revised(goal_on=date(2027, 3, 14))
    assert room.ahead() is not None
    room.decided(Stage.RUN)
    assert room.ahead() is None
    plan(room.care, room.id, "mon wed fri")
    assert room.ahead() is not None
    close_episode(room.care, room.care.episode(room.id))
    assert room.ahead() is None


def test_what_stands_against_running_is_told_for_as_long_as_it_does(room: Room) -> None:
    def against() -> tuple[str, ...]:
        return stands_against(room.care, running_standing(room.care, room.id), standing(room.care, room.id))

    assert against() == ()  # nothing is planned
    plan(room.care, room.id, "mon wed fri", all_the_same=True)
    found = room.ahead()
    assert found is not None
    assert found.ready is not None
    assert found.ready.not_before is not None
    bound = f"ready to jog not before {short_day(found.ready.not_before)} by girth, lunge"
    assert against() == (NOT_DECIDED, f"planned from {short_day(TODAY)} on, and {bound}")
    told = told_of_running(room.care, standing(room.care, room.id))
    assert f"against it: {NOT_DECIDED}" in told
    data = running_data(room.care, standing(room.care, room.id))
    assert data is not None
    assert data["against"] == list(against())
    assert data["goal"]["ready_low_on"] is None
    assert data["goal"]["ready_not_before_on"] == found.ready.not_before.isoformat()
    plan(room.care, room.id, f"from {found.ready.not_before.isoformat()}", all_the_same=True)
    assert against() == (NOT_DECIDED,)
    room.decided(Stage.JOG)
    assert against() == ()


def test_show_and_json_tell_it(room: Room) -> None:
    held = standing(room.care, room.id)
    assert told_of_running(room.care, held) == room.told
    assert running_data(room.care, held) is None
    room.decided(Stage.JOG)
    plan(room.care, room.id, "mon wed fri")
    data = running_data(room.care, standing(room.care, room.id))
    assert data is not None
    assert json.dumps(data)
    goal = data["goal"]
    assert (goal["goal_on"], goal["distance_km"], goal["holds"]) == ("2027-03-14", 21, False)
    assert goal["chance_at_most"] is None
    assert data["rule"]["clean_to_rise"] == {"value": 2, "mark": "common practice", "source": None}
    assert data["planned"][0]["what"] == "1:4x5"
