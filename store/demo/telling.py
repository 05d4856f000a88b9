"""A record of invented people, as if it had been kept up to today."""

from __future__ import annotations

import heapq
import random
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta, timezone
from pathlib import Path

from store.care.care import Care, name_examiner
from store.care.invented import INVENTED
from store.care.unswept import unswept
from store.demo.clinic import Clinic
from store.demo.stories import STORIES
from store.knowledge.load import load
from store.knowledge.time import SetClock, Stamp
from store.record.backup import copy
from store.record.faults import FaultKind, fault
from store.record.file import open_in_memory
from store.record.uuid7 import Ids

OPENED_BEFORE = timedelta(days=200)
"""How long ago the invented record was begun: before its first story."""


def build(path: Path, today: Stamp | date) -> None:
    """Make a new record of invented people whose last visits lie just before `today`; a day alone means its noon.

    All is done by the acts of care, in the order of time, in memory, and copied to the file when it is whole: no
    disk is waited for before, since a record that is not there yet has nothing to lose. The file has no journal
    beside it. The same `today` gives the same content to the letter. Raises RecordFault where a file stands
    already.
    """
    if path.exists():
        raise fault(FaultKind.EXISTS, path)
    now = today if isinstance(today, Stamp) else Stamp.of(datetime.combine(today, time(12), UTC))
    clock = SetClock(now.at.astimezone(timezone(timedelta(minutes=now.offset_min))) - OPENED_BEFORE)
    ids = Ids(random.Random("invented").getrandbits)
    with unswept(), open_in_memory(clock, path, ids) as record:
        care = Care(record, load(), clock)
        clinic = Clinic(care, clock, now)
        with care.together():
            name_examiner(care, INVENTED)
            _tell(clock, [story(clinic) for story in STORIES])
        copy(record.db, path)


def _tell(clock: SetClock, stories: Iterable[Iterator[datetime]]) -> None:
    """Let each story go on when it is its turn; who comes while another visit lasts waits for its end."""
    waiting = [(next(story), n, story) for n, story in enumerate(stories)]
    heapq.heapify(waiting)
    while waiting:
        at, n, story = heapq.heappop(waiting)
        clock.move(max(0.0, (at - clock.now().at).total_seconds()))
        following = next(story, None)
        if following is not None:
            heapq.heappush(waiting, (following, n, story))
