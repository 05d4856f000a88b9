"""Undo: a bout goes on as though the event undone, and what hung on it, had not been."""

from __future__ import annotations

from store.bout.events import PAUSING, Event, Kind

# A loss taken back at once lets the hold run on, since the person is still standing. Later they are not, and the
# time would be a false one: the trial is taken back whole, to be done again. The figure is ours (common practice).
STILL_STANDING_MS = 5000

_WORDS = {
    Kind.SET_STARTED: "start",
    Kind.PACED_REP: "rep",
    Kind.COUNTED_REP: "rep",
    Kind.FAULT: "fault",
    Kind.LOST_CONTROL: "lost control",
    Kind.LOST: "loss",
    Kind.SKIPPED: "skip",
    Kind.SET_ENDED: "end of set",
    Kind.PAIN: "pain",
    Kind.CONTROL: "control",
    Kind.TIMES: "change of times",
}


def last_undoable(kept: tuple[Event, ...]) -> Event | None:
    """The last event that can be undone: what a person did, or a rep that the clock counted."""
    return next((event for event in reversed(kept) if _undoable(event)), None)


def in_words(event: Event) -> str:
    """What is undone, in words: "rep", "pain 3"."""
    n = event.data.get("n") if event.kind in (Kind.PAIN, Kind.CONTROL) else None
    word = _WORDS[event.kind]
    return word if n is None else f"{word} {n}"


def without(kept: tuple[Event, ...], seq: int, at_ms: int) -> tuple[Event, ...]:
    """The events that count once the one numbered `seq` is undone at `at_ms`; all of them if it cannot be."""
    at = next((i for i, event in enumerate(kept) if event.seq == seq and _counts(event)), None)
    if at is None:
        return kept
    event, before, after = kept[at], kept[:at], kept[at + 1 :]
    if event.kind is Kind.PACED_REP or event.auto:
        return _voided(event, before, after)
    match event.kind:
        case Kind.LOST if not _still_standing(event, after, at_ms):
            return without(kept, _set_start(before), at_ms)
        case Kind.LOST | Kind.SET_STARTED:
            return before
        case Kind.SET_ENDED | Kind.END:
            return (*before, _paused_there(event))
        case Kind.COUNTED_REP:
            return before + _set_open(after)
        case Kind.SKIPPED:
            # The interval goes on, and what followed it falls due again, each at its own instant; the seconds too,
            # since one that stands would be later than an end of the interval that is still to come.
            again = (Kind.INTERVAL_DONE, Kind.SET_DONE, Kind.BEAT)
            return before + tuple(each for each in after if each.kind not in again)
    return before + after


def _counts(event: Event) -> bool:
    """Whether an undo may name it: the ending of a bout too, though no key within the bout undoes that."""
    return _undoable(event) or event.kind is Kind.END


def _undoable(event: Event) -> bool:
    return event.kind in _WORDS and not event.void


def _voided(event: Event, before: tuple[Event, ...], after: tuple[Event, ...]) -> tuple[Event, ...]:
    """The clock's own doing cannot be unmade, or it would fall due again at once: it stays, and does not count."""
    void = event._replace(data=event.data | {"void": True})
    return (*before, void) if event.kind is Kind.SET_STARTED else (*before, void, *after)


def _set_start(before: tuple[Event, ...]) -> int:
    return [event.seq for event in before if event.kind is Kind.SET_STARTED][-1]


def _still_standing(lost: Event, after: tuple[Event, ...], at_ms: int) -> bool:
    # A pause may have stopped the bout's clock for a night.
    return at_ms - lost.at_ms <= STILL_STANDING_MS and not any(event.kind in PAUSING for event in after)


def _set_open(after: tuple[Event, ...]) -> tuple[Event, ...]:
    """What followed a rep, with its set open again if that rep had ended it."""
    end = next((i for i, event in enumerate(after) if event.kind is Kind.SET_DONE), None)
    return after if end is None else (*after[:end], _paused_there(after[end]))


def _paused_there(end: Event) -> Event:
    """What is opened again stands paused where it ended: the time since must not count as work.

    A bout in which all was done has nothing to pause: there it changes nothing.
    """
    return end._replace(kind=Kind.PAUSE, data={})
