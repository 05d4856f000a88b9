"""The clot score in its two forms, with and without the judgement that another diagnosis is as likely.

What was not asked leaves the score between two figures. The judgement is the clinician's: nothing here answers it.
"""

from __future__ import annotations

from typing import NamedTuple

from store.knowledge.safety import AT_LEAST, ClotForm
from store.reckon.three import Answers, Tri, any_of, asked

OTHER = "clot_other"
OTHER_POINTS = -2
PLAIN = ("clot_cancer", "clot_plaster", "clot_tender", "clot_leg", "clot_pitting", "clot_veins")


class ClotScore(NamedTuple):
    """The score by one form. `low` to `high` is what it may be without the judgement on another diagnosis;
    `other` is that judgement, None while nobody has given it.
    """

    form: ClotForm
    low: int
    high: int
    other: Tri
    open: tuple[str, ...]

    def final(self) -> tuple[int, int]:
        """The least and the most that the whole score can be by what was answered."""
        least = self.low + (0 if self.other is False else OTHER_POINTS)
        most = self.high + (OTHER_POINTS if self.other is True else 0)
        return least, most

    @property
    def band(self) -> str | None:
        """The word of the form for the whole score; None while it can still be either."""
        words = {self.form.band(score) for score in self.final()}
        return words.pop() if len(words) == 1 else None

    @property
    def band_without(self) -> str | None:
        """The same without the judgement on another diagnosis."""
        words = {self.form.band(score) for score in (self.low, self.high)}
        return words.pop() if len(words) == 1 else None

    @property
    def likely(self) -> bool:
        """Whether the whole score is in the highest band, whatever is still open."""
        return self.band == self.form.bands[0][0]


def score(form: ClotForm, answers: Answers) -> ClotScore:
    """The score by a form."""
    items = items_of(form, answers)
    unknown = tuple(key for key, item in items.items() if item is None)
    low = sum(item is True for item in items.values())
    return ClotScore(form, low, low + len(unknown), asked(answers, OTHER), unknown)


def items_of(form: ClotForm, answers: Answers) -> dict[str, Tri]:
    """Each item that counts one, by the question that it hangs on."""
    still = any_of(
        (
            _past(answers, "bed_days", form.bed_days, form.bed),
            _within(answers, "surgery_weeks", form.surgery_weeks),
        )
    )
    items = {key: asked(answers, key) for key in PLAIN}
    items["bed_days"] = still
    items["calf_cm"] = _past(answers, "calf_cm", form.calf_cm, form.calf)
    if form.previous:
        items["clot_previous"] = asked(answers, "clot_previous")
    return items


def _past(answers: Answers, key: str, line: float, how: str) -> Tri:
    found = answers.get(key)
    if found is None or isinstance(found, bool):
        return None if found is None else False
    return found >= line if how == AT_LEAST else found > line


def _within(answers: Answers, key: str, line: float) -> Tri:
    found = answers.get(key)
    if found is None or isinstance(found, bool):
        return None if found is None else False
    return found <= line
