"""What was written, asked and decided, in FHIR R4: signed notes, safety screens, decisions on a stage.

All of it stands in codes of our own: no published list has them. Of the safety screen it is the ids of its
questions that stand, and not their words.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Mapping

from store.care.noting import ADDITION, SECTIONS
from store.care.safety_state import AS_A_GROUP, NO_CHANGE
from store.knowledge.papers import Note, SafetyScreen
from store.knowledge.planned import StageDecision
from store.knowledge.words import Side
from store.papers.fhir_words import (
    UCUM,
    Resource,
    base,
    body_site,
    code,
    observed,
    own_code,
    part,
    reference,
    text_of,
    when,
)

# notes


def document(note: Note) -> Resource:
    """A signed note or an addition to one, its words as plain text. A draft is no document: it is not written."""
    assert note.signed is not None
    found = base("DocumentReference", note.id) | {
        "status": "current" if note.retracted is None else "entered-in-error",
        "docStatus": "final",
        "type": code(own_code("note", note.kind, note.kind), text=note.kind),
        "subject": reference(note.person),
        "date": when(note.signed),
        "content": [{"attachment": _attachment(note)}],
    }
    if note.signed_by:
        student = " (student)" if note.student else ""
        found["author"] = [{"display": text_of(f"{note.signed_by}{student}")}]
    if note.countersigned_by:
        found["authenticator"] = {"display": text_of(note.countersigned_by)}
    if note.adds_to:
        found["relatesTo"] = [{"code": "appends", "target": reference(note.adds_to)}]
    return found | ({"context": {"encounter": [reference(note.visit)]}} if note.visit else {})


def _attachment(note: Note) -> Resource:
    assert note.signed is not None
    names = [name for name in (*SECTIONS, ADDITION) if name in note.sections]
    names += [name for name in note.sections if name not in names]
    text = "\n\n".join(f"{name}\n{note.sections[name]}" for name in names)
    return {
        "contentType": "text/plain; charset=utf-8",
        "data": b64encode(text_of(text).encode("utf-8")).decode("ascii"),
        "title": note.kind,
        "creation": when(note.signed),
    }


# safety screens


def screening(one: SafetyScreen, side: Side | None, *, amended: bool) -> Resource:
    """A safety screen: its outcome, what each rule came to, what was answered. What was not asked is not there."""
    as_group = one.kind == AS_A_GROUP
    outcome = NO_CHANGE if as_group else one.outcome
    found = _observation("safety-screen", "safety screen", one.id, one.person, side) | {
        "status": observed(amended=amended, retracted=one.retracted is not None),
        "effectiveDateTime": when(one.asked),
        "valueCodeableConcept": code(own_code("safety-outcome", outcome), text=outcome),
    }
    if one.visit:
        found["encounter"] = reference(one.visit)
    if one.examiner:
        found["performer"] = [{"display": text_of(one.examiner)}]
    if one.settled is not None:
        found["note"] = [{"text": text_of(f"settled: {one.settled_because}"), "time": when(one.settled)}]
    parts = [_on_show(one)] if as_group else [*_findings(one), *_answers(one)]
    return found | ({"component": parts} if parts else {})


def _on_show(one: SafetyScreen) -> Resource:
    """The questions that were on show when they were asked as a group: not one of them was answered by itself."""
    return part("safety-part", "on-show", "on show") | {"valueString": text_of(", ".join(one.shown))}


def _findings(one: SafetyScreen) -> Iterator[Resource]:
    for finding in one.findings:
        rule, outcome = str(finding["rule"]), str(finding["outcome"])
        yield part("safety-rule", rule, rule) | {
            "valueCodeableConcept": code(own_code("safety-outcome", outcome), text=outcome)
        }
        score = finding.get("score")
        if isinstance(score, Mapping):
            yield from _clot(score)


def _clot(score: Mapping[str, object]) -> Iterator[Resource]:
    """By which form, and the score with and without the judgement that another diagnosis is as likely."""
    yield part("safety-part", "clot-form", "form of the clot score") | {"valueString": str(score["form"])}
    for key, words in (
        ("without_other", "clot score without another diagnosis"),
        ("with_judgement", "clot score with the judgement on another diagnosis"),
    ):
        ends = score.get(key)
        if isinstance(ends, list):
            low, high = ({"value": int(end), "system": UCUM, "code": "{score}"} for end in ends)
            yield part("safety-part", f"clot-{key.replace('_', '-')}", words) | {
                "valueRange": {"low": low, "high": high}
            }


def _answers(one: SafetyScreen) -> Iterator[Resource]:
    for key, word in one.answers.items():
        asked = part("safety-question", key, key)
        if word in ("yes", "no"):
            yield asked | {"valueBoolean": word == "yes"}
        elif isinstance(word, str):
            yield asked | {"valueString": text_of(word)}
        else:
            yield asked | {"valueQuantity": {"value": float(word)}}  # in the unit that the question has


# decisions


def decided(one: StageDecision, side: Side | None, *, amended: bool) -> Resource:
    """That a clinician decided what the ankle is ready for, with the criteria as they stood."""
    found = _observation("stage-decision", "ready for, as decided by the clinician", one.id, one.person, side) | {
        "status": observed(amended=amended, retracted=one.retracted is not None),
        "effectiveDateTime": when(one.decided),
        "valueCodeableConcept": code(own_code("stage", one.stage), text=one.stage),
    }
    if one.examiner:
        found["performer"] = [{"display": text_of(one.examiner)}]
    if one.reason:
        found["note"] = [{"text": text_of(one.reason)}]
    parts = [
        part("criterion", str(answer["id"]), str(answer["id"])) | {"valueString": text_of(str(answer["verdict"]))}
        for answer in one.answers
        if "id" in answer and "verdict" in answer
    ]
    return found | ({"component": parts} if parts else {})


def _observation(name: str, words: str, kept: str, person: str, side: Side | None) -> Resource:
    found = base("Observation", kept) | {
        "code": code(own_code("observation", name, words), text=words),
        "subject": reference(person),
    }
    return found | ({"bodySite": body_site(side)} if side is not None else {})
