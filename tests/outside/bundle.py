"""What is written for one person as a FHIR bundle, once the reference library has taken it."""

from __future__ import annotations

import json
from typing import Any

from store.care.everything import everything_of
from store.papers.fhir_out import fhir_parts
from tests.care.begun import Begun

Found = dict[str, Any]


def taken(data: bytes) -> Any:  # noqa: ANN401 - the library makes its classes when it is asked
    """The bundle as the library reads it. Raises where it does not take it."""
    from fhir.resources.R4B.bundle import Bundle  # half a second, which every process would pay at its collection

    return Bundle.model_validate_json(data)


def written(now: Begun) -> list[Found]:
    """The resources of the one person, once the library has taken the bundle."""
    held = everything_of(now.care, now.care.person(now.episode.person))
    data = b"".join(fhir_parts([held], now.care.knowledge.measures, now.clock.now()))
    taken(data)
    return [each["resource"] for each in json.loads(data)["entry"]]
