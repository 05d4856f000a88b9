"""Whom the letter of an episode goes to: kept with the episode, else as the settings say."""

from __future__ import annotations

from store.care.care import Care
from store.care.faults import CareFault
from store.care.people import clean_words
from store.knowledge.words import Episode
from store.record import episodes

TO_MOST = 120
"""Characters of whom a letter goes to."""

BECAUSE = "whom the letter goes to"


def clean_to(text: str) -> str:
    """Whom a letter goes to, in one line; empty: nobody is named. Raises CareFault on what is too long."""
    to = " ".join(text.split())
    if len(to) > TO_MOST:
        raise CareFault(f"whom a letter goes to is named in at most {TO_MOST} characters")
    return clean_words(to, BECAUSE) or ""


def goes_to(care: Care, episode: Episode) -> str:
    """Whom its letter goes to; empty where nobody is named."""
    return care.settings.letter_to if episode.letter_to is None else episode.letter_to


def address(care: Care, episode_id: str, to: str) -> str:
    """Keep whom its letter goes to from now on, and say it as kept. Raises CareFault or RecordFault."""
    episode, to = care.episode(episode_id), clean_to(to)
    now = episode._replace(letter_to=None if to == clean_to(care.settings.letter_to) else to)
    if now != episode:  # what the settings say is not kept: they may say otherwise later
        episodes.revise_episode(care.record, now, by=care.examiner, because=BECAUSE)
    return to
