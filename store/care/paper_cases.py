"""A person on paper: a finding is told only where it is asked for or tested; then the student decides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from store.care.in_words import many
from store.care.practising import OWN_SCHOOL
from store.care.statements import Section, Statement
from store.knowledge.load import Knowledge
from store.knowledge.practice import Outcome, PaperCase

OUTCOMES: Mapping[Outcome, str] = {
    Outcome.EMERGENCY: "an emergency: call now",
    Outcome.REFER: "refer the same day, before any loading",
    Outcome.FILMS: "films first, by the fracture rule",
    Outcome.TREAT: "treat here, with the usual cautions",
}
"""What a student decides between, the gravest first."""


def judged(knowledge: Knowledge, case: PaperCase, asked: Sequence[str], decided: Outcome) -> list[Section]:
    """What the decision came to: the rules' own outcome with its reason, and what was not asked that had to be."""
    known = knowledge.practice
    right = decided is case.outcome
    source = knowledge.sources[case.source].text if case.source else "no source"
    verdict = [
        Statement("you said", OUTCOMES[decided]),
        Statement("the rules", OUTCOMES[case.outcome] + ("" if not right else ": the same")),
        Statement("why", case.why, f"{case.mark}; {source}"),
    ]
    if not right and list(Outcome).index(decided) > list(Outcome).index(case.outcome):
        then = "gone on unseen" if decided is Outcome.TREAT else "waited for what is more urgent"
        verdict.append(Statement("mind", f"What you said is the milder way: the person would have {then}."))
    missed = [step for step in case.needed if step not in asked]
    names = {step.id: step.asks for block in known.case_blocks for step in block.steps}
    asks = [Statement("asked", f"{len(asked)} of {many(len(names), 'thing')} to ask or test")]
    asks += [
        Statement("not asked" if n == 0 else "", f"{names[step]}: {known.finding(case, step)}")
        for n, step in enumerate(missed)
    ]
    asks += [] if missed else [Statement("", "all that it hangs on was asked")]
    if right and missed:
        asks.append(Statement("", "Right, but not by all that it hangs on."))
    return [
        Section("what it comes to", tuple(verdict)),
        Section("what was asked", tuple(asks)),
        Section("", (Statement("", OWN_SCHOOL),)),
    ]
