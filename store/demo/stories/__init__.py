"""The invented people, one story a file. A story yields the time at which it wants to go on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

from store.demo.clinic import Clinic
from store.demo.stories.both_ankles import both_ankles
from store.demo.stories.crutches import crutches
from store.demo.stories.far_recovered import far_recovered
from store.demo.stories.fencer import fencer
from store.demo.stories.first_day import first_day
from store.demo.stories.flare_up import flare_up
from store.demo.stories.flat import flat
from store.demo.stories.hockey import forward, goalkeeper
from store.demo.stories.not_graded import not_graded
from store.demo.stories.orienteer import orienteer
from store.demo.stories.runner import runner
from store.demo.stories.squad import squad

STORIES: tuple[Callable[[Clinic], Iterator[datetime]], ...] = (
    orienteer,
    fencer,
    squad,
    forward,
    goalkeeper,
    both_ankles,
    first_day,
    runner,
    flat,
    flare_up,
    far_recovered,
    not_graded,
    crutches,
)
