"""Sessions of running in a bundle: what was run, a Procedure each. What is only planned is in the calendar."""

from __future__ import annotations

from store.knowledge.runs import RunSession
from store.knowledge.words import Side
from store.papers.fhir_words import Resource, base, body_site, code, own_code, reference, text_of


def ran(one: RunSession, rung: str, side: Side | None) -> Resource:
    """A session that was run: its day, which has no time, the rung as it is written, and what was told of it."""
    assert one.done_on is not None
    found = base("Procedure", one.id) | {
        "status": "completed" if one.retracted is None else "entered-in-error",
        "code": code(own_code("activity", "walk_run", "walk-run"), text=f"walk-run {rung}"),
        "subject": reference(one.person),
        "performedDateTime": one.done_on.isoformat(),
        "reasonReference": [reference(one.episode, "condition")],
    }
    if one.examiner:
        found["performer"] = [{"actor": {"display": text_of(one.examiner)}}]
    if side is not None:
        found["bodySite"] = [body_site(side)]
    says = "; ".join(_said(one))
    return found | ({"note": [{"text": text_of(says)}]} if says else {})


def _said(one: RunSession) -> list[str]:
    """What was told, a part each; what was not told is left out, and never taken for a no."""
    pains = (
        ("pain during", one.pain_during),
        ("pain next morning", one.pain_morning),
        ("usual morning pain", one.pain_usual),
    )
    found = [f"{name} {pain} of 10" for name, pain in pains if pain is not None]
    found += ["swelling" if one.swelling else "no swelling"] if one.swelling is not None else []
    found += [f"{one.minutes:g} min run"] if one.minutes is not None else []
    found += [f"{one.distance_km:g} km"] if one.distance_km is not None else []
    return [*found, *([one.note] if one.note else [])]
