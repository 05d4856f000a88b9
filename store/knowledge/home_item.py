"""One thing of a home programme: an activity with its dose, its side, how often, and the words it was told in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from store.knowledge.home import HomeWords
from store.knowledge.kinds import Phase
from store.knowledge.words import BoutKind, Mark, Side


class HomeItem(NamedTuple):
    """What is kept of it is plain data, so that a sheet of long ago still says what it said then.

    `sides` are the legs it is done on, left first; none where it is done on both at once or lying. `ways` is how
    many directions a rep has (reaches). `loading`: does it load the ankle?
    """

    activity: str
    name: str
    kind: BoutKind
    sides: tuple[Side, ...]
    sets: int
    words: HomeWords
    reps: int = 0
    hold_s: float = 0.0
    rest_s: float = 0.0
    phases: tuple[Phase, ...] = ()
    ways: int = 1
    a_day: int = 1
    days_a_week: int = 7
    loading: bool = True


def as_data(item: HomeItem) -> dict[str, Any]:
    """The item as plain data."""
    words = item.words
    return {
        "activity": item.activity,
        "name": item.name,
        "kind": item.kind.value,
        "sides": [side.value for side in item.sides],
        "sets": item.sets,
        "reps": item.reps,
        "hold_s": item.hold_s,
        "rest_s": item.rest_s,
        "phases": [{"word": phase.word, "seconds": phase.seconds} for phase in item.phases],
        "ways": item.ways,
        "a_day": item.a_day,
        "days_a_week": item.days_a_week,
        "loading": item.loading,
        "words": {
            "name": words.name,
            "steps": list(words.steps),
            "pull": words.pull,
            "care": list(words.care),
            "picture": words.picture,
            "easier": words.easier,
            "harder": words.harder,
        },
    }


def of_data(data: Mapping[str, Any]) -> HomeItem:
    """The item of plain data. What is missing is as little as can be; what has another form raises ValueError."""
    try:
        activity = str(data["activity"])
        name = str(data.get("name", activity))
        return HomeItem(
            activity=activity,
            name=name,
            kind=BoutKind(data.get("kind", BoutKind.COUNTED)),
            sides=tuple(Side(side) for side in data.get("sides", ())),
            sets=int(data.get("sets", 1)),
            words=_words(activity, name, data.get("words", {})),
            reps=int(data.get("reps", 0)),
            hold_s=float(data.get("hold_s", 0)),
            rest_s=float(data.get("rest_s", 0)),
            phases=tuple(Phase(str(one["word"]), float(one["seconds"])) for one in data.get("phases", ())),
            ways=int(data.get("ways", 1)),
            a_day=int(data.get("a_day", 1)),
            days_a_week=int(data.get("days_a_week", 7)),
            loading=bool(data.get("loading", True)),
        )
    except (AttributeError, KeyError, TypeError, ValueError) as wrong:
        raise ValueError(f"an item of a home programme cannot be read ({wrong})") from wrong


def _words(activity: str, name: str, data: Mapping[str, Any]) -> HomeWords:
    return HomeWords(
        id=activity,
        name=str(data.get("name", name)),
        steps=tuple(map(str, data.get("steps", ()))),
        pull=str(data.get("pull", "")),
        care=tuple(map(str, data.get("care", ()))),
        picture=str(data.get("picture", "")),
        easier=str(data.get("easier", "")),
        harder=str(data.get("harder", "")),
        mark=Mark.COMMON,
    )
