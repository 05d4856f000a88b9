"""The order of direction shifts: no direction more often than another, none foreseen, none twice running."""

from __future__ import annotations

from random import Random


def balanced(directions: tuple[str, ...], count: int, seed: int) -> tuple[str, ...]:
    """`count` directions in an order fixed by `seed`, each as often as any other to within one.

    Made of shuffled rounds that each hold every direction once. Of two or more none comes twice running.
    """
    chance = Random(seed)
    order: list[str] = []
    while len(order) < count:
        one_round = list(directions)
        chance.shuffle(one_round)
        if order and one_round[0] == order[-1]:
            one_round.append(one_round.pop(0))
        order += one_round
    return tuple(order[:count])
