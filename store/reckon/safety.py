"""What the safety screen comes to: one finding a rule, by what was answered.

A rule that hangs on what was not asked is unknown, never negative.

Pure. It supports, and does not replace, licensed judgement and local protocol.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from typing import NamedTuple

from store.knowledge.safety import Question, Safety
from store.knowledge.words import Side
from store.reckon import clot, fracture
from store.reckon.three import Answers, all_of, any_of, asked, number


class Outcome(StrEnum):
    """What a rule, or the whole screen, comes to; the gravest first."""

    EMERGENCY = "emergency"
    TODAY = "refer today"
    REFER = "refer"
    UNKNOWN = "unknown"
    NONE = "no stop sign found"

    @property
    def stands(self) -> bool:
        """Whether it stays on the episode until it is settled."""
        return self in (Outcome.EMERGENCY, Outcome.TODAY, Outcome.REFER)


_GRAVEST = list(Outcome)


class Finding(NamedTuple):
    """What one rule comes to, why, and the answers that it still hangs on, by their names."""

    rule: str
    outcome: Outcome
    reasons: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def gravest(outcomes: Iterable[Outcome]) -> Outcome:
    """The gravest of several; unknown weighs more than nothing found."""
    return min(outcomes, key=_GRAVEST.index, default=Outcome.UNKNOWN)


def outcome_of(findings: Iterable[Finding]) -> Outcome:
    """What the whole screen comes to."""
    return gravest(finding.outcome for finding in findings)


def findings(screen: Safety, answers: Answers, side: Side) -> tuple[Finding, ...]:
    """One finding a rule, in the order of the rules; `side` is the injured one."""
    asks = {question.id: question for question in screen.questions}
    return (
        _plain("emergency", asks, answers, dict.fromkeys(_of(screen, "emergency"), Outcome.EMERGENCY)),
        _ankle(screen, asks, answers),
        _foot(screen, asks, answers),
        _beside(screen, asks, answers),
        _syndesmosis(screen, asks, answers),
        _tendon(asks, answers),
        _clot(screen, answers),
        _nerve(screen, asks, answers, side),
        _plain("behind", asks, answers, {key: _BEHIND.get(key, Outcome.REFER) for key in _of(screen, "behind")}),
        _plain("same_day", asks, answers, dict.fromkeys((*_of(screen, "same_day"), OUT), Outcome.TODAY)),
    )


OUT = "out_of_proportion"
_BEHIND = {"midfoot_sole": Outcome.TODAY}


def _of(screen: Safety, group: str) -> tuple[str, ...]:
    return tuple(question.id for each in screen.groups if each.id == group for question in each.questions)


def _plain(rule: str, asks: dict[str, Question], answers: Answers, wanted: dict[str, Outcome]) -> Finding:
    """A list any yes of which counts, each with what it comes to."""
    there = [key for key in wanted if asked(answers, key) is True]
    unasked = tuple(key for key in wanted if key not in answers)
    reasons = tuple(asks[key].asks for key in there)
    if there:
        return Finding(rule, gravest(wanted[key] for key in there), reasons, unasked)
    return Finding(rule, Outcome.UNKNOWN if unasked else Outcome.NONE, (), unasked)


# bones

FILMS = "films first: a positive rule is no break yet"
_ANKLE = ("fibula_edge", "fibula_tip", "tibia_edge", "tibia_tip")
_FOOT = ("fifth_base", "navicular")


def _ankle(screen: Safety, asks: dict[str, Question], answers: Answers) -> Finding:
    lines = screen.lines
    there = [key for key in ("fibula_tip", "tibia_tip") if asked(answers, key)]
    there += [f"{bone}_edge" for bone in ("fibula", "tibia") if fracture.edge(answers, bone, lines)]
    hangs = fracture.open_items(answers, "malleolar_pain", _ANKLE)
    found = _films("ankle", screen, asks, answers, fracture.ankle(answers, lines), there, hangs)
    outside = [bone for bone in ("fibula", "tibia") if fracture.above_zone(answers, bone, lines)]
    words = tuple(
        f"{bone} sore outside the rule's zone: examine the head of the fibula and the syndesmosis"
        for bone in outside
    )
    return Finding(found.rule, found.outcome, (*found.reasons, *words), found.open)


def _foot(screen: Safety, asks: dict[str, Question], answers: Answers) -> Finding:
    there = [key for key in _FOOT if asked(answers, key)]
    hangs = fracture.open_items(answers, "midfoot_pain", _FOOT)
    return _films("foot", screen, asks, answers, fracture.foot(answers), there, hangs)


def _films(
    rule: str,
    screen: Safety,
    asks: dict[str, Question],
    answers: Answers,
    positive: bool | None,
    there: Sequence[str],
    hangs: tuple[str, ...],
) -> Finding:
    """A fracture rule with its limits: what it was not made for leaves a no unknown, and never undoes a yes."""
    against = fracture.does_not_hold(answers, screen.lines)
    not_valid = (f"the rule does not hold here: {'; '.join(against)}",) if against else ()
    if positive is True:
        reasons = [asks[key].asks for key in there]
        reasons += ["no weight on the leg, then and now"] if fracture.no_weight(answers) else []
        return Finding(rule, Outcome.TODAY, (f"{rule} {FILMS}", *reasons, *not_valid))
    if positive is None:
        return Finding(rule, Outcome.UNKNOWN, not_valid, hangs)
    if against:
        return Finding(rule, Outcome.UNKNOWN, (*not_valid, "no item of it is there: judge by yourself"))
    still = fracture.hold_open(answers)
    if still:
        return Finding(rule, Outcome.UNKNOWN, ("no item is there, if the rule holds for this person",), still)
    return Finding(rule, Outcome.NONE, ("rule negative: the chance of a break is very low, and not nought",))


def _beside(screen: Safety, asks: dict[str, Question], answers: Answers) -> Finding:
    age = number(answers, "age")
    young = None if age is None else age < screen.lines["adult_years"].value
    physis = all_of((young, asked(answers, "physis")))
    head = asked(answers, "fibula_head")
    note = ("cuboid sore: it is not in the refined rule; image when in doubt",) if asked(answers, "cuboid") else ()
    there = [key for key, part in (("fibula_head", head), ("physis", physis)) if part is True]
    wanted = [key for key in ("fibula_head", "age", "physis") if key not in answers]
    if age is not None and not young:
        wanted = [key for key in wanted if key != "physis"]
    if there:
        reasons = tuple(asks[key].asks for key in there)
        return Finding("beside", Outcome.TODAY, (*reasons, *note), tuple(wanted))
    unknown = head is None or physis is None
    return Finding("beside", Outcome.UNKNOWN if unknown else Outcome.NONE, note, tuple(wanted))


# ligament and tendon


def _syndesmosis(screen: Safety, asks: dict[str, Question], answers: Answers) -> Finding:
    sensitive, specific = ("high_tender", "cannot_hop", "rotation"), ("squeeze", OUT)
    both = [any_of(asked(answers, key) for key in keys) for keys in (sensitive, specific)]
    there = tuple(asks[key].asks for key in (*sensitive, *specific) if asked(answers, key))
    unasked = tuple(key for key in (*sensitive, *specific) if key not in answers)
    suspect = all_of(both)
    if suspect:
        guide = _high_days(screen, number(answers, "high_cm"))
        return Finding("syndesmosis", Outcome.REFER, ("images under weight first", *there, *guide))
    if suspect is None:
        return Finding("syndesmosis", Outcome.UNKNOWN, there, unasked)
    alone = ("a sign of one kind alone: look again in a few days", *there) if there else ()
    return Finding("syndesmosis", Outcome.NONE, alone)


def high_days(screen: Safety, cm: float) -> float:
    """Days out of sport with a high sprain, by the length of tenderness (Nussbaum 2001, recalled): a guide."""
    return screen.lines["high_days"].value + screen.lines["high_days_per_cm"].value * cm


def _high_days(screen: Safety, cm: float | None) -> tuple[str, ...]:
    if cm is None:
        return ()
    within = screen.lines["high_days_within"].value
    days = high_days(screen, cm)
    return (f"sore {cm:g} cm up: a rough guide is {days:.1f} days out of sport, {within:g} either way, recalled",)


def _tendon(asks: dict[str, Question], answers: Answers) -> Finding:
    """The squeeze weighs most; of the other two one makes a referral, and both are as good as the squeeze."""
    squeeze, others = "calf_squeeze", ("rest_angle", "tendon_gap")
    there = [key for key in (squeeze, *others) if asked(answers, key)]
    unasked = tuple(key for key in (squeeze, *others) if key not in answers)
    reasons = tuple(asks[key].asks for key in there)
    if squeeze in there or len(there) == 2:
        return Finding("tendon", Outcome.TODAY, reasons, unasked)
    if there:
        return Finding("tendon", Outcome.REFER, reasons, unasked)
    return Finding("tendon", Outcome.UNKNOWN if unasked else Outcome.NONE, (), unasked)


# clot


def _clot(screen: Safety, answers: Answers) -> Finding:
    """Whoever is suspected is seen the same day, since an unlikely score still wants a blood test."""
    suspected = asked(answers, "clot_suspected")
    scored = clot.score(screen.form, answers)
    told = clot_words(scored)
    if scored.likely:
        return Finding("clot", Outcome.TODAY, ("clot likely", *told))
    if suspected:
        still = (*scored.open, *((clot.OTHER,) if scored.other is None else ()))
        return Finding("clot", Outcome.TODAY, ("clot suspected: talk to a doctor the same day", *told), still)
    if suspected is None:
        return Finding("clot", Outcome.UNKNOWN, (), ("clot_suspected",))
    return Finding("clot", Outcome.NONE, ("nothing makes one think of a clot",))


def clot_words(scored: clot.ClotScore) -> tuple[str, ...]:
    """The score with and without the judgement on another diagnosis, and by which form."""
    without = f"without another diagnosis {_span(scored.low, scored.high)}, {scored.band_without or 'open'}"
    if scored.other is None:
        judged = [scored.low + clot.OTHER_POINTS, scored.high + clot.OTHER_POINTS]
        words = {scored.form.band(score) for score in judged}
        with_it = f"with one at least as likely {_span(*judged)}, {words.pop() if len(words) == 1 else 'open'}"
        return scored.form.name, without, f"{with_it}: yours to judge"
    judged = list(scored.final())
    said = "another at least as likely" if scored.other else "no other as likely"
    return scored.form.name, without, f"by your judgement, {said}: {_span(*judged)}, {scored.band or 'open'}"


def _span(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"


# nerve and vessel

_GRAVE = ("no_pulse", "no_lift")


def _nerve(screen: Safety, asks: dict[str, Question], answers: Answers, side: Side) -> Finding:
    """Signs of the injured foot count by themselves; those of the other one alone are for a referral."""
    outcomes: list[Outcome] = []
    reasons: list[str] = []
    for question in (asks[key] for key in _of(screen, "nerve")):
        for key in question.keys:
            if not _sign(screen, question, key, answers):
                continue
            other = question.sided and not key.endswith(f".{side}")
            grave = question.id in (*_GRAVE, "new_drop")
            outcomes.append(Outcome.REFER if other else Outcome.EMERGENCY if grave else Outcome.TODAY)
            where = f", {key.partition('.')[2]}" if question.sided else ""
            reasons.append(f"{question.asks}{where}")
    unasked = tuple(
        key for name in _of(screen, "nerve") for key in asks[name].keys if key not in answers
    )  # both feet: a sign is told by the other one
    if outcomes:
        return Finding("nerve", gravest(outcomes), tuple(reasons), unasked)
    return Finding("nerve", Outcome.UNKNOWN if unasked else Outcome.NONE, (), unasked)


def _sign(screen: Safety, question: Question, key: str, answers: Answers) -> bool:
    if question.unit:
        seconds = number(answers, key)
        return seconds is not None and seconds > screen.lines["refill_s"].value
    return asked(answers, key) is True
