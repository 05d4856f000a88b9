"""For a short while nothing is looked through for what may be freed, and then it is as it was."""

from __future__ import annotations

import gc

import pytest

from store.care.unswept import unswept


def test_it_is_as_it_was_after() -> None:
    assert gc.isenabled()
    with unswept():
        assert not gc.isenabled()
        with unswept():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_also_after_a_fault() -> None:
    with pytest.raises(ValueError, match="no"), unswept():
        raise ValueError("no")
    assert gc.isenabled()
