"""The cells of a row: one value of one measure, or every reason why they are none."""

from __future__ import annotations

from datetime import date
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.entry.cells import CELL_MOST, CellReader, Injury, RowError, TableLine
from store.entry.errors import EntryError
from store.entry.table import Row, defused
from store.entry.trials import values_in
from store.knowledge.kinds import Measure
from store.knowledge.load import load
from store.knowledge.words import Grade, Moment, Side, Status

KNOWN = load()
NAMES = tuple(KNOWN.measures)
CELLS = {"person": "A.B.", "taken_at": "2026-08-14 09:30", "measure": "lunge", "side": "left", "value": "10.2"}


def read(beyond: str = "", **cells: str) -> TableLine:
    reader = CellReader(KNOWN.find_measure, NAMES, ZoneInfo("Europe/Brussels"))
    return reader.read(Row(7, CELLS | cells, beyond))


def whys(beyond: str = "", **cells: str) -> tuple[str, ...]:
    with pytest.raises(RowError) as found:
        read(beyond, **cells)
    return found.value.whys


def test_a_row_is_one_value_of_one_measure() -> None:
    line = read(moment="Before", examiner="KV", injured_side="R", grade="2", injured_on="12.8.2026")
    assert (line.number, line.person, line.measure.id, line.examiner) == (7, "A.B.", "lunge", "KV")
    assert (line.entry.side, line.entry.trials, line.moment) == (Side.LEFT, (10.2,), Moment.BEFORE)
    assert line.taken.text == "2026-08-14T07:30:00.000Z"
    assert line.injury == Injury(Side.RIGHT, Grade.II, date(2026, 8, 12))
    assert not line.only_day


@pytest.mark.parametrize(
    ("measure", "side", "value", "trials", "status"),
    [
        ("lunge", "left", "10,2|10,4", (10.2, 10.4), Status.MEASURED),
        ("lunge", "left", " 102 | 104 mm ", (10.2, 10.4), Status.MEASURED),
        ("LUNGE", "r", "45mm|4.7 cm", (4.5, 4.7), Status.MEASURED),
        ("Heel raise", "right", "unable", (), Status.UNABLE),
        ("stance, eyes open", "left", "cap", (45.0,), Status.CAP),
        ("stance_open", "left", "12|cap", (12.0, 45.0), Status.CAP),
        ("change_rating", "", "-2", (-2.0,), Status.MEASURED),
        ("pain_now", "", "3/10", (3.0,), Status.MEASURED),
        ("full_session", "", "yes", (1.0,), Status.MEASURED),
    ],
)
def test_a_value_is_trials_between_strokes_with_their_units(
    measure: str, side: str, value: str, trials: tuple[float, ...], status: Status
) -> None:
    found = read(measure=measure, side=side, value=value).entry
    assert (found.trials, found.status) == (trials, status)


VALUES = st.decimals(0, 70, places=1).map(str) | st.sampled_from(["7", "45,0", "cap", "unable"])


@given(st.sampled_from(["lunge", "stance_open", "heel_raise", "girth"]), st.lists(VALUES, min_size=1, max_size=4))
def test_trials_between_strokes_are_those_of_a_typed_line(measure: str, trials: list[str]) -> None:
    try:
        typed = values_in(" ".join(trials), KNOWN.measures[measure], Side.LEFT)
    except EntryError:
        assert whys(measure=measure, value="|".join(trials))
    else:
        assert read(measure=measure, value="|".join(trials)).entry == typed


@pytest.mark.parametrize(
    "measure", [one for one in KNOWN.measures.values() if not one.made_of], ids=lambda m: m.id
)
def test_every_measure_is_read(measure: Measure) -> None:
    for side in measure.sides:
        usual = f"{measure.usual_low:g}"
        line = read(measure=measure.id, side=side or "", value="|".join([usual] * measure.counted))
        assert (line.measure, line.entry.side, line.asks) == (measure, side, ())
        assert len(line.entry.trials) == measure.counted


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        ({"person": " "}, "person: the cell is empty: fill it"),
        ({"value": ""}, "value: the cell is empty: fill it"),
        ({"measure": "lunje"}, "measure: lunje: no measure has this name; did you mean lunge?"),
        ({"measure": "reach_composite"}, "measure: reach_composite: "),
        ({"side": ""}, "side: the cell is empty: lunge needs left or right"),
        ({"side": "injured"}, "side: injured: write left or right"),
        ({"measure": "pain_now", "value": "3"}, "side: left: pain now has no sides: leave the cell empty"),
        ({"value": "ten"}, "value: ten: not a value: type a figure, unable or cap"),
        ({"value": "10.2 10.4"}, "value: 10.2 10.4: more than one value: part trials by strokes"),
        ({"value": "10||11"}, "value: 10||11: a trial is missing"),
        ({"value": "1|2|3|4"}, "value: 4: too many trials: lunge counts 3"),
        ({"value": "unable|3"}, "value: unable: it stands alone on its side"),
        ({"value": "cap"}, "value: cap: lunge has no cap: type its value"),
        ({"value": "10 s"}, "value: 10 s: lunge is in cm or mm, not in s"),
        ({"value": "99"}, "value: 99: lunge goes from"),
        ({"value": "١٠"}, "value: ١٠: write figures with the digits 0 to 9"),
        ({"value": "1\x1b[2J"}, "value: U+001B: a character that cannot be shown"),
        ({"value": "10\n11"}, "value: U+000A: one line at a time"),
        ({"moment": "during"}, "moment: during: write before or after"),
        ({"grade": "IV", "injured_side": "left"}, "grade: IV: write I, II or III"),
        ({"grade": "II"}, "injured_side: the cell is empty, and an injury is of one ankle: fill it"),
        ({"injured_on": "soon", "injured_side": "left"}, "injured_on: soon: no day: write it as 2026-08-14"),
        ({"taken_at": "2026-10-25 02:30"}, "taken_at: 2026-10-25 02:30: the clocks were put back"),
        ({"value": "1" * 10_240}, f"value: {'1' * 24}…: the cell has 10240 characters and may have {CELL_MOST}"),
        ({"measure": '"' * 900}, "measure: "),
        ({"beyond": "2"}, "2: more cells than headings: put a cell that holds a comma in quotes"),
    ],
)
def test_a_bad_cell_is_named_with_what_to_do(cells: dict[str, str], why: str) -> None:
    (found,) = whys(**cells)
    assert found.startswith(why)
    assert found.isprintable()
    assert len(found) < 250


def test_every_bad_cell_of_a_row_is_told() -> None:
    found = whys(person="", taken_at="x", side="y", grade="z", injured_side="left")
    assert [why.partition(":")[0] for why in found] == ["taken_at", "person", "side", "grade"]


def test_a_formula_is_undone_in_names_and_left_in_figures() -> None:
    line = read(person=defused("=A.B."), examiner=defused("@KV"))
    assert (line.person, line.examiner) == ("=A.B.", "@KV")
    assert read(person="O'Neil").person == "O'Neil"
    assert whys(value="'-2")


def test_a_value_outside_the_plausible_range_is_asked_about() -> None:
    assert read(value="25").asks == ("lunge left 25: usually 0 to 20 cm. Is it right?",)


def test_a_day_without_a_time_is_told() -> None:
    assert read(taken_at="2026-08-14").only_day


def test_the_columns_of_an_export_are_read_and_held_against_the_value() -> None:
    line = read(unit="cm", status="measured", conditions="Tape | shoe")
    assert line.conditions == ("tape", "shoe")
    assert whys(unit="mm") == ("unit: mm: lunge is kept in cm: write another unit behind the value",)
    assert whys(status="unable") == (
        "status: unable: by its value this is measured: make them alike, or leave the cell empty",
    )
    assert whys(conditions="skates")[0].startswith("conditions: skates: write brace, tape, shoe")
