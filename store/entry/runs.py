"""Running in one line: how a session went, how the morning after was, and how a plan is to run.

A session: 3:2x5 pain 1 swelling no; mon continuous 32 min 5.1 km pain 0. The morning after it: morning 0. A plan:
mon wed fri from 9 dec; rung 3 alternate.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date

from store.entry.errors import EntryError
from store.entry.past import Rest, bare, checked, number_of, past_day
from store.entry.when import coming_days
from store.entry.words import Word, words_of
from store.knowledge.running import MOST_KM, MOST_MIN, Ladder, Rung
from store.knowledge.time import MONTHS, WEEKDAYS

RAN_AS = "3:2x5 pain 1 swelling no"
"""How a session is typed; the morning after it is `morning 0`."""
PLAN_AS = "mon wed fri from 9 dec"
"""How a plan is typed."""

NOTE_MOST = 200
"""Characters of a note."""

_PAIN_MOST = 10
_PAINS = {"pain": "pain_during", "morning": "pain_morning", "usual": "pain_usual"}
_YES_NO = {"yes": True, "y": True, "no": False, "n": False}
_UNITS = {"min": ("minutes", MOST_MIN), "km": ("km", MOST_KM)}
_NUMBER = re.compile(r"([0-9]{1,4}(?:[.,][0-9]{1,2})?)(min|km)?")
_TURN = re.compile(r"([0-9]{1,3}):([0-9]{1,3})(?:x([0-9]{1,2}))?")
_ISO = re.compile(r"[0-9]{4}_[0-9]{1,2}_[0-9]{1,2}")  # a hyphen is an underscore in the key of a word
_WHOLE = re.compile(r"[0-9]{1,2}")
_IN_ONE = "continuous"


@dataclass(frozen=True, slots=True)
class SaidRun:
    """What a line says of a session; None is not said. Pains 0 to 10, minutes run."""

    day: date | None = None
    rung: Rung | None = None
    minutes: float | None = None
    km: float | None = None
    pain_during: int | None = None
    pain_morning: int | None = None
    pain_usual: int | None = None
    swelling: bool | None = None
    note: str = ""

    @property
    def of_the_morning(self) -> bool:
        """Whether it only adds the morning after to a session that was told before."""
        ran = (self.rung, self.minutes, self.km, self.pain_during)
        return self.pain_morning is not None and all(one is None for one in ran)


@dataclass(frozen=True, slots=True)
class SaidPlan:
    """What a line says of a plan; None is not said. `weekdays` are 0 for Monday to 6, empty for alternate days."""

    weekdays: tuple[int, ...] | None = None
    rung: int | None = None
    ladder: str | None = None
    begins_on: date | None = None


# a session


def parse_run(line: str, ladder: Ladder, today: date) -> SaidRun:
    """What a line says of a session. Raises EntryError, and nothing else, on a line that cannot be read."""
    words = [bare(word) for word in words_of(line, such_as=RAN_AS) if word.text.strip(",;")]
    if not words:
        raise EntryError("", f"nothing to read: type a line such as {RAN_AS}", 0, len(line))
    first, rest, said = words[0], Rest(words), _Draft(ladder)
    if _is_day(rest):
        word = rest.take()
        said.put(word, day=checked(past_day(word, rest, today, RAN_AS), today, word))
    while rest.left:
        _read(rest, said)
    found = said.whole()
    if found.pain_morning is not None and not found.of_the_morning and found.day in (None, today):
        raise first.error("tomorrow's morning is not known yet: leave it out, and type it tomorrow: morning 0")
    return found


@dataclass(slots=True)
class _Draft:
    """What was read so far, and the words of the rung, which may hang on the distance."""

    ladder: Ladder
    said: SaidRun = field(default_factory=SaidRun)
    turn: Word | None = None
    in_one: Word | None = None

    def put(self, word: Word, **what: object) -> None:
        """Take in one thing. Raises EntryError where it was said before."""
        (name,) = what
        if getattr(self.said, name) not in (None, ""):
            raise word.error("this is said twice: leave one of the two")
        self.said = replace(self.said, **what)  # type: ignore[arg-type]  # by the names of its fields

    def whole(self) -> SaidRun:
        """All of it, with the rung that the words name."""
        if self.turn is not None:
            self.put(self.turn, rung=_of_turn(self.ladder, self.turn, self.said.km))
        if self.in_one is not None:
            self.put(self.in_one, rung=_in_one(self.ladder, self.said.minutes))
        return self.said


def _is_day(rest: Rest) -> bool:
    key = rest.key
    named = key in ("today", "yesterday") or bool(_ISO.fullmatch(key)) or number_of(key, WEEKDAYS) is not None
    behind = rest.left[1].key if len(rest.left) > 1 else ""
    return named or (bool(_WHOLE.fullmatch(key.removesuffix("."))) and number_of(behind, MONTHS) is not None)


def _read(rest: Rest, said: _Draft) -> None:
    """The next word with those that belong to it."""
    word = rest.take()
    number = _NUMBER.fullmatch(word.key) if not word.quoted else None
    if word.key in _PAINS:
        said.put(word, **{_PAINS[word.key]: _pain(word, rest)})
    elif word.key == "swelling":
        if rest.key not in _YES_NO:
            raise word.error("type yes or no behind swelling")
        said.put(word, swelling=_YES_NO[rest.take().key])
    elif word.key == "note":
        said.put(word, note=_note(word, rest))
    elif word.key == "rung":
        said.put(word, rung=said.ladder.rungs[_rung_number(word, rest, len(said.ladder.rungs)) - 1])
    elif _TURN.fullmatch(word.key):
        said.turn = _once(said.turn, word)
    elif word.key == _IN_ONE:
        said.in_one = _once(said.in_one, word)
    elif number is not None:
        _measured(word, number, rest, said)
    else:
        raise word.error(f"not understood: type a line such as {RAN_AS}, or morning 0")


def _once(before: Word | None, word: Word) -> Word:
    if before is not None:
        raise word.error("this is said twice: leave one of the two")
    return word


def _pain(word: Word, rest: Rest) -> int:
    if not rest.left:
        raise word.error("no figure behind it: type 0 to 10")
    figure = rest.take()
    if figure.quoted or not _WHOLE.fullmatch(figure.key) or int(figure.key) > _PAIN_MOST:
        raise figure.error("pain is a whole number from 0 to 10")
    return int(figure.key)


def _note(word: Word, rest: Rest) -> str:
    if not rest.left or not rest.left[0].quoted:
        raise word.error('a note stands in quotes: note "new shoes"')
    found = rest.take()
    text = " ".join(found.text.split())
    if not text or len(text) > NOTE_MOST:
        raise found.error(f"a note has 1 to {NOTE_MOST} characters")
    return text


def _measured(word: Word, number: re.Match[str], rest: Rest, said: _Draft) -> None:
    """A number of minutes or km; before `continuous` it is minutes."""
    unit = number[2] or (rest.key if rest.key in _UNITS else "min" if rest.key == _IN_ONE else "")
    if unit not in _UNITS:
        raise word.error("minutes or kilometres? Type min or km behind it")
    if not number[2] and rest.key in _UNITS:
        rest.take()
    name, most = _UNITS[unit]
    value = float(number[1].replace(",", "."))
    if not 0 < value <= most:
        raise word.error(f"more than 0 and at most {most} {unit}")
    said.put(word, **{name: value})


def _rung_number(word: Word, rest: Rest, most: int) -> int:
    if not rest.left:
        raise word.error(f"which one? Type rung and 1 to {most}")
    figure = rest.take()
    if figure.quoted or not _WHOLE.fullmatch(figure.key) or not 1 <= int(figure.key) <= most:
        raise figure.error(f"the rungs of this ladder are 1 to {most}")
    return int(figure.key)


def _of_turn(ladder: Ladder, word: Word, km: float | None) -> Rung:
    """The rung of `3:2x5`, or `3:2` where the distance or the ladder leaves one only."""
    match = _TURN.fullmatch(word.key)
    assert match is not None
    run, walk, rounds = int(match[1]), int(match[2]), match[3]
    found = [one for one in ladder.rungs if (one.run_min, one.walk_min) == (run, walk)]
    found = [one for one in found if rounds is None or one.rounds == int(rounds)]
    if len(found) > 1 and km is not None:
        found = [one for one in found if one.km == km] or found
    if not found:
        raise word.error(f"no rung of this ladder; they are {', '.join(one.words for one in ladder.rungs)}")
    if len(found) > 1:
        raise word.error(f"two rungs are so: type rung {' or rung '.join(str(one.number) for one in found)}")
    return found[0]


def _in_one(ladder: Ladder, minutes: float | None) -> Rung:
    """The highest rung without a walk that so many minutes reach; without minutes the last rung."""
    whole = [one for one in ladder.rungs if one.continuous]
    reached = [one for one in whole if minutes is None or (one.minutes or 0) <= minutes]
    return reached[-1] if reached else whole[0]


# a plan


def parse_plan(line: str, ladders: dict[str, int], today: date) -> SaidPlan:
    """What a line says of a plan; `ladders` are how many rungs each has, by id, the one in force first.

    Raises EntryError, and nothing else, on a line that cannot be read.
    """
    words = [bare(word) for word in words_of(line, such_as=PLAN_AS) if word.text.strip(",;")]
    if not words:
        raise EntryError("", f"nothing to read: type a line such as {PLAN_AS}", 0, len(line))
    first, rest, said = words[0], Rest(words), SaidPlan()
    days: list[int] = []
    rung: Word | None = None
    while rest.left:
        word = rest.take()
        weekday = number_of(word.key, WEEKDAYS) if not word.quoted else None
        if weekday is not None:
            days.append(weekday)
        elif word.key in ("alternate", "alternating"):
            said = replace(said, weekdays=())
        elif word.key == "rung":
            rung = word
            said = replace(said, rung=_rung_number(word, rest, max(ladders.values())))
        elif word.key in ladders:
            said = replace(said, ladder=word.key)
        elif word.key == "from":
            said = replace(said, begins_on=_begins(word, rest, today))
        elif word.key not in ("days", "day", "ladder"):
            names = ", ".join(ladders)
            raise word.error(f"not understood: type {PLAN_AS}, alternate, rung 3, or a ladder ({names})")
    if days and said.weekdays is not None:
        raise first.error("days of the week or alternate: leave one of the two")
    most = ladders[said.ladder or next(iter(ladders))]
    if rung is not None and said.rung is not None and said.rung > most:
        raise rung.error(f"the rungs of this ladder are 1 to {most}")
    return replace(said, weekdays=tuple(sorted(set(days)))) if days else said


def _begins(word: Word, rest: Rest, today: date) -> date:
    """The day behind `from`: it takes as many words as make a day."""
    if not rest.left:
        raise word.error(f"from which day? Type a line such as {PLAN_AS}")
    taken = [rest.take()]
    if _WHOLE.fullmatch(taken[0].key.removesuffix(".")) and number_of(rest.key, MONTHS) is not None:
        taken.append(rest.take())
        if re.fullmatch(r"[0-9]{4}", rest.key):
            taken.append(rest.take())
    (day, *_) = coming_days(taken, today)
    if day < today:
        raise taken[0].error("this day is past: a plan begins today or later")
    return day
