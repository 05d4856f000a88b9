"""The invented people, one story a file. A story yields the time at which it wants to go on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from store.demo.clinic import Clinic
from store.demo.stories.both_ankles import both_ankles
from store.demo.stories.fencer import fencer
from store.demo.stories.first_day import first_day
from store.demo.stories.hockey import forward, goalkeeper
from store.demo.stories.orienteer import orienteer
from store.demo.stories.runner import runner

STORIES: tuple[Callable[[Clinic], Iterator[datetime]], ...] = (
    orienteer,
    fencer,
    forward,
    goalkeeper,
    both_ankles,
    first_day,
    runner,
)
