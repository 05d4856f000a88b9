"""The last look at the sideline, as `show` tells it."""

from __future__ import annotations

import json
import re

from store.care import sideline
from store.care.finding import find_person
from store.care.people import new_person
from store.knowledge.words import Side
from tests.command.conftest import Shell


def test_the_last_look_at_the_sideline_is_told(own: Shell) -> None:
    assert json.loads(own("show", "K.L.", "--json").out)["looks"] == []
    care = own.care()
    bare, _ = new_person(care, "M.M.")
    for person in (bare, find_person(care, "K.L.")):
        sideline.keep(care, person, Side.RIGHT, {"bone_sore": True})
        sideline.keep(care, person, Side.RIGHT, {"bone_sore": True, "cold_foot": True})
    care.close()
    line = r"sideline \d+ \w+ 20\d\d \d\d:\d\d, right ankle: emergency \(Foot cold or pale, or no pulse in it\)"
    assert len(re.findall(line, own("show", "K.L.").out)) == 1
    assert re.search(f"has no episode yet: open one on screen \\(F2\\); {line}", own("show", "M.M.").err)
    (look,) = json.loads(own("show", "K.L.", "--json").out)["looks"]
    assert (look["side"], look["outcome"], look["due_at"]) == ("right", "emergency", None)
    assert look["answers"] == {"bone_sore": True, "cold_foot": True}
