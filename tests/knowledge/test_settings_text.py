"""A settings file as text: lines that are no TOML are named and left out, and every entry has its line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.knowledge.settings_text import line_of, places, read_lenient

WRONG: list[tuple[str, str, int, str, dict[str, object]]] = [
    ("text not closed", 'theme = "dark\nslot_min = 20', 1, "illegal", {"slot_min": 20}),
    ("text without quotes", "a = 1\ntheme = dark\nb = 2", 2, "invalid value", {"a": 1, "b": 2}),
    ("no sign between", 'a = 1\ntheme "dark"\nb = 2', 2, "expected '='", {"a": 1, "b": 2}),
    ("no key", '= 3\ntheme = "dark"', 1, "invalid statement", {"theme": "dark"}),
    ("the same twice", "a = 1\na = 2\nb = 3", 2, "cannot overwrite", {"a": 1, "b": 3}),
    ("a list not closed", "plan = [\n  { id = 1 }\n\na = 1\n[s]\nb = 2", 1, "unclosed", {"a": 1, "s": {"b": 2}}),
    ("a list not closed before a table", "plan = [ 1,\n[s]\nb = 2", 1, "", {"s": {"b": 2}}),
    ("a row without a comma", "x = [\n  [1]\n  [2],\n]\na = 1", 3, "unclosed", {"a": 1}),
    ("a head not closed", "[x\nsets = 4\n[s]\nb = 2", 1, "expected ']'", {"s": {"b": 2}}),
    ("a table twice", "[s]\na = 1\n[t]\n[s]\na = 2\n[u]", 4, "cannot declare", {"s": {"a": 1}, "t": {}, "u": {}}),
    ("a long text not closed", 'a = 1\nx = """\nb = 2', 2, "unterminated", {"a": 1, "b": 2}),
    ("lines of another system", "a = 1\r\nb = x\r\nc = 2\r\n", 2, "invalid value", {"a": 1, "c": 2}),
]


@pytest.mark.parametrize(
    ("text", "line", "says", "rest"), [one[1:] for one in WRONG], ids=[one[0] for one in WRONG]
)
def test_what_is_no_toml_is_named_by_its_line_and_the_rest_holds(
    text: str, line: int, says: str, rest: dict[str, object]
) -> None:
    found = read_lenient(text)
    assert found.data == rest
    assert [wrong.line for wrong in found.wrong] == [line]
    assert says in found.wrong[0].says


def test_each_wrong_place_is_named() -> None:
    found = read_lenient("a = x\nb = 1\nc = y\n[d\ne = 1\n[f]\ng = 2")
    assert [wrong.line for wrong in found.wrong] == [1, 3, 4]
    assert found.wrong[2].last == 5
    assert found.data == {"b": 1, "f": {"g": 2}}


def test_what_is_no_settings_file_at_all_is_left_out_as_a_whole() -> None:
    found = read_lenient("\n".join("what = is this = here\nok = 1" for _ in range(60)))
    assert (found.data, found.wrong[0].whole) == ({}, True)


@given(st.text())
def test_any_text_is_read_to_its_end(text: str) -> None:
    found = read_lenient(text)
    assert all(1 <= wrong.line <= wrong.last for wrong in found.wrong)
    read_again = read_lenient("\n".join(found.lines))
    assert (read_again.data, read_again.wrong) == (found.data, ())


def test_every_table_and_entry_has_its_line() -> None:
    text = (
        'a = 1\n\n[sound]\ntones = true\n[doses.hold]\nsets = 4\n"rest_s" = 3\nphases = [\n  { seconds = 1 },\n]\n'
        "[[plan]]\nid = 1\n  [plan.in]\n  x = 1\n[[plan]]\nid = 2\n[criteria.jog]\n"
        "range = { needs = { within = 3 } }\nb.c = 1\n"
    )
    found = places(text.split("\n"))
    wanted: dict[tuple[str | int, ...], int] = {
        ("a",): 1,
        ("sound",): 3,
        ("sound", "tones"): 4,
        ("doses",): 5,
        ("doses", "hold", "sets"): 6,
        ("doses", "hold", "rest_s"): 7,
        ("doses", "hold", "phases"): 8,
        ("plan", 0): 11,
        ("plan", 0, "id"): 12,
        ("plan", 0, "in", "x"): 14,
        ("plan", 1): 15,
        ("plan", 1, "id"): 16,
        ("criteria", "jog", "range"): 18,
        ("criteria", "jog", "range", "needs", "within"): 18,
        ("criteria", "jog", "b", "c"): 19,
    }
    assert {path: found[path] for path in wanted} == wanted
    assert line_of(found, ("plan", 1, "minutes")) == 15, "what is missing is looked for where it should stand"
    assert line_of(found, ("nowhere",)) is None
