"""A reading as an Observation of FHIR R4: the side as body site, trials and moment as components."""

from __future__ import annotations

from collections.abc import Mapping

from store.knowledge.kinds import Measure
from store.knowledge.units import YES_NO, unit_words
from store.knowledge.words import Reading, Status
from store.papers.fhir_words import (
    LOINC,
    PAIN_NOW,
    Resource,
    base,
    body_site,
    code,
    coding,
    observed,
    own_code,
    part,
    quantity,
    reference,
    text_of,
    when,
)

EXAM = {
    "system": "http://terminology.hl7.org/CodeSystem/observation-category",
    "code": "exam",
    "display": "Exam",
}

_PART = "observation-part"


def observation(reading: Reading, known: Mapping[str, Measure], *, amended: bool) -> Resource:
    """One reading. One that was taken back says that it was entered in error."""
    measure = known.get(reading.measure)
    found = base("Observation", reading.id) | {
        "status": observed(amended=amended, retracted=reading.retracted is not None),
        "code": _code(reading, measure),
        "subject": reference(reading.person),
        "effectiveDateTime": when(reading.taken),
    }
    if measure is None or not measure.asks:
        found["category"] = [{"coding": [EXAM]}]
    if reading.visit:
        found["encounter"] = reference(reading.visit)
    if reading.examiner:
        found["performer"] = [{"display": text_of(reading.examiner)}]
    if reading.side is not None:
        found["bodySite"] = body_site(reading.side)
    if reading.note:
        found["note"] = [{"text": text_of(reading.note)}]
    parts = _parts(reading)
    return found | _value(reading) | ({"component": parts} if parts else {})


def _code(reading: Reading, measure: Measure | None) -> Resource:
    name = measure.long_name if measure is not None else reading.measure
    codings = [own_code("measure", reading.measure, name)]
    if reading.measure == "pain_now":
        codings.append(coding(LOINC, PAIN_NOW))
    return code(*codings, text=name)


def _value(reading: Reading) -> Resource:
    """The value, at least the cap where that was reached; why there is none where the person was unable."""
    if reading.value is None or reading.status is Status.UNABLE:
        return {"dataAbsentReason": code(own_code("status", "unable"), text="unable")}
    if reading.unit == YES_NO:
        return {"valueBoolean": reading.value >= 0.5}
    value = quantity(reading.value, reading.unit, unit_words(reading.unit))
    return {"valueQuantity": value | ({"comparator": ">="} if reading.status is Status.CAP else {})}


def _parts(reading: Reading) -> list[Resource]:
    """What stands beside the value: trials, moment, conditions, and that it was measured blind."""
    found: list[Resource] = []
    if len(reading.trials) > 1:
        found += [
            part(_PART, "trial", f"trial {n}")
            | {"valueQuantity": quantity(one, reading.unit, unit_words(reading.unit))}
            for n, one in enumerate(reading.trials, 1)
        ]
    if reading.moment is not None:
        found.append(part(_PART, "moment", "moment") | {"valueString": f"{reading.moment} treatment"})
    found += [
        part(_PART, "condition", "taken in or on") | {"valueString": text_of(one)} for one in reading.conditions
    ]
    if reading.blind:
        found.append(part(_PART, "blind", "measured blind") | {"valueBoolean": True})
    return found
