"""A new record is made without the large libraries that sqlite-utils takes in where they are installed."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from store.record.lean import without


def test_a_module_is_hidden_within_and_found_again_after(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "somebodys_frames.py").write_text("ROWS = 3\n", encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    with without("somebodys_frames"), pytest.raises(ImportError):
        import_module("somebodys_frames")
    assert import_module("somebodys_frames").ROWS == 3


def test_what_is_loaded_already_stays() -> None:
    with without("sys", "json"):
        assert import_module("json").dumps({}) == "{}"


def test_making_a_record_loads_no_arrays_and_no_frames() -> None:
    says = (
        "import sys, store.record.migrations\n"
        "print(sorted({'numpy', 'pandas'} & set(sys.modules)))\n"
        "import sqlite_utils.db; print(sqlite_utils.db.pd, sqlite_utils.db.np)\n"
    )
    done = subprocess.run([sys.executable, "-c", says], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.split("\n")[:2] == ["[]", "None None"]
