"""What `show` tells of a home programme, of what follows a discharge, and of whom is to be seen again."""

from __future__ import annotations

from store.care.care import Care
from store.care.dates import day_text
from store.care.faults import CareFault
from store.care.home import home_standing, kept_to_words, programme_lines
from store.care.home_differs import disagreement
from store.care.in_words import visible
from store.care.recall import recall_words, recalls_due, tail_words
from store.record import visits


def home_lines(care: Care, episode_id: str) -> list[str]:
    """The programme in force with its items, how the last one was kept to, and the tail; none where there is none.

    One that cannot be read is told in its sentence.
    """
    try:
        held = home_standing(care, episode_id)
    except CareFault as fault:
        return [str(fault)]
    lines: list[str] = []
    now, told = held.in_force, held.told
    if now is not None:
        review = f"; review {day_text(now.programme.review_on)}" if now.programme.review_on else ""
        lines.append(f"home programme of {day_text(now.since)}, {visible(now.programme.words)}{review}")
        lines += [f"  {visible(line)}" for line in programme_lines(now)]
    lines += [f"at home {kept_to_words(told)}"] if told is not None and told.kept_to.days else []
    wrong = disagreement(held, visits.last_visit(care.record, episode_id))
    lines += [wrong] if wrong else []
    return lines + (list(tail_words(held.tail, held.on)) if held.tail is not None else [])


def recall_lines(care: Care) -> list[str]:
    """Everybody whose recall has come, a line each."""
    return [
        f"{visible(person.label)}, {episode.side} ankle: recall {recall_words(recall)}"
        for person, episode, recall in recalls_due(care)
    ]
