"""The one-line grammar: what it reads, and that it says which word it cannot read, and why."""

from __future__ import annotations

import pytest

from store.entry.entry import Entry, SideEntry
from store.entry.errors import EntryError
from store.entry.grammar import parse
from store.entry.words import LONGEST
from store.knowledge.words import Moment, Side, Status
from tests.reckon.made import LUNGE, NAMES, find

LEFT, RIGHT = Side.LEFT, Side.RIGHT


def read(line: str, moment: Moment | None = None) -> Entry:
    return parse(line, find, moment=moment, names=NAMES)


def sides(line: str) -> list[tuple[Side | None, tuple[float, ...]]]:
    return [(side.side, side.trials) for side in read(line).sides]


def fault(line: str) -> EntryError:
    with pytest.raises(EntryError) as caught:
        read(line)
    return caught.value


def test_a_whole_line() -> None:
    entry = read('lunge right 8.1 8,3 8.2 left 10.2 10.4 10.3 after brace tape note "heel lifted once"')
    assert entry.measure is LUNGE
    assert entry.sides == (
        SideEntry(LEFT, (10.2, 10.4, 10.3), Status.MEASURED),
        SideEntry(RIGHT, (8.1, 8.3, 8.2), Status.MEASURED),
    )
    assert entry.moment is Moment.AFTER
    assert entry.conditions == ("brace", "tape")
    assert entry.note == "heel lifted once"
    assert (entry.asks, entry.says) == ((), ())


def test_two_bare_values_are_left_then_right() -> None:
    assert sides("lunge 10.2 8.4") == [(LEFT, (10.2,)), (RIGHT, (8.4,))]


@pytest.mark.parametrize("line", ["lunge 8", "lunge 10 9 8", "lunge 1 2 3 4 5 6", "lunge unable", "lunge 4,5"])
def test_any_other_number_of_bare_values_asks_for_the_side(line: str) -> None:
    assert "which side? Type left or right before it" in str(fault(line))
    assert fault(line).word == line.split()[1]


def test_on_a_single_measure_bare_values_are_trials() -> None:
    assert sides("pain 3") == [(None, (3.0,))]
    assert sides("pain_now 3/10") == [(None, (3.0,))]


def test_short_forms_capitals_and_hyphens() -> None:
    assert sides("LUNGE L 10 R 8") == [(LEFT, (10.0,)), (RIGHT, (8.0,))]
    assert read("stance l 30").measure.id == "stance_open"
    assert read("lunge-angle 40 38").measure.id == "lunge_angle"


def test_one_side_alone() -> None:
    assert sides("lunge r 8.1 8.3 8.2") == [(RIGHT, (8.1, 8.3, 8.2))]


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("lunge l 4,5", (4.5,)),
        ("lunge l 4,5 6", (4.5, 6.0)),
        ("lunge l 4.5, 4.7", (4.5, 4.7)),
        ("lunge l 4,5, 4,7", (4.5, 4.7)),
        ("lunge l 4,5; 4,7", (4.5, 4.7)),
        ("lunge l 4.5 , 4.7", (4.5, 4.7)),
        ("lunge l 4. .5", (4.0, 0.5)),
        ("lunge l −0", (0.0,)),
    ],
)
def test_points_and_commas(line: str, values: tuple[float, ...]) -> None:
    assert sides(line) == [(LEFT, values)]


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("lunge l 45mm", (4.5,)),
        ("lunge l 45 mm", (4.5,)),
        ("lunge l 45MM", (4.5,)),
        ("lunge l 101mm 102mm 103mm", (10.1, 10.2, 10.3)),
        ("lunge l 4.5cm 4.7", (4.5, 4.7)),
        ("lunge l 45 47 46 mm", (4.5, 4.7, 4.6)),
        ("lunge l 45mm 4.7cm", (4.5, 4.7)),
        ("lunge l 45mm, 47mm", (4.5, 4.7)),
        ("stance l 12s 13 s", (12.0, 13.0)),
        ("lunge_angle l 40deg 40° 40 °", (40.0, 40.0, 40.0)),
        ("heel l 20 reps", (20.0,)),
    ],
)
def test_a_unit_may_follow(line: str, values: tuple[float, ...]) -> None:
    assert sides(line) == [(LEFT, values)]


def test_one_unit_at_the_end_holds_for_the_whole_line() -> None:
    assert sides("lunge l 45 r 47 mm") == [(LEFT, (4.5,)), (RIGHT, (4.7,))]
    assert sides("lunge 45 47 mm") == [(LEFT, (4.5,)), (RIGHT, (4.7,))]


def test_a_unit_on_some_values_only_is_not_guessed_at() -> None:
    for line in ("lunge 20mm 21", "lunge l 20 mm r 21", "lunge l 20mm 21 22"):
        assert "type its unit too" in str(fault(line))
        assert fault(line).word == "21" or line.endswith("22")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("lunge 45deg 40", "45deg: lunge is in cm or mm, not in deg"),
        ("lunge 10 s 8", "10 s: lunge is in cm or mm, not in s"),
        ("lunge_angle 40cm 38", "40cm: lunge angle is in deg or °, not in cm"),
        ("lunge 10kg 8", "10kg: lunge is in cm or mm, not in kg"),
        ("pain 4cm", "4cm: pain now is in figures from 0 to 10, not in cm"),
        ("lunge mm 10", "mm: a unit stands behind its value"),
        ("lunge l mm 10", "mm: a unit stands behind its value"),
        ("lunge 10 mm cm 8", "cm: 10 mm has a unit: leave one of the two out"),
    ],
)
def test_a_unit_must_fit(line: str, says: str) -> None:
    assert str(fault(line)) == says


def test_unable_stands_for_a_side() -> None:
    entry = read("lunge l 10 10 10 r unable")
    assert entry.sides[1] == SideEntry(RIGHT, (), Status.UNABLE)
    assert [side.status for side in read("lunge unable unable").sides] == [Status.UNABLE] * 2
    assert read("pain unable").sides == (SideEntry(None, (), Status.UNABLE),)
    assert "stands alone" in str(fault("lunge l 10 unable"))


@pytest.mark.parametrize(
    ("line", "values"),
    [
        ("stance l cap", (45.0,)),
        ("stance l 45", (45.0,)),
        ("stance l 46.2", (46.2,)),
        ("stance l 45 cap", (45.0,)),
        ("stance l cap 46", (46.0,)),
        ("stance l 12 cap 30", (12.0, 45.0, 30.0)),
        ("stance l cap cap cap", (45.0, 45.0, 45.0)),
        ("stance l 45 cap 45 cap", (45.0, 45.0)),
    ],
)
def test_cap_reached(line: str, values: tuple[float, ...]) -> None:
    assert read(line).sides == (SideEntry(LEFT, values, Status.CAP),)


def test_far_past_the_cap_it_says_to_type_cap() -> None:
    assert str(fault("stance l 450")) == "450: the test stops at 45 s: type cap"


def test_bare_caps_are_left_and_right() -> None:
    assert [side.status for side in read("stance 12 cap").sides] == [Status.MEASURED, Status.CAP]
    assert sides("stance 45 cap") == [(LEFT, (45.0,)), (RIGHT, (45.0,))]


def test_no_cap_where_there_is_none() -> None:
    assert str(fault("lunge l cap")) == "cap: lunge has no cap: type its value"


def test_fewer_trials_are_said_and_more_refused() -> None:
    assert read("lunge l 10 10 r 8 8 8").says == ("lunge left: 2 of 3 trials",)
    assert str(fault("lunge l 10 10 10 11")) == "11: too many trials: lunge counts 3"
    assert str(fault("pain 3 4")) == "4: too many trials: pain now counts 1"


def test_outside_the_plausible_range_it_asks_once_more() -> None:
    assert read("lunge 22 8").asks == ("lunge left 22: usually 1 to 20 cm. Is it right?",)
    assert read("lunge 20 1").asks == ()
    assert len(read("lunge l 22 23 8").asks) == 2


@pytest.mark.parametrize("value", ["-4", "−4", "-0.1", "30.01", "9" * 400, "301mm"])
def test_outside_the_hard_limits_it_says_the_limits(value: str) -> None:
    assert str(fault(f"lunge 8 {value}")).endswith(": lunge goes from 0 to 30 cm")


@pytest.mark.parametrize(("value", "meant"), [("31", "3.1"), ("85", "8.5"), ("45", "4.5"), ("8500", "")])
def test_ten_times_too_much_is_asked_whether_a_tenth_was_meant(value: str, meant: str) -> None:
    says = str(fault(f"lunge 8 {value}"))
    assert says.endswith(f"lunge goes from 0 to 30 cm: did you mean {meant}?" if meant else "0 to 30 cm")


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("lunge right 4 5.5 17", ("lunge right: 4 and 17 lie far apart. Is it right?",)),
        ("lunge left 10.2 10.4 10.3 right 4 5.5 7", ()),
        ("stance right 3 41 12", ()),  # of a hold the best counts, and the others may end at once
    ],
)
def test_trials_that_lie_far_apart_are_asked_about_where_their_mean_is_taken(
    line: str, asks: tuple[str, ...]
) -> None:
    assert read(line).asks == asks


def test_finer_than_the_step_is_kept_as_typed() -> None:
    entry = read("lunge 10.25 8.1")
    assert entry.sides[0].trials == (10.25,)
    assert "lunge left 10.25: kept as typed, finer than the step of 0.1" in entry.says
    assert not any("finer" in say for say in read("lunge 10.3 8.1").says)


def test_more_digits_than_a_figure_can_have() -> None:
    assert sides("lunge l 8.123456789012345678") == [(LEFT, (8.123456789012345678,))]
    assert "too many digits: the step is 0.1" in str(fault("lunge l 0." + "0" * 40 + "1"))


def test_the_moment() -> None:
    assert read("lunge 10 8").moment is None
    assert read("lunge 10 8", Moment.AFTER).moment is Moment.AFTER, "without one it takes the plan's"
    assert read("lunge 10 8 before", Moment.AFTER).moment is Moment.BEFORE
    assert read("lunge after 10 8").moment is Moment.AFTER
    for line in ("lunge 10 8 before after", "lunge before 10 8 before"):
        assert "before was said already" in str(fault(line))


def test_conditions_hold_for_the_whole_line() -> None:
    assert read("lunge 10 8 brace brace half-dome").conditions == ("brace", "half-dome")
    assert str(fault("lunge l 10 brace r 8")) == (
        "r: type sides and values before brace, which holds for the whole line"
    )
    assert "before brace" in str(fault("lunge l 10 brace 8"))


def test_notes() -> None:
    assert read('lunge 10 8 note "say ""ah"""').note == 'say "ah"'
    assert read("lunge 10 8 note “stiff, sore”").note == "stiff, sore"
    assert read('lunge 10 8 note "10 kg, left brace" tape').conditions == ("tape",)
    assert read('lunge 10 8 note"glued"').note == "glued"
    assert read('lunge 10 8 note "  "').note is None
    assert str(fault('lunge 10 8 note "abc')) == '"abc: the quotes are not closed: type " behind the note'
    assert "in quotes" in str(fault("lunge 10 8 note abc"))
    assert "in quotes" in str(fault("lunge 10 8 note"))
    assert "already" in str(fault('lunge 10 8 note "a" note "b"'))
    assert "behind the word note" in str(fault('lunge 10 8 "a"'))
    assert "before note" in str(fault('lunge 10 note "a" 8'))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("lunj 8 9", "lunj: no measure has this name; did you mean lunge?"),
        ("lunge, 8 9", "lunge,: no measure has this name; did you mean lunge?"),
        ("zzz 8 9", "zzz: no measure has this name: type one, such as lunge"),
        ("8 9", "8: no measure has this name: type one, such as lunge"),
        ('"lunge" 8 9', '"lunge": no measure has this name; did you mean lunge?'),
        ("lunge lft 10", "lft: not a word of this line; did you mean left?"),
        ("lunge 10 8 shoes", "shoes: not a word of this line; did you mean shoe?"),
        (
            "lunge 10 8 xyzzy",
            "xyzzy: not a word of this line: use sides, values, before, after, brace, tape, note",
        ),
        ("lunge injured 10", "injured: type left or right"),
        ("lunge l10", "l10: put a space between the side and the value"),
        ("lunge", "lunge: no value behind it: type one, or unable"),
        ("lunge left", "left: no value behind it: type one, or unable"),
        ("lunge left right 8", "left: no value behind it: type one, or unable"),
        ("lunge l 10 l 9", "l: left was said already: type all its values behind one left"),
        ("lunge 10 left 8", "left: the values before it have no side: type left or right before them"),
        ("pain l 3", "l: pain now has no sides: leave this word out"),
        ("lunge nan 8", "nan: not a number: type a figure such as 8 or 8.4"),
        ("lunge inf 8", "inf: not a number: type a figure such as 8 or 8.4"),
        ("lunge 1e3 8", "1e3: not a number: type a figure such as 8 or 8.4"),
        ("lunge 0x10 8", "0x10: not a number: type a figure such as 8 or 8.4"),
        ("lunge 1_0 8", "1_0: not a number: type a figure such as 8 or 8.4"),
        ("lunge +10 8", "+10: not a number: type a figure such as 8 or 8.4"),
        ("lunge - 8", "-: not a number: type a figure such as 8 or 8.4"),
        ("lunge ٤ 8", "٤: write figures with the digits 0 to 9"),
        ("lunge ４ 8", "４: write figures with the digits 0 to 9"),
        ("lunge 4½ 8", "4½: write figures with the digits 0 to 9"),
        ("lunge l -٤", "-٤: write figures with the digits 0 to 9"),
        ("ｌunge 8 9", "ｌunge: no measure has this name; did you mean lunge?"),
    ],
)
def test_it_says_which_word_and_why(line: str, says: str) -> None:
    assert str(fault(line)) == says


@pytest.mark.parametrize("value", ["4..5", "1,234.5", "10,2,8", "4.5,4.7", "4;5", ",5"])
def test_what_may_be_two_numbers_is_not_guessed_at(value: str) -> None:
    assert "not one number: put a space between values" in str(fault(f"lunge 8 {value}"))


def test_an_error_knows_its_place() -> None:
    line = "lunge  left 10 lft 8"
    found = fault(line)
    assert line[found.start : found.end] == "lft"
    assert found.word == "lft"
    assert found.why.startswith("not a word of this line")


def test_an_empty_line() -> None:
    for line in ("", "   ", "\t\n", "\u00a0\u3000"):
        assert str(fault(line)) == "nothing to read: type a line such as lunge 10.2 8.4"


@pytest.mark.parametrize(
    ("char", "shown"),
    [
        ("\x1b", "U+001B"),
        ("\x00", "U+0000"),
        ("\x7f", "U+007F"),
        ("\x9b", "U+009B"),
        ("\u202e", "U+202E"),
        ("\u200b", "U+200B"),
        ("\ufeff", "U+FEFF"),
        ("\u2028", "U+2028"),
        ("\ud800", "U+D800"),
        ("\U000f0000", "U+F0000"),
    ],
)
def test_hidden_characters_are_refused_and_never_echoed(char: str, shown: str) -> None:
    for line in (f"lunge 10{char} 8", f'lunge 10 8 note "a{char}b"', f"{char}lunge 10 8"):
        found = fault(line)
        assert char not in str(found) + found.word + found.why
        assert str(found) == f"{shown}: a character that cannot be shown: delete it and type the line again"
        assert line[found.start : found.end] == char


def test_tabs_and_odd_spaces_part_words() -> None:
    assert sides("lunge\t10\u00a08\u3000") == [(LEFT, (10.0,)), (RIGHT, (8.0,))]


def test_one_line_at_a_time() -> None:
    assert sides("lunge 10 8\r\n") == [(LEFT, (10.0,)), (RIGHT, (8.0,))]
    assert str(fault("lunge 10 8\nlunge 9 9")) == "U+000A: one line at a time: take out the line break"


def test_joiners_that_words_need_may_stand_in_a_note() -> None:
    assert read('lunge 10 8 note "می\u200cرود"').note == "می\u200cرود"


def test_a_line_that_is_too_long_says_the_limit() -> None:
    found = fault("lunge " + "8 " * 5000)
    assert f"the line has 10006 characters and may have {LONGEST}" in str(found)
    assert len(str(found)) < 200
    assert sides('lunge 10 8 note "' + "x" * (LONGEST - 18) + '"') == [(LEFT, (10.0,)), (RIGHT, (8.0,))]


def test_a_long_word_is_shown_short() -> None:
    assert len(fault("lunge " + "z" * 900).word) < 30
