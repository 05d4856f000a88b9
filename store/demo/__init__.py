"""Invented people with different stories, made by the acts of care under a clock that is set."""

from store.care.unswept import unswept

with unswept():  # it reads most of the program, and all of that stays
    from store.demo.telling import build

__all__ = ["build"]
