"""Invented people with different stories, made by the acts of care under a clock that is set."""

from store.demo.telling import build

__all__ = ["build"]
