"""`add`: a line is kept in today's visit, what is unusual is asked once, and what cannot be read is pointed at."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from store.care import visits
from store.care.people import EpisodeForm, new_episode, new_person
from store.knowledge.words import Reading, Side, Visit
from store.record import episodes, people, readings
from store.record import visits as kept_visits
from tests.command.conftest import Shell


def kept(shell: Shell, label: str = "K.L.") -> list[Reading]:
    care = shell.care()
    (person,) = people.people_labelled(care.record, label)
    found = readings.readings_of_person(care.record, person.id)
    care.close()
    return found


def seen(shell: Shell, label: str = "K.L.") -> list[Visit]:
    care = shell.care()
    (person,) = people.people_labelled(care.record, label)
    found = kept_visits.visits_of_person(care.record, person.id)
    care.close()
    return found


def values(shell: Shell) -> list[tuple[str, str | None, float | None]]:
    return [(one.measure, one.side, one.value) for one in kept(shell)]


def test_a_line_is_kept_in_todays_visit_and_said_back(own: Shell) -> None:
    done = own("add", "K.L.", "lunge 10.2 4.8")
    assert (done.status, done.err) == (0, "")
    assert done.out.startswith("saved lunge left 10.2, right 4.8 cm; ")
    assert "right 5.4 short" in done.out
    own("add", "K.L.", "girth l 51 51.2 50.9 r 52.3")
    (visit,) = seen(own)
    assert {one.visit for one in kept(own)} == {visit.id}
    assert (visit.plan, visit.ended) == ((), None)


@pytest.mark.parametrize(
    "line", ["lunge 10,2 4,8", "lunge left 102mm right 48 mm", "LUNGE r 4.8 l 10.2", "wall 10.2 4.8"]
)
def test_a_line_may_be_typed_in_many_ways(own: Shell, line: str) -> None:
    assert own("add", "K.L.", line).status == 0
    assert values(own) == [("lunge", "left", 10.2), ("lunge", "right", 4.8)]


def test_a_note_in_quotes_is_kept_as_typed(own: Shell) -> None:
    own("add", "K.L.", 'lunge 10 5 tape note "said ""ouch"", heel lifted"')
    assert {one.note for one in kept(own)} == {'said "ouch", heel lifted'}
    assert {one.conditions for one in kept(own)} == {("tape",)}


def test_what_the_person_says_goes_into_the_visit(own: Shell) -> None:
    done = own("add", "K.L.", "pain 2 worst 4 gaveway 1 home 5/7")
    assert done.out == "saved pain 2 worst 4 gaveway 1 home 5/7\n"
    (visit,) = seen(own)
    assert (visit.gave_way, visit.home_done, visit.home_planned) == (1, 5, 7)
    assert values(own) == [("pain_now", None, 2.0), ("pain_worst", None, 4.0)]


@pytest.mark.parametrize(
    ("line", "moment", "note"),
    [
        ("pain 3 after", "after", None),
        ('pain 3 note "on the stairs"', None, "on the stairs"),
        ("worst 6 brace", None, None),
    ],
)
def test_pain_with_a_moment_or_a_note_is_a_measure(
    own: Shell, line: str, moment: str | None, note: str | None
) -> None:
    assert own("add", "K.L.", line).status == 0
    (reading,) = kept(own)
    assert (reading.moment, reading.note) == (moment, note)
    assert seen(own)[0].said is None


def test_a_lsi_is_said_of_a_count_and_not_of_a_distance(own: Shell) -> None:
    assert "LSI 35 %" in own("add", "K.L.", "heel 20 7").out
    assert "LSI" not in own("add", "K.L.", "lunge 10 5").out
    assert "LSI" not in own("add", "K.L.", "girth 51 52").out


def test_the_change_since_last_time_is_said(shell: Shell) -> None:
    assert "since last time +2.0, clear gain" in shell("add", "R.K.", "lunge 10.1 6.8").out


# asked once


def test_outside_the_plausible_range_nothing_is_kept_without_a_yes(own: Shell) -> None:
    done = own("add", "K.L.", "lunge 25 4.8")
    assert done.status == 2
    assert done.err == (
        "bothfeet: lunge left 25: usually 0 to 20 cm. Is it right? "
        "Nothing was saved: type it again, or add --yes if it is right\n"
    )
    assert kept(own) == []
    assert seen(own) == []
    assert own("add", "K.L.", "lunge 25 4.8", "--yes").status == 0
    assert len(kept(own)) == 2


def test_sides_perhaps_swapped_are_asked_for_too(own: Shell) -> None:
    done = own("add", "K.L.", "lunge 4.8 10.2")
    assert done.status == 2
    assert "are left and right swapped?" in done.err
    own.answers("no")
    assert own("add", "K.L.", "lunge 4.8 10.2").status == 2
    own.answers("y", "AB")
    assert own("add", "K.L.", "lunge 4.8 10.2").status == 0
    assert len(kept(own)) == 2


def test_no_answer_is_no_yes(own: Shell) -> None:
    own.answers()
    done = own("add", "K.L.", "lunge 25 4.8")
    assert done.status == 2
    assert "nothing was saved" in done.err
    assert kept(own) == []


# what cannot be read


def test_the_word_at_fault_is_pointed_at(own: Shell) -> None:
    done = own("add", "K.L.", "lunge 10.2 4.8x before")
    assert done.status == 2
    first, line, below = done.err.splitlines()
    assert first == "bothfeet: 4.8x: lunge is in cm or mm, not in x"
    assert line == "  lunge 10.2 4.8x before"
    assert below == "             ^^^^"
    assert seen(own) == []


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("lunga 10.2 4.8", "did you mean lunge?"),
        ("reach 80 81", "did you mean reach, front or reach, back inside or reach, back outside?"),
        ("lunge 10.2 4.8 beofre", "did you mean before?"),
        ("lunge 10.2", "which side?"),
        ("lunge left 10 10 10 10", "too many trials"),
        ("lunge 45 4", "lunge goes from 0 to 30 cm"),
        ("lunge ten 4", "not a word of this line"),
        ("lunge ١٠ 4", "write figures with the digits 0 to 9"),
        ("pain now 3", "now: "),
        ("stance 60 20", "type cap"),
        ("", "nothing to read"),
        ("lunge 10 5\nlunge 11 6", "one line at a time"),
        ('lunge 10 5 note "open', "the quotes are not closed"),
    ],
)
def test_a_line_that_cannot_be_read_is_refused_with_a_sentence(own: Shell, line: str, why: str) -> None:
    done = own("add", "K.L.", line)
    assert done.status == 2
    assert why in done.err
    assert done.err.startswith("bothfeet: ")
    assert kept(own) == []
    assert seen(own) == []


def test_ten_kilobytes_of_pasted_text_are_refused_in_a_few_lines(own: Shell) -> None:
    done = own("add", "K.L.", "lunge " + "10.2 " * 2000)
    assert done.status == 2
    assert "the line has 10006 characters and may have 1000" in done.err
    assert max(map(len, done.err.splitlines())) < 140


def test_control_characters_never_reach_the_terminal(own: Shell) -> None:
    for words in (["K.L.", "lunge \x1b[2J 4"], ["\x1b]0;x\x07", "lunge 10 4"], ["K.L.", "l\u202eunge 10 4"]):
        done = own("add", *words)
        assert done.status == 2
        assert not any(char in done.err for char in "\x1b\x07\u202e")
    assert kept(own) == []


# whose, and by whom


def test_two_people_with_one_label_are_listed_and_told_apart(own: Shell) -> None:
    care = own.care()
    new_person(care, "K.L.", "2004", EpisodeForm(Side.LEFT))
    ids = [person.id for person in people.people_labelled(care.record, "K.L.")]
    care.close()
    done = own("add", "K.L.", "lunge 10 9")
    assert done.status == 2
    assert done.err.splitlines()[1:] == [
        f"  {ids[0]}  K.L., born 1990, right ankle",
        f"  {ids[1]}  K.L., born 2004, left ankle",
    ]
    assert own("add", ids[1], "lunge 9 10").status == 0


def test_nobody_of_that_label_is_said_with_the_nearest(own: Shell) -> None:
    assert own("add", "k.l.", "lunge 10 9").err == (
        "bothfeet: no person has the label k.l., and no id starts so: did you mean K.L.?\n"
    )
    assert "`bothfeet show` lists them all" in own("add", "Z.Z.", "lunge 10 9").err
    assert own("add", "  ", "lunge 10 9").status == 2


def test_the_examiner_is_named_once_and_kept(own: Shell) -> None:
    assert own("add", "K.L.", "lunge 10 5").status == 0
    own("add", "K.L.", "girth 51 52", "--examiner", "AB")
    own("add", "K.L.", "heel 20 7")
    own("add", "K.L.", "stance 40 12", "--examiner", "CD")
    own("add", "K.L.", "angle 40 30", "--examiner", "AB")
    own("add", "K.L.", "closed 14 6")
    by = {one.measure: one.examiner for one in kept(own)}
    first, second, other = by.pop("lunge"), by.pop("girth"), by.pop("stance_open")
    assert (first, second, other) == ("", "AB", "CD")
    assert set(by.values()) == {"AB"}


def test_whoever_sits_at_a_terminal_is_asked_once_who_examines(own: Shell) -> None:
    own.answers("A. Baker")
    assert own("add", "K.L.", "lunge 10 5").status == 0
    own.answers()  # nothing is asked any more
    assert own("add", "K.L.", "girth 51 52").status == 0
    assert {one.examiner for one in kept(own)} == {"A. Baker"}


def test_a_name_that_cannot_be_shown_is_no_examiner(own: Shell) -> None:
    assert own("add", "K.L.", "lunge 10 5", "--examiner", "a\x1b[0m").status == 2
    assert kept(own) == []


# which visit


def test_with_both_ankles_the_side_chooses_the_episode(own: Shell) -> None:
    care = own.care()
    (person,) = people.people_labelled(care.record, "K.L.")
    new_episode(care, person, EpisodeForm(Side.LEFT))
    care.close()
    own("add", "K.L.", "lunge 6 5", "--side", "left")
    care = own.care()
    chosen = {one.id: one.side for one in episodes.episodes_of_person(care.record, person.id)}
    care.close()
    assert [chosen[visit.episode or ""] for visit in seen(own)] == [Side.LEFT]
    assert own("add", "D.P.", "lunge 6 5", "--side", "left").status == 2


def test_a_side_without_an_open_episode_is_refused(own: Shell) -> None:
    done = own("add", "K.L.", "lunge 10 5", "--side", "left")
    assert (done.status, done.err) == (
        2,
        "bothfeet: K.L. has no open episode of the left ankle: leave --side out\n",
    )


def test_without_an_episode_what_is_said_shares_todays_visit(own: Shell) -> None:
    care = own.care()
    new_person(care, "squad 7")
    care.close()
    assert own("add", "squad 7", "pain 0").status == 0
    assert own("add", "squad 7", "confidence 9").status == 0
    assert own("add", "squad 7", "lunge 11 11.2").status == 0
    assert len(seen(own, "squad 7")) == 1


def test_midnight_inside_a_visit_keeps_the_visit_and_the_days_on_which_things_were_lived(own: Shell) -> None:
    oslo = timezone(timedelta(hours=1))
    own.clock.put(datetime(2026, 11, 23, 23, 50, tzinfo=oslo))
    own("add", "K.L.", "lunge 10 5")
    own.clock.put(datetime(2026, 11, 24, 0, 10, tzinfo=oslo))
    own("add", "K.L.", "girth 51 52")
    assert len(seen(own)) == 1
    assert [one.taken.on.day for one in kept(own)] == [23, 23, 24, 24]
    own.clock.put(datetime(2026, 11, 24, 9, 0, tzinfo=oslo))
    own("add", "K.L.", "heel 20 7")
    first, second = seen(own)
    assert first.ended is not None
    assert second.started.on.day == 24


def test_within_a_walked_visit_before_values_stay_blind(own: Shell) -> None:
    care = own.care()
    (person,) = people.people_labelled(care.record, "K.L.")
    (episode,) = episodes.episodes_of_person(care.record, person.id)
    visits.start_visit(care, episode)
    care.close()
    done = own("add", "K.L.", "lunge 10.2 4.8")
    assert done.out.startswith("saved lunge left and right, hidden until the re-test is in; ")
    assert not any(word in done.out for word in ("4.8", "short", "LSI", "since"))
    assert "4.8" not in own("show", "K.L.").out
    assert "4.8" not in own("show", "K.L.", "--json").out
    after = own("add", "K.L.", "lunge 10.1 6.9")
    assert "right +2.1, clear gain" in after.out
    assert "4.8" in own("show", "K.L.").out
    assert [one.moment for one in kept(own)] == ["before", "before", "after", "after"]
