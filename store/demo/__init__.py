"""Invented people with different stories, made by the acts of care under a clock that is set."""

import gc

from store.care.unswept import unswept

with unswept():  # it reads most of the program, and all of that stays: it is never looked through either
    from store.demo.telling import build

    gc.freeze()

__all__ = ["build"]
