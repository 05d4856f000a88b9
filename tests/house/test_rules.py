"""The rules of the house that can be read off its files."""

from __future__ import annotations

import re
import tokenize
from pathlib import Path

import pytest

from tests.house.files import ROOT, project_files, python_files

LONGEST = 400  # lines; past it a file is more than one idea
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE",
    "pyproject.toml",
    "demo.sqlite",
    "store",
    "tui",
    "tests",
}

# The project speaks of itself alone. A tilde cuts each pattern, so that this file keeps its own rule.
FOREIGN = [
    pattern.replace("~", "")
    for pattern in (
        r"(?<![\w.$}])/(wo~rk|fa~rm|ho~me|ro~ot|Us~ers)/",
        r"\.\./sh~ared",
        r"py~pi\.org",
        r"files\.python~hosted",
        r"registry\.np~mjs",
        r"deb\.deb~ian",
        r"trans~cript",
        r"\b(a|the) record~ing\b",
        r"\b(des~ign|scr~eens|st~yle|che~cks)\.md\b",
        r"\biss~ues?\s+#?\d",
        r"cla~ude|anth~ropic|chat~gpt|co~pilot",
        r"\bLL~Ms?\b|language mo~del",
    )
]

IGNORE = re.compile(r"#\s*type:\s*ignore")
IGNORE_WITH_REASON = re.compile(r"#\s*type:\s*ignore\[[\w, -]+\]\s*(#|-)\s*\S+ \S+")
NOQA = re.compile(r"#\s*noqa", re.IGNORECASE)
NOQA_WITH_REASON = re.compile(r"#\s*noqa:\s*[A-Z]+\d+(,\s*[A-Z]+\d+)*\s*(#|-)\s*\S+ \S+")


@pytest.mark.parametrize("pattern", FOREIGN, ids=range(len(FOREIGN)))
def test_the_project_speaks_of_itself_alone(pattern: str) -> None:
    wanted = re.compile(pattern, re.IGNORECASE)
    hits = [f"{path}:{n}: {line.strip()[:120]}" for path, n, line in _lines() if wanted.search(line)]
    hits += [f"the name {path}" for path in project_files() if wanted.search(path.as_posix())]
    assert not hits, "\n".join(hits)


def test_the_rule_about_foreign_words_catches_them() -> None:
    for line in (
        "see ../sh" + "ared/x",
        "of iss" + "ue 2",
        "x = '/wo" + "rk/main'",
        "py" + "pi.org",
        "the Record" + "ing",
    ):
        assert any(re.search(pattern, line, re.IGNORECASE) for pattern in FOREIGN), line
    for line in ("$HOME/wo" + "rk/x", "recording a reading", "home/work", "the record", "transcribed"):
        assert not any(re.search(pattern, line, re.IGNORECASE) for pattern in FOREIGN), line


def test_a_picture_is_looked_into_but_for_its_pixels() -> None:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return len(data).to_bytes(4, "big") + kind + data + b"\0\0\0\0"

    picture = PNG + chunk(b"tEXt", b"Author\0somebody") + chunk(PIXELS, b"chance") + chunk(b"IEND", b"")
    assert _written(picture) == b"tEXtAuthor\0somebody\nIDAT\nIEND\n"
    assert _written(b"plain chance") == b"plain chance"


def test_the_top_level_holds_only_what_was_agreed() -> None:
    names = {path.parts[0] for path in project_files()}
    assert {name for name in names if not name.startswith(".")} <= TOP_LEVEL


def test_a_file_is_one_idea() -> None:
    long = {
        path.as_posix(): count
        for path in project_files()
        if path.suffix in {".py", ".tcss"}
        and (count := len((ROOT / path).read_text("utf-8").splitlines())) > LONGEST
    }
    assert not long


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_what_a_page_names_is_there(page: str) -> None:
    named = set(re.findall(r"`((?:store|tui|tests|\.ci)/[\w./-]*)`", (ROOT / page).read_text("utf-8")))
    assert not {name for name in named if not (ROOT / name).exists()}


def test_what_is_ignored_is_ignored_for_a_reason() -> None:
    bare = [
        f"{path}:{line}: {comment}"
        for path in python_files()
        for line, comment in _comments(path)
        if (IGNORE.search(comment) and not IGNORE_WITH_REASON.search(comment))
        or (NOQA.search(comment) and not NOQA_WITH_REASON.search(comment))
    ]
    assert not bare, "\n".join(bare)


@pytest.mark.parametrize(
    ("comment", "fits"),
    [
        ("# noqa: E741 - the trade's own numeral", True),
        ("# noqa: E741", False),
        ("# noqa", False),
        ("# type: ignore[misc]  # the library ships no types", True),
        ("# type: ignore[misc]", False),
        ("# type: ignore", False),
    ],
)
def test_what_counts_as_a_reason(comment: str, fits: bool) -> None:
    assert bool(IGNORE_WITH_REASON.search(comment) or NOQA_WITH_REASON.search(comment)) is fits


def _lines() -> list[tuple[Path, int, str]]:
    """Every line of every file, read as Latin-1 so that a binary file is looked into too."""
    return [
        (path, n, line)
        for path in project_files()
        for n, line in enumerate(_written((ROOT / path).read_bytes()).decode("latin-1").split("\n"), start=1)
    ]


PNG, PIXELS = b"\x89PNG\r\n\x1a\n", b"IDAT"


def _written(data: bytes) -> bytes:
    """What somebody may have written in a file: of a picture all but its packed pixels, in which chance writes."""
    if not data.startswith(PNG):
        return data
    kept, at = b"", len(PNG)
    while at < len(data):
        size = int.from_bytes(data[at : at + 4], "big")
        kind = data[at + 4 : at + 8]
        kept += kind + (b"" if kind == PIXELS else data[at + 8 : at + 8 + size]) + b"\n"
        at += 12 + size
    return kept


def _comments(path: Path) -> list[tuple[int, str]]:
    with (ROOT / path).open("rb") as file:
        return [(t.start[0], t.string) for t in tokenize.tokenize(file.readline) if t.type == tokenize.COMMENT]
