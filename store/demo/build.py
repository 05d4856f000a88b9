"""A record of invented people, as if it had been kept up to today."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, time, timedelta, timezone
from pathlib import Path

from store.care.care import Care, name_examiner
from store.care.people import EpisodeForm, new_person
from store.knowledge.load import load
from store.knowledge.time import SetClock, Stamp
from store.knowledge.words import Grade, Side
from store.record.faults import FaultKind, fault
from store.record.file import open_record
from store.record.uuid7 import Ids

INVENTED = "invented"


def build(path: Path, today: Stamp | date) -> None:
    """Make a new record of invented people whose last visits lie just before `today`; a day alone means its noon.

    The same `today` gives the same content. Raises RecordFault where there is a file already.
    """
    if path.exists():
        raise fault(FaultKind.EXISTS, path)
    now = today if isinstance(today, Stamp) else Stamp.of(datetime.combine(today, time(12), UTC))
    zone = timezone(timedelta(minutes=now.offset_min))
    clock = SetClock(now.at.astimezone(zone) - timedelta(days=24))
    ids = Ids(random.Random(1).getrandbits)
    with open_record(path, clock, create=True, ids=ids) as record:
        care = Care(record, load(), clock)
        with care.together():
            name_examiner(care, INVENTED)
            form = EpisodeForm(Side.RIGHT, grade=Grade.II, injured_on=clock.now().on, sport="orienteering")
            new_person(care, "R.K.", "1995", form)
