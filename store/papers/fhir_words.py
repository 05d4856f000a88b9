"""The small parts of a FHIR R4 resource: references, codes, sides, quantities, times.

Codes of SNOMED CT, LOINC and UCUM stand here only where they were seen in a published list; for all else there is
a code system of our own, and the words.
"""

from __future__ import annotations

import re
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5

from store.knowledge.time import Stamp
from store.knowledge.words import Side

Resource = dict[str, Any]

OWN = "urn:bothfeet"
SNOMED = "http://snomed.info/sct"
LOINC = "http://loinc.org"
UCUM = "http://unitsofmeasure.org"

SIDES = {
    Side.LEFT: ("51636004", "Structure of left ankle"),
    Side.RIGHT: ("6685009", "Structure of right ankle"),
}
SPRAIN = ("44465007", "Sprain of ankle")
PAIN_NOW = ("72514-3", "Pain severity - 0-10 verbal numeric rating [Score] - Reported")

UNITS = {
    "cm": "cm",
    "deg": "deg",
    "s": "s",
    "N": "N",
    "%": "%",
    "reps": "{reps}",
    "count": "1",
    "errors": "1",
    "points": "{score}",
    "level": "{score}",
    "0-10": "{score}",
    "grade": "{score}",
}
"""A unit of the record in UCUM."""

_UNFIT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff]")


def text_of(text: str) -> str:
    """A text as FHIR lets one stand: without control characters, and never empty."""
    return _UNFIT.sub("\N{REPLACEMENT CHARACTER}", text) if text.strip() else "(empty)"


def uuid_of(kept: str, part: str = "") -> str:
    """The UUID of a row, and the same one each time; another for each part that is made of it."""
    try:
        row = UUID(kept)
    except ValueError:
        row = uuid5(NAMESPACE_URL, f"{OWN}:{kept}")
    return str(uuid5(row, part) if part else row)


def entry(resource: Resource) -> Resource:
    """A resource with its full address, by which it is known again."""
    return {"fullUrl": f"urn:uuid:{resource['id']}", "resource": resource}


def base(kind: str, kept: str, part: str = "") -> Resource:
    """What each resource has: its kind, its stable id, and that again as its identifier where it gets another."""
    own = uuid_of(kept, part)
    return {
        "resourceType": kind,
        "id": own,
        "identifier": [{"system": "urn:ietf:rfc:3986", "value": f"urn:uuid:{own}"}],
    }


def reference(kept: str, part: str = "") -> Resource:
    """A reference to another resource of the bundle."""
    return {"reference": f"urn:uuid:{uuid_of(kept, part)}"}


def own_code(system: str, code: str, display: str = "") -> Resource:
    """A coding of our own system."""
    found = {"system": f"{OWN}:{system}", "code": re.sub(r"\s+", "-", text_of(code).strip())}
    return found | ({"display": text_of(display)} if display.strip() else {})


def code(*codings: Resource, text: str) -> Resource:
    """A concept: its codings, and the words."""
    return {"coding": list(codings), "text": text_of(text)}


def coding(system: str, pair: tuple[str, str]) -> Resource:
    """A coding of a published system."""
    return {"system": system, "code": pair[0], "display": pair[1]}


def body_site(side: Side) -> Resource:
    """The ankle of a side."""
    return code(coding(SNOMED, SIDES[side]), text=f"{side} ankle")


def quantity(value: float, unit: str, words: str) -> Resource:
    """A value with its unit in UCUM, where that has it."""
    number = int(value) if value == int(value) else value
    found: Resource = {"value": number, "unit": text_of(words)}
    return found | ({"system": UCUM, "code": UNITS[unit]} if unit in UNITS else {})


def when(stamp: Stamp) -> str:
    """An instant with the offset that was in force there and then."""
    return stamp.local_text()


def observed(*, amended: bool, retracted: bool) -> str:
    """The status of an observation: one that was taken back was entered in error."""
    if retracted:
        return "entered-in-error"
    return "amended" if amended else "final"


def part(system: str, name: str, words: str) -> Resource:
    """A component of an observation, in a code of our own; its value is added to it."""
    return {"code": code(own_code(system, name), text=words)}


def period(start: Stamp, end: Stamp | None) -> Resource:
    """From when, and until when where it has ended and did not end before it began."""
    found = {"start": when(start)}
    return found | ({"end": when(end)} if end is not None and end.at >= start.at else {})
