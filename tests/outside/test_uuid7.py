"""UUID version 7 against RFC 9562 (May 2024), appendix A.6.

The example there is of 22 February 2022, 14:22:22.00 in the zone five hours west of UTC:
unix_ts_ms 0x017F22E279B0, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F, which together are
017F22E2-79B0-7CC3-98C4-DC0C0C07398F.
"""

from __future__ import annotations

import uuid
from datetime import datetime, timedelta, timezone

from store.record.uuid7 import milliseconds, uuid7

AT = datetime(2022, 2, 22, 14, 22, 22, tzinfo=timezone(timedelta(hours=-5)))
RAND_A = 0xCC3
RAND_B = 0x18C4DC0C0C07398F
PUBLISHED = "017F22E2-79B0-7CC3-98C4-DC0C0C07398F"


def test_the_published_instant() -> None:
    assert milliseconds(AT) == 0x017F22E279B0


def test_the_published_uuid() -> None:
    assert uuid7(milliseconds(AT), RAND_A << 62 | RAND_B) == PUBLISHED.lower()


def test_the_library_reads_it_as_version_7_of_the_rfc_variant() -> None:
    made = uuid.UUID(uuid7(milliseconds(AT), RAND_A << 62 | RAND_B))
    assert made == uuid.UUID(PUBLISHED)
    assert made.version == 7
    assert made.variant == uuid.RFC_4122
