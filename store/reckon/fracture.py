"""The fracture rule: are films of the ankle, of the foot wanted first? And when the rule itself does not hold.

Stiell and others 1992 and, as refined, 1993. It is built to rule out, and says nothing about a break when it is
positive but that films come first.
"""

from __future__ import annotations

from collections.abc import Mapping

from store.knowledge.kinds import Figure
from store.reckon.three import Answers, Tri, all_of, any_of, asked, number

Lines = Mapping[str, Figure]

LIMITS = ("seen_before", "pregnant", "not_alert", "no_feeling", "too_swollen")
"""Questions a yes to which takes the rule's ground away."""


def no_weight(answers: Answers) -> Tri:
    """Positive only when the leg took no weight at both times: right after the injury, and now."""
    return all_of((asked(answers, "no_weight_at_once"), asked(answers, "no_weight_now")))


def edge(answers: Answers, bone: str, lines: Lines) -> Tri:
    """Whether the back edge of a bone ("fibula", "tibia") is sore within the zone above the tip."""
    cm = number(answers, f"{bone}_cm")
    within = None if cm is None else cm <= lines["zone_cm"].value
    return all_of((asked(answers, f"{bone}_edge"), within))


def above_zone(answers: Answers, bone: str, lines: Lines) -> bool:
    """Whether the edge is sore above the zone only: the rule does not count it, and it wants a look anyway."""
    return asked(answers, f"{bone}_edge") is True and edge(answers, bone, lines) is False


def ankle(answers: Answers, lines: Lines) -> Tri:
    """Whether films of the ankle are wanted; None where what was asked does not tell."""
    parts = [edge(answers, bone, lines) for bone in ("fibula", "tibia")]
    parts += [asked(answers, "fibula_tip"), asked(answers, "tibia_tip"), no_weight(answers)]
    return all_of((asked(answers, "malleolar_pain"), any_of(parts)))


def foot(answers: Answers) -> Tri:
    """Whether films of the foot are wanted. The cuboid is not in the refined rule."""
    parts = (asked(answers, "fifth_base"), asked(answers, "navicular"), no_weight(answers))
    return all_of((asked(answers, "midfoot_pain"), any_of(parts)))


def open_items(answers: Answers, zone: str, items: tuple[str, ...]) -> tuple[str, ...]:
    """The questions that an unknown rule still hangs on, in order."""
    if zone not in answers:
        return (zone,)
    wanted = [*items, "no_weight_at_once", "no_weight_now"]
    for bone in ("fibula", "tibia"):
        if f"{bone}_edge" in items and asked(answers, f"{bone}_edge") is True:
            wanted.insert(wanted.index(f"{bone}_edge") + 1, f"{bone}_cm")
    return tuple(key for key in wanted if key not in answers)


def does_not_hold(answers: Answers, lines: Lines) -> tuple[str, ...]:
    """Why the rule was not made for this person, in words; empty where nothing is known against it."""
    age, days = number(answers, "age"), number(answers, "days")
    found = []
    if age is not None and age < lines["child_years"].value:
        found.append(f"under {lines['child_years'].value:g} years: do not apply it")
    elif age is not None and age < lines["adult_years"].value:
        found.append("the adult rule is not validated at this age: with care, image or refer when in doubt")
    if days is not None and days > lines["valid_days"].value:
        found.append(f"more than {lines['valid_days'].value:g} days since the injury")
    return (*found, *(_LIMIT_WORDS[key] for key in LIMITS if asked(answers, key) is True))


def hold_open(answers: Answers) -> tuple[str, ...]:
    """What was not asked of whether the rule holds: age first."""
    return tuple(key for key in ("age", "days", *LIMITS) if key not in answers)


_LIMIT_WORDS = {
    "seen_before": "seen or imaged for this injury before",
    "pregnant": "pregnant",
    "not_alert": "not alert, or another injury hurts more",
    "no_feeling": "feeling in the leg is lowered",
    "too_swollen": "too swollen to feel the bones",
}


def chance_after(before: float, ratio: float) -> float:
    """The chance of a break after a negative rule: by the chance before it and the negative likelihood ratio."""
    odds = before / (1 - before) * ratio
    return odds / (1 + odds)
