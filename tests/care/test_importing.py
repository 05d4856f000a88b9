"""A table brought in: all of it or nothing, once, in the right place. The people are invented."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from store.care.bringing import Found
from store.care.faults import CareFault
from store.care.importing import BadLines, bring_in
from store.care.people import EpisodeForm, close_episode, new_episode, new_person
from store.care.standing import standing
from store.knowledge.time import SetClock
from store.knowledge.words import Episode, Grade, Person, Reading, Side, Status
from store.record import episodes, people, readings
from tests.screens.made import BRUSSELS, opened

HEADING = "person,injured_side,grade,injured_on,taken_at,measure,side,value,moment,examiner"
PRE_SEASON = """person;taken_at;measure;side;value;examiner
Pip;17.8.2026 18:05;lunge;left;10,2|10,4|10,3;KV
Pip;17.8.2026 18:05;lunge;right;9,8|10,1|9,9;KV
Ode;17.8.2026 18:12;lunge;left;11|11,2|11,1;KV
Ode;17.8.2026 18:12;lunge;right;unable;KV
Ode;17.8.2026 18:15;stance, eyes open;left;cap;KV
"""
"""A hockey squad's list before the season, as a trainer's spreadsheet saves it."""


class Room:
    """A record, and tables brought into it."""

    def __init__(self, tmp_path: Path) -> None:
        self.care, self.clock = opened(tmp_path)
        self.path = tmp_path / "table.csv"

    def brings(self, *lines: str, **how: object) -> Found:
        """Bring in lines below the whole heading, or a text that has its own."""
        text = lines[0] if lines[0].startswith("person") else "\n".join((HEADING, *lines))
        self.path.write_text(text, encoding="utf-8")
        return bring_in(self.care, self.path, **how)  # type: ignore[arg-type]  # each test names what it means

    def bad(self, *lines: str, **how: object) -> list[str]:
        """What is said of bad lines, with nothing written."""
        before = self.everything()
        with pytest.raises(BadLines) as found:
            self.brings(*lines, **how)
        assert self.everything() == before
        return str(found.value).splitlines()

    def person(self, label: str) -> Person:
        (found,) = people.people_labelled(self.care.record, label)
        return found

    def kept(self, label: str) -> list[Reading]:
        return readings.readings_of_person(self.care.record, self.person(label).id)

    def episodes(self, label: str) -> list[Episode]:
        return episodes.episodes_of_person(self.care.record, self.person(label).id)

    def everything(self) -> list[str]:
        return list(self.care.record.db.iterdump())


@pytest.fixture
def room(tmp_path: Path) -> Room:
    return Room(tmp_path)


def moved(clock: SetClock, days: int) -> None:
    clock.move(timedelta(days=days).total_seconds())


# what is kept


def test_a_squads_list_before_the_season_is_kept_as_it_was_measured(room: Room) -> None:
    found = room.brings(PRE_SEASON)
    assert [person.label for person in found.people] == ["Pip", "Ode"]
    assert found.episodes == []
    left, right = room.kept("Pip")
    assert (left.side, left.value, left.trials, left.unit) == (Side.LEFT, 10.3, (10.2, 10.4, 10.3), "cm")
    assert right.value == pytest.approx(9.933333333)
    assert left.taken.local.isoformat() == "2026-08-17T18:05:00"
    assert (left.taken.offset_min, left.examiner, left.visit, left.episode) == (120, "KV", None, None)
    assert left.protocol == room.care.knowledge.measures["lunge"].protocol
    assert [(one.status, one.value) for one in room.kept("Ode")[1:]] == [(Status.UNABLE, None), (Status.CAP, 45.0)]


def test_best_or_mean_is_the_measures_own_rule(room: Room) -> None:
    best = next(
        one for one in room.care.knowledge.measures.values() if one.aggregate == "best" and one.counted > 1
    )
    low, high = best.usual_low, best.usual_low + best.step
    side = "left" if best.paired else ""
    room.brings(f"A,,,,2026-08-14 09:00,{best.id},{side},{low}|{high},,")
    assert room.kept("A")[0].value == pytest.approx(high if best.better == "higher" else low)


def test_the_list_before_the_season_is_the_baseline_of_a_later_sprain(room: Room) -> None:
    room.brings(PRE_SEASON)
    episode = new_episode(room.care, room.person("Pip"), EpisodeForm(Side.LEFT, injured_on=date(2026, 11, 20)))
    baseline = next(one for one in standing(room.care, episode.id).measures if one.measure.id == "lunge").baseline
    assert baseline is not None
    assert baseline.value == 10.3


def test_the_same_file_twice_adds_nothing(room: Room) -> None:
    table = (f"{HEADING}\nA,left,II,2026-11-01,2026-11-05 10:00,lunge,left,4.5,,\n"
             "A,left,II,2026-11-01,2026-11-12 10:00,lunge,left,6|6.2,after,KV\n")  # fmt: skip
    assert len(room.brings(table).readings) == 2
    before = room.everything()
    again = room.brings(table)
    assert (again.readings, again.here, again.people, again.episodes, again.notes) == ([], 2, [], [], [])
    assert room.everything() == before


def test_one_line_twice_in_a_file_is_one_reading(room: Room) -> None:
    line = "A,,,,2026-11-05 10:00,lunge,left,4.5,,"
    assert room.brings(line, line).twice == 1
    assert len(room.kept("A")) == 1


def test_the_same_time_before_and_after_or_left_and_right_are_several(room: Room) -> None:
    room.brings(
        *(f"A,,,,2026-11-05 10:00,lunge,{s},4.5,{m},"
          for s in ("left", "right") for m in ("before", "after", ""))
    )  # fmt: skip
    assert len(room.kept("A")) == 6


def test_what_was_taken_back_does_not_come_again(room: Room) -> None:
    line = "A,,,,2026-11-05 10:00,lunge,left,4.5,,"
    room.brings(line)
    readings.retract_readings(room.care.record, [room.kept("A")[0].id], by="AB", because="slip")
    assert (room.brings(line).taken_back, room.kept("A")) == (1, [])
    room.brings(line.replace("4.5", "5.4"))  # the value put right is another reading
    assert [one.value for one in room.kept("A")] == [5.4]


def test_a_dry_run_finds_the_same_and_writes_nothing(room: Room) -> None:
    line = "A,left,II,2026-11-01,2026-11-05 10:00,lunge,left,4.5,,"
    before = room.everything()
    dry = room.brings(line, dry_run=True)
    assert room.everything() == before
    done = room.brings(line)
    assert [len(each) for each in (dry.readings, dry.people, dry.episodes)] == [1, 1, 1]
    assert [len(each) for each in (done.readings, done.people, done.episodes)] == [1, 1, 1]


def test_the_examiner_is_the_lines_own_else_the_one_named_else_nobody(room: Room) -> None:
    lines = ("A,,,,2026-11-05 10:00,lunge,left,4.5,,KV", "A,,,,2026-11-05 10:00,lunge,right,9,,")
    room.brings(*lines)
    assert [one.examiner for one in room.kept("A")] == ["KV", ""]  # whoever imports did not measure
    room.brings(*(line.replace("A,", "B,", 1) for line in lines), examiner="ZZ")
    assert [one.examiner for one in room.kept("B")] == ["KV", "ZZ"]


# whose it is


def test_an_exact_label_is_that_person_and_any_other_is_new(room: Room) -> None:
    known, _ = new_person(room.care, "R.K.")
    found = room.brings(
        "R.K.,,,,2026-11-05 10:00,lunge,left,4.5,,", "r.k.,,,,2026-11-05 10:00,lunge,left,5,,",
        "'=R.K.,,,,2026-11-05 10:00,lunge,left,6,,",
    )  # fmt: skip
    assert [person.label for person in found.people] == ["r.k.", "=R.K."]
    assert [one.person for one in room.kept("R.K.")] == [known.id]


def test_a_label_of_two_people_is_bad(room: Room) -> None:
    new_person(room.care, "R.K.")
    new_person(room.care, "R.K.")
    said = room.bad("B,,,,2026-11-05 10:00,lunge,left,5,,", "R.K.,,,,2026-11-05 10:00,lunge,left,4.5,,")
    assert said[1:] == ["  line 3: person: 2 people have the label R.K.: give one another label"]


def test_nobody_is_made_of_bad_lines_alone(room: Room) -> None:
    found = room.brings(
        "A,left,,,2026-11-05 10:00,lunge,left,5,,", "B,left,,,2030-01-01 10:00,lunge,left,5,,", skip_bad=True
    )
    assert [person.label for person in found.people] == ["A"]
    assert [(person.label, episode.side) for person, episode in found.episodes] == [("A", Side.LEFT)]
    assert [bad.line for bad in found.bad] == [3]


# which episode


def test_an_injured_side_without_an_open_episode_makes_one(room: Room) -> None:
    room.brings(
        "A,left,,2026-11-01,2026-11-05 10:00,lunge,left,4.5,,", "A,left,II,,2026-11-12 10:00,lunge,left,6,,",
        "A,left,,,2026-08-01 10:00,lunge,left,10,,", "A,,,,2026-11-13 10:00,pain now,,2,,",
    )  # fmt: skip
    (episode,) = room.episodes("A")
    assert (episode.side, episode.grade, episode.injured_on) == (Side.LEFT, Grade.II, date(2026, 11, 1))
    assert episode.opened.on == date(2026, 11, 5)
    assert [one.episode for one in room.kept("A")] == [None, episode.id, episode.id, episode.id]
    (lunge, *_) = standing(room.care, episode.id).measures
    assert lunge.baseline is not None
    assert lunge.baseline.value == 10.0


def test_without_a_day_of_injury_an_episode_begins_with_its_first_reading(room: Room) -> None:
    room.brings(
        "A,left,,,2026-11-12 10:00,lunge,left,6,,", "A,left,,,2026-11-05 10:00,lunge,left,4.5,,",
    )  # fmt: skip
    (episode,) = room.episodes("A")
    assert episode.opened.on == date(2026, 11, 5)
    assert {one.episode for one in room.kept("A")} == {episode.id}


def test_two_injured_ankles_are_two_linked_episodes(room: Room) -> None:
    room.brings(
        "A,left,,2026-11-01,2026-11-05 10:00,lunge,left,4,,",
        "A,right,,2026-11-03,2026-11-05 10:00,lunge,right,5,,",
        "A,,,,2026-11-06 10:00,lunge,right,6,,", "A,,,,2026-11-02 10:00,lunge,right,9,,",
    )  # fmt: skip
    left, right = room.episodes("A")
    assert (left.linked_episode, right.linked_episode) == (right.id, left.id)
    assert [one.episode for one in room.kept("A")] == [left.id, left.id, right.id, right.id]


def test_an_open_episode_is_used_and_keeps_what_it_says(room: Room) -> None:
    _, episode = new_person(room.care, "A", form=EpisodeForm(Side.LEFT, injured_on=date(2026, 11, 1)))
    found = room.brings("A,left,III,2026-11-01,2026-11-05 10:00,lunge,left,4,,")
    assert room.episodes("A") == [episode]
    assert [note.says for note in found.notes] == [
        "the episode of the left ankle keeps its own grade and day of injury"
    ]
    assert episode is not None
    assert room.kept("A")[0].episode == episode.id


def test_a_file_of_an_episode_that_was_closed_since_makes_no_other(room: Room) -> None:
    dated = "A,left,,2026-11-01,2026-11-05 10:00,lunge,left,4,,"
    undated = "B,left,,,2026-11-05 10:00,lunge,left,4,,"
    room.brings(dated, undated)
    for label in "AB":
        close_episode(room.care, room.episodes(label)[0])
    moved(room.clock, 30)
    again = room.brings(dated, undated)
    assert (again.here, again.episodes, again.readings) == (2, [], [])


def test_a_new_sprain_makes_a_new_episode_beside_a_closed_one(room: Room) -> None:
    room.brings("A,left,,2026-03-01,2026-03-05 10:00,lunge,left,4,,")
    close_episode(room.care, room.episodes("A")[0])
    room.brings("A,left,,2026-11-01,2026-11-05 10:00,lunge,left,4,,")
    assert [episode.injured_on for episode in room.episodes("A")] == [date(2026, 3, 1), date(2026, 11, 1)]


# what is bad


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (["A,,,,2026-11-25 10:39,lunge,left,5,,"], "line 2: taken_at: 2026-11-25 10:39 lies in the future"),
        (["A,left,,2026-11-26,2026-11-05,lunge,left,5,,"], "line 2: injured on 2026-11-26 lies in the future"),
        (["Old,,,,1994-11-05,lunge,left,5,,"], "line 2: taken_at: 1994-11-05 is before birth (1995)"),
        (
            ["Old,left,,1994-11-05,2026-11-05,lunge,left,5,,"],
            "line 2: injured on 1994-11-05 is before birth (1995)",
        ),
        (
            ["Open,left,,2026-11-02,2026-11-05,lunge,left,5,,"],
            "line 2: injured_on: 2026-11-02, but the open episode",
        ),
        (
            ["A,left,,2026-11-01,2026-11-05,lunge,left,5,,", "A,left,,2026-11-02,2026-11-06,lunge,left,5,,"],
            "line 3: injured_on: 2026-11-02, and line 2 says 2026-11-01 of this ankle: make them alike",
        ),
        (
            ["A,left,I,,2026-11-05,lunge,left,5,,", "A,left,II,,2026-11-06,lunge,left,5,,"],
            "line 3: grade: II, and line 2 says I of this ankle: make them alike",
        ),
        (
            ["A,,,,2026-11-05,lunge,left,5,,", "A,,,,2026-11-05,lunge,left,6,,"],
            "line 3: value: line 2 gives another for the same time: leave one of them out",
        ),
        (["Open,,,,2026-11-05 10:00,lunge,left,9,,"], "line 2: value: the record has another for the same time"),
        (["A,,,,2026-11-05,lunge,left,5,,X\x1b[2J"], "line 2: examiner: type the examiner's initials"),
        ([f"{'A' * 41},,,,2026-11-05,lunge,left,5,,"], "line 2: person: a label has at most 40 characters"),
        (
            ["A\u202eB,,,,2026-11-05,lunge,left,5,,"],
            "line 2: person: the label holds characters that cannot be shown",
        ),
        (
            ['"A\nB",,,,2026-11-05,lunge,left,5,,', "C,,,,2026-11-05,lunge,left,ten,,"],
            "line 4: value: ten: not a value",
        ),
    ],
)
def test_a_bad_line_is_named_and_nothing_is_kept(room: Room, lines: list[str], says: str) -> None:
    new_person(room.care, "Old", "1995")
    new_person(room.care, "Open", form=EpisodeForm(Side.LEFT, injured_on=date(2026, 11, 1)))
    room.brings("Open,,,,2026-11-05 10:00,lunge,left,4,,")
    (first, second) = room.bad(*lines, "Good,,,,2026-11-05,lunge,left,5,,")
    assert first.startswith(f"1 of {len(lines) + 1} lines is bad, and nothing was imported: put them right, or ")
    assert second.startswith(f"  {says}")


def test_every_bad_line_is_listed_in_the_order_of_the_file(room: Room) -> None:
    lines = [
        f"A,,,,2026-11-05 10:{n:02},lunge,left,{n if n % 2 else 'x'},,{'' if n % 5 else chr(27)}"
        for n in range(20)
    ]
    said = room.bad(*lines)
    assert said[0].startswith("12 of 20 lines are bad")
    numbers = [int(line.split()[1].rstrip(":")) for line in said[1:]]
    assert numbers == sorted({n + 2 for n in range(20) if n % 2 == 0 or n % 5 == 0})


def test_bad_lines_are_left_out_on_purpose(room: Room) -> None:
    found = room.brings(
        "A,,,,2026-11-05,lunge,left,5,,", "A,,,,2026-11-05,lunge,right,ten,,", "A,,,,2026-11-06,lunge,left,6,,",
        skip_bad=True,
    )  # fmt: skip
    assert [bad.line for bad in found.bad] == [3]
    assert [one.value for one in room.kept("A")] == [5, 6]


def test_where_all_lines_are_bad_nothing_can_be_left_out(room: Room) -> None:
    said = room.bad("A,,,,soon,lunge,left,5,,", skip_bad=True)
    assert said[0] == "1 of 1 line is bad, and nothing was imported: put them right"


def test_a_value_outside_the_plausible_range_is_kept_and_pointed_at(room: Room) -> None:
    found = room.brings("A,,,,2026-11-05,lunge,left,25,,")
    assert [(note.line, note.says) for note in found.notes] == [
        (2, "lunge left 25: usually 0 to 20 cm. Is it right?")
    ]
    assert room.kept("A")[0].value == 25


# nothing half done


def test_what_breaks_off_leaves_nothing_behind(room: Room) -> None:
    before = room.everything()
    lines = [f"P{n % 40},left,,,2026-11-05 {n // 60:02}:{n % 60:02},lunge,left,5,," for n in range(1200)]

    def interrupted(what: str, done: int, of: int) -> None:
        assert of == 1200
        if what == "saving" and done:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        room.brings(*lines, progress=interrupted)
    assert room.everything() == before
    assert len(room.brings(*lines).readings) == 1200


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "the file is empty"),
        (HEADING.encode(), "has a heading and no line below it: there is nothing to import"),
        (f"{HEADING}\nZo\xeb".encode("latin-1"), "line 2 is not in UTF-8"),
        (f"{HEADING}\n\x00".encode(), "line 2 holds a NUL byte"),
    ],
)
def test_a_file_that_holds_no_table_is_refused(room: Room, data: bytes, says: str) -> None:
    room.path.write_bytes(data)
    with pytest.raises(CareFault, match=says):
        bring_in(room.care, room.path)


def test_a_file_that_is_none_is_refused(room: Room, tmp_path: Path) -> None:
    with pytest.raises(CareFault, match=r"there is no file .*: check the name"):
        bring_in(room.care, tmp_path / "none.csv")
    with pytest.raises(CareFault, match="is a folder: name the file in it"):
        bring_in(room.care, tmp_path)


def test_a_long_cell_under_an_empty_heading_is_no_matter(room: Room) -> None:
    found = room.brings(f"person,taken_at,measure,side,value,\nA,2026-11-05,lunge,left,5,{'long ' * 2000}\n")
    assert (len(found.readings), found.unread, found.only_days) == (1, 1, 1)


def test_the_zone_is_the_clocks(room: Room) -> None:
    assert room.clock.zone is BRUSSELS
    room.brings("A,,,,2026-07-05 10:00,lunge,left,5,,")
    assert room.kept("A")[0].taken.local == datetime(2026, 7, 5, 10, tzinfo=BRUSSELS).replace(tzinfo=None)
    assert room.kept("A")[0].taken.offset_min == 120
