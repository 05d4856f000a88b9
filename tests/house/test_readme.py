"""What the README tells of the program is what the program does."""

from __future__ import annotations

import re

from tests.house.files import ROOT
from tui.command import VERBS
from tui.widgets.commands import keys_table

README = (ROOT / "README.md").read_text(encoding="utf-8")
KEYS = re.compile(r"<!-- keys -->\n(.*)<!-- /keys -->", re.DOTALL)


def test_its_table_of_keys_is_the_registry() -> None:
    found = KEYS.search(README)
    assert found
    assert found[1].strip() == keys_table().strip(), "run: python -m tests.look.readme"


def test_each_verb_and_no_other_is_named() -> None:
    named = set(re.findall(r"^bothfeet ([a-z]+) ?", README, re.MULTILINE)) - {"clinic"}
    assert named | {"demo"} == set(VERBS)


def test_its_pictures_are_there() -> None:
    for path in re.findall(r"!\[[^]]*\]\(([^)]+)\)", README):
        assert (ROOT / path).read_bytes().startswith(b"\x89PNG"), path
