"""A new record is made without the large libraries that sqlite-utils takes in, and that no step of ours needs."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from store.record.lean import later, patterns_later, without


def test_a_module_is_hidden_within_and_found_again_after(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "somebodys_frames.py").write_text("ROWS = 3\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    with without("somebodys_frames"), pytest.raises(ImportError):
        import_module("somebodys_frames")
    assert import_module("somebodys_frames").ROWS == 3


def test_what_is_loaded_already_stays() -> None:
    with without("sys", "json"):
        assert import_module("json").dumps({}) == "{}"


def test_a_module_is_read_when_something_of_it_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "somebodys_package"
    folder.mkdir()
    (folder / "__init__.py").write_text("", encoding="utf-8")
    (folder / "rows.py").write_text("import sys\nsys.rows_were_read = True\nROWS = 3\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    later("somebodys_package", "rows")
    held: dict[str, Any] = {}
    exec("from somebodys_package import rows", held)
    assert not hasattr(sys, "rows_were_read")
    assert held["rows"].ROWS == 3
    assert sys.rows_were_read  # type: ignore[attr-defined]  # set by the module above


def test_a_pattern_is_compiled_when_it_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lines = 'import re\nLATE = re.compile(r"(b+)", flags=re.I)\nEARLY = re.compile("a").sub("", "cab")\n'
    (tmp_path / "somebodys_patterns.py").write_text(lines, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    with patterns_later():
        made = import_module("somebodys_patterns")
    assert isinstance(re.compile("c"), re.Pattern)
    assert made.EARLY == "cb"
    assert not isinstance(made.LATE, re.Pattern)
    assert "_compiled" not in vars(made.LATE)
    assert made.LATE.findall("aBb") == ["Bb"]
    assert "_compiled" in vars(made.LATE)


def test_what_was_to_be_compiled_later_works_where_it_is_needed() -> None:
    says = (
        "import store.record.migrations, sqlite_utils\n"
        "table = sqlite_utils.Database(memory=True)['word'].insert({'text': 'left and right'})\n"
        "table.enable_fts(['text'])\n"
        "print(table.detect_fts(), table.db['word_fts'].virtual_table_using, len(list(table.search('right'))))\n"
    )
    done = subprocess.run([sys.executable, "-c", says], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.split() == ["word_fts", "FTS5", "1"]


def test_a_module_that_is_not_there_is_left_to_the_import() -> None:
    later("json", "nowhere_to_be_found")
    assert "json.nowhere_to_be_found" not in sys.modules


def test_making_a_record_reads_no_parser_of_dates() -> None:
    says = (
        "import sys, store.record.migrations\n"
        "print('dateutil.parser._parser' in sys.modules)\n"
        "from sqlite_utils import recipes; print(recipes.parsedate('3 May 2020'))\n"
    )
    done = subprocess.run([sys.executable, "-c", says], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.split("\n")[:2] == ["False", "2020-05-03"]


def test_making_a_record_loads_no_arrays_and_no_frames() -> None:
    says = (
        "import sys, store.record.migrations\n"
        "print(sorted({'numpy', 'pandas'} & set(sys.modules)))\n"
        "import sqlite_utils.db; print(sqlite_utils.db.pd, sqlite_utils.db.np)\n"
    )
    done = subprocess.run([sys.executable, "-c", says], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.split("\n")[:2] == ["[]", "None None"]


def test_what_every_start_reads_brings_no_cryptography() -> None:
    says = "import sys, store.care.care, store.care.caseload; print('hashlib' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", says], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.strip() == "False"
