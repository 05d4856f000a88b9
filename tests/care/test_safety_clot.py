"""The clot score: which form is kept, and that another diagnosis is judged by the clinician alone."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from store.care import safety, visits
from store.care.care import Care, open_care
from store.care.safety import Word
from store.care.safety_words import source_page
from store.knowledge.papers import SafetyScreen
from store.knowledge.settings import CLOT_FORMS, NOTHING_SET
from store.record import notes
from tests.care.begun import Begun, begun

ITEMS: dict[str, Word] = {
    **dict.fromkeys(("clot_cancer", "clot_leg", "clot_tender", "clot_veins", "clot_previous"), "no"),
    "clot_suspected": "yes", "clot_plaster": "yes", "clot_pitting": "yes", "calf_cm": 3.0, "bed_days": "none",
    "surgery_weeks": "none",
}  # fmt: skip
"""A plaster, pitting, and a calf exactly 3 cm larger: 3 by the form of 2003, and 2 by that of 1997."""


def with_form(tmp_path: Path, form: str) -> Begun:
    """A visit in a clinic that chose this form."""
    now = begun(tmp_path)
    path = now.care.record.path
    now.care.close()
    now.care = open_care(path, now.clock, examiner="AB", settings=NOTHING_SET._replace(clot_form=form))
    return now


def kept(care: Care, episode: str, **more: Word) -> SafetyScreen:
    draft = safety.begin(care, episode)
    for key, word in (ITEMS | more).items():
        draft = safety.answer(draft, key, word)
    return safety.keep(care, draft)


def score(one: SafetyScreen) -> dict[str, Any]:
    found: dict[str, Any] = next(finding for finding in one.findings if finding["rule"] == "clot")["score"]
    return found


@pytest.mark.parametrize(("form", "points", "band"), zip(CLOT_FORMS, (3, 2), ("likely", "moderate"), strict=True))
def test_the_form_that_the_clinic_chose_is_used_and_kept(
    tmp_path: Path, form: str, points: int, band: str
) -> None:
    now = with_form(tmp_path, form)
    with closing(now.care):
        one = kept(now.care, now.episode.id)
        found = score(one)
        assert (found["form"], found["without_other"], found["band_without_other"]) == (form, [points] * 2, band)
        assert found["with_judgement"] == [points - 2, points]
        assert found["other_at_least_as_likely"] is None
        rules = notes.rules(now.care.record, str(one.rules))
        assert rules is not None
        assert rules["safety"]["clot_form"] == form
        told = [each for section in source_page(now.care, "clot") for each in section.statements]
        used = "used here" if form == CLOT_FORMS[0] else "used here, set by this clinic"
        assert [each.about for each in told if each.about in (used, "not used")].count(used) == 1


def test_a_screen_of_before_keeps_its_form_when_the_clinic_chooses_another(tmp_path: Path) -> None:
    now = begun(tmp_path)
    first = kept(now.care, now.episode.id)
    path = now.care.record.path
    now.care.close()
    with closing(open_care(path, now.clock, settings=NOTHING_SET._replace(clot_form=CLOT_FORMS[1]))) as care:
        assert score(safety.screens(care, now.episode.id)[0])["form"] == CLOT_FORMS[0]
        again = kept(care, now.episode.id, cold_foot="no")
        assert (again.id, score(again)["form"]) == (first.id, CLOT_FORMS[1])


def test_that_another_diagnosis_is_as_likely_is_never_answered_by_the_program(tmp_path: Path) -> None:
    """Not from the sprain that is known, not from the day before, not by asking as a group."""
    now = begun(tmp_path)
    assert "clot_other" not in safety.begin(now.care, now.episode.id).answers
    one = kept(now.care, now.episode.id)
    assert "clot_other" not in one.answers
    assert "clot_other" in next(finding for finding in one.findings if finding["rule"] == "clot")["open"]
    judged = kept(now.care, now.episode.id, clot_other="yes")
    assert score(judged)["with_judgement"] == [1, 1]
    assert score(judged)["without_other"] == [3, 3]
    visits.end_visit(now.care, now.visit)
    now.clock.move(24 * 3600)
    visit = visits.start_visit(now.care, now.episode)
    assert "clot_other" not in safety.begin(now.care, now.episode.id).answers
    group = safety.reask(now.care, visit)
    assert group.answers == {}
    assert "clot_other" not in group.shown
    unjudged = kept(now.care, now.episode.id)
    assert score(unjudged)["other_at_least_as_likely"] is None
    assert unjudged.outcome == "refer today"
