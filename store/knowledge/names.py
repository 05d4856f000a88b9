"""What a measure is called besides its id and short forms: its names in full, and what they begin with."""

from __future__ import annotations

import re
from collections.abc import Iterable

from store.knowledge.kinds import Measure


def by_name(measures: Iterable[Measure]) -> dict[str, Measure]:
    """Measures by their names with underscores, and by two or more words that only one measure's names begin with.

    A name that holds a figure is left out: behind the name of a measure a figure is its value.
    """
    found: dict[str, list[Measure]] = {}
    whole: dict[str, Measure] = {}
    for measure in measures:
        for name in (measure.name, measure.long_name):
            words = re.findall(r"[^\W_]+", name.casefold())
            whole.setdefault("_".join(words), measure)
            for many in range(2, len(words) + 1):
                own = found.setdefault("_".join(words[:many]), [])
                own += [] if measure in own else [measure]
    only = {key: own[0] for key, own in found.items() if len(own) == 1}
    return {key: measure for key, measure in {**only, **whole}.items() if not any(map(str.isdigit, key))}
