"""Until the re-test is in, no before value, gap or change of it shows anywhere; then everything does."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from store.care import measuring, visits
from store.care.as_data import episode_data
from store.care.caseload import widest_gap
from store.care.charted import charted
from store.care.origin import origin
from store.care.people import EpisodeForm, new_episode
from store.care.shown import episode_text
from store.care.standing import standing
from store.care.undoing import undo
from store.knowledge.words import Episode, Moment, Side
from tests.care.begun import Begun, begun

BEFORE = "lunge l 13.71 13.72 13.73 r 6.31 6.32 6.33"
AFTER = "lunge l 13.81 13.82 13.83 r 8.91 8.92 8.93"
SECRET = re.compile(r"13\.7|6\.3|7\.4|46 %|2\.6")  # values, gap, LSI, change


def everywhere(now: Begun, other: Episode | None = None) -> str:
    """All that any screen, page or verb could show of the ankle now, or of the other one of the same person."""
    care, episode = now.care, other or now.episode
    held = standing(care, episode.id)
    measure = care.knowledge.measures["lunge"]
    page = origin(care, episode.id, "lunge")
    said = [statement.says for section in page.of_person for statement in section.statements]
    chart = charted(care, held, measure)
    subject = measuring.subject_of(care, now.visit)
    preview = measuring.preview(care, subject, measuring.read_line(care, subject, "lunge l 1 r 1"))
    view = now.view
    return "\n".join(
        [
            *(shown.says for shown in view.lines),
            *(repr((pair.before, pair.change)) for pair in view.pairs if pair.measure.id == "lunge"),
            repr([(side, course) for side, course in held.of("lunge").courses.items()]),
            episode_text(held),
            json.dumps(episode_data(held)),
            repr((chart.left, chart.right)),
            *said,
            widest_gap(care, episode.id),
            preview.saves, *preview.says,
        ]
    )  # fmt: skip


def test_before_then_nothing_anywhere_then_after_then_everything(tmp_path: Path) -> None:
    now = begun(tmp_path)
    saved = now.line(BEFORE)
    assert saved.says == "saved lunge left and right, hidden until the re-test is in"
    assert SECRET.search(everywhere(now)) is None
    assert now.view.hidden == {"lunge"}
    assert [pair.hidden for pair in now.view.pairs] == [True, True]

    first = now.line("lunge l 13.81 13.82 13.83 after")
    assert first.says == "saved lunge left, hidden until the re-test is in"
    assert SECRET.search(everywhere(now)) is None

    last = now.line("lunge r 8.91 8.92 8.93 after")
    assert last.says == "saved lunge right 8.9 cm: right +2.6, clear gain"
    shown = everywhere(now)
    for secret in ("13.7", "6.3", "2.6"):
        assert secret in shown
    assert now.view.hidden == frozenset()
    assert all(one.blind for one in now.kept if one.moment is Moment.AFTER)
    assert not any(one.blind for one in now.kept if one.moment is Moment.BEFORE)


def test_the_page_of_the_other_injured_ankle_holds_them_back_too(tmp_path: Path) -> None:
    now = begun(tmp_path)
    other = new_episode(now.care, now.care.person(now.episode.person), EpisodeForm(Side.LEFT))
    now.line(BEFORE)
    assert SECRET.search(everywhere(now, other)) is None
    assert standing(now.care, other.id).of("lunge").hidden
    now.line(AFTER)
    assert "13.7" in everywhere(now, other)


def test_while_a_retest_is_planned_the_preview_of_the_before_values_compares_nothing(tmp_path: Path) -> None:
    now = begun(tmp_path)
    subject = measuring.subject_of(now.care, now.visit)
    shown = measuring.preview(now.care, subject, measuring.read_line(now.care, subject, BEFORE))
    assert shown.saves == "lunge: left 13.72 from 13.71 13.72 13.73, right 6.32 from 6.31 6.32 6.33 (before)"
    assert not any(word in " ".join(shown.says) for word in ("short", "LSI", "last time"))
    assert "nothing is compared until the re-test is in" in shown.says


def test_what_undo_says_holds_the_values_back(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line(BEFORE)
    assert undo(now.care, now.visit) == "took back lunge left and right"
    now.line(BEFORE)
    now.line(AFTER)
    assert undo(now.care, now.visit) == "took back lunge left and right"
    assert SECRET.search(everywhere(now)) is None


def test_what_was_taken_back_before_the_retest_is_not_told_on_the_page(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line(BEFORE)
    undo(now.care, now.visit)
    assert SECRET.search(everywhere(now)) is None
    visits.end_visit(now.care, now.visit)
    assert "taken back: it was 6.3" in everywhere(now)


def test_a_retest_after_the_values_were_in_sight_is_not_called_blind(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line(BEFORE)
    now.line(AFTER)
    undo(now.care, now.visit)
    now.line(AFTER)
    assert not any(one.blind for one in now.kept)


def test_leaving_the_retest_out_uncovers_and_taking_it_back_in_is_not_blind(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line(BEFORE)
    visits.drop_step(now.care, now.visit, "lunge_retest")
    assert "6.3" in everywhere(now)
    visits.drop_step(now.care, now.visit, "lunge_retest")
    assert SECRET.search(everywhere(now)) is None
    now.line(AFTER)
    assert not any(one.blind for one in now.kept)


def test_leaving_it_out_before_anything_was_measured_does_no_harm(tmp_path: Path) -> None:
    now = begun(tmp_path)
    visits.drop_step(now.care, now.visit, "lunge_retest")
    visits.drop_step(now.care, now.visit, "lunge_retest")
    now.line(BEFORE)
    now.line(AFTER)
    assert [one.blind for one in now.kept] == [False, False, True, True]


def test_ending_the_visit_shows_all(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.line(BEFORE)
    visits.end_visit(now.care, now.visit)
    assert "6.3" in episode_text(standing(now.care, now.episode.id))


def test_with_the_setting_off_nothing_is_hidden_and_nothing_is_called_blind(tmp_path: Path) -> None:
    now = begun(tmp_path)
    now.care.blind = False
    assert now.line(BEFORE).says == "saved lunge left 13.7, right 6.3 cm"
    assert "7.4 short" in everywhere(now)
    assert now.line_of("lunge")[0] == "left 13.7, right 6.3"
    now.line(AFTER)
    assert not any(one.blind for one in now.kept)


@pytest.mark.parametrize("side", Side)
def test_one_side_before_is_enough_to_hide(tmp_path: Path, side: Side) -> None:
    now = begun(tmp_path)
    now.line(f"lunge {side} 13.71")
    assert now.view.hidden == {"lunge"}
    assert SECRET.search(everywhere(now)) is None
