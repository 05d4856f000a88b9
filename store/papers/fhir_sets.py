"""The codes that FHIR R4 demands in the elements written here, and the check that no other one is written.

The lists are those of the required value sets of R4 (4.0.1), recalled and not read in its text. Not every program
that reads a bundle notices a wrong code in one of them, so it is held back here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

_EVENT = (
    "preparation", "in-progress", "not-done", "on-hold", "stopped", "completed", "entered-in-error", "unknown",
)  # fmt: skip
_REQUEST = ("draft", "active", "on-hold", "revoked", "completed", "entered-in-error", "unknown")

REQUIRED: Mapping[str, frozenset[str]] = {
    path: frozenset(codes)
    for path, codes in {
        "Bundle.type": (
            "document", "message", "transaction", "transaction-response", "batch", "batch-response", "history",
            "searchset", "collection",
        ),
        "Condition.clinicalStatus.coding.code": (
            "active", "recurrence", "relapse", "inactive", "remission", "resolved",
        ),
        "EpisodeOfCare.status": (
            "planned", "waitlist", "active", "onhold", "finished", "cancelled", "entered-in-error",
        ),
        "Encounter.status": (
            "planned", "arrived", "triaged", "in-progress", "onleave", "finished", "cancelled", "entered-in-error",
            "unknown",
        ),
        "Observation.status": (
            "registered", "preliminary", "final", "amended", "corrected", "cancelled", "entered-in-error",
            "unknown",
        ),
        "Observation.valueQuantity.comparator": ("<", "<=", ">=", ">"),
        "Procedure.status": _EVENT,
        "DocumentReference.status": ("current", "superseded", "entered-in-error"),
        "DocumentReference.docStatus": ("preliminary", "final", "amended", "entered-in-error"),
        "DocumentReference.relatesTo.code": ("replaces", "transforms", "signs", "appends"),
        "CarePlan.status": _REQUEST,
        "CarePlan.intent": ("proposal", "plan", "order", "option"),
        "CarePlan.activity.detail.status": (
            "not-started", "scheduled", "in-progress", "on-hold", "completed", "cancelled", "stopped", "unknown",
            "entered-in-error",
        ),
        "CarePlan.activity.detail.scheduledTiming.repeat.periodUnit": ("s", "min", "h", "d", "wk", "mo", "a"),
    }.items()
}  # fmt: skip
"""By path in the resource, without places in lists: the codes it may have."""


class WrongCode(ValueError):
    """A code that its required value set does not have: a mistake of this program, found before it is written."""


def checked(resource: Mapping[str, Any]) -> Mapping[str, Any]:
    """The resource itself. Raises WrongCode on a code that its required value set does not have."""
    for path, value in _leaves(resource, str(resource["resourceType"])):
        allowed = REQUIRED.get(path)
        if allowed is not None and value not in allowed:
            raise WrongCode(f"{path}: {value!r} is none of {', '.join(sorted(allowed))}")
    return resource


def _leaves(value: object, path: str) -> Iterator[tuple[str, object]]:
    if isinstance(value, Mapping):
        for name, each in value.items():
            yield from _leaves(each, f"{path}.{name}")
    elif isinstance(value, Sequence) and not isinstance(value, str):
        for each in value:
            yield from _leaves(each, path)
    else:
        yield path, value
