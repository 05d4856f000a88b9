"""Note and letter on paper: nothing is fetched, what was typed stays words, left stands left, files stay whole."""

from __future__ import annotations

import errno
import os
import re
import shutil
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from store.care import noting, stages
from store.care.care import open_care
from store.care.faults import CareFault
from store.care.finding import find_person, shown_episodes
from store.care.standing import standing
from store.care.visits import end_visit, start_visit
from store.knowledge.criteria import Stage
from store.knowledge.time import SetClock
from store.papers.formats import FORMATS, save_page
from store.papers.letter import letter_page
from store.papers.note import note_page
from store.papers.page import Block, Page, as_html, as_markdown, as_text
from store.record import people
from tests.care.begun import Begun, begun
from tests.papers.printed import CHROMIUM, NO_BROWSER, printed_pages

ROOT = Path(__file__).parents[2]
MONDAY = datetime(2026, 11, 23, 12, tzinfo=UTC)

NASTY = '=HYPERLINK("http://x") <script>alert(1)</script>\n"\'&'


def done(tmp_path: Path) -> Begun:
    hand = begun(tmp_path)
    hand.says("pain 2 worst 4 consent y")
    for line in ("lunge l 10.2 10.3 10.1 r 4.8 4.9 4.7", "lunge l 10.2 10.3 10.1 r 6.8 6.9 6.7 after"):
        hand.clock.move(120)
        hand.line(line)
    return hand


def note(hand: Begun) -> Page:
    return note_page(hand.care, noting.note_of(hand.care, hand.visit_id))


def test_the_note_says_that_it_is_a_draft_until_it_is_signed(tmp_path: Path) -> None:
    hand = done(tmp_path)
    assert "DRAFT, not signed" in as_text(note(hand))
    noting.sign(hand.care, hand.visit_id, student=True)
    noting.add(hand.care, hand.visit_id, "called back")
    told = as_text(note(hand))
    assert "DRAFT" not in told
    for words in ("by AB (student)", "waits for a countersign", "ADDITION OF", "called back", "rules "):
        assert words in told


def test_the_parts_stand_in_reading_order_and_left_before_right(tmp_path: Path) -> None:
    told = as_text(note(done(tmp_path)))
    at = [told.index(name) for name in ("SUBJECTIVE", "OBJECTIVE", "ASSESSMENT", "PLAN", "DRAFT")]
    assert at == sorted(at)
    assert told.index("left 10.2") < told.index("right 4.8")


def test_html_fetches_nothing_and_what_was_typed_stays_words(tmp_path: Path) -> None:
    hand = done(tmp_path)
    person = hand.care.person(hand.episode.person)
    people.revise_person(hand.care.record, person._replace(label=NASTY), by="AB", because="typed so")
    noting.edit(hand.care, hand.visit_id, "plan", NASTY + "x" * 9000)
    for page in (note(hand), letter_page(hand.care, hand.episode.id)):
        html = as_html(page)
        assert "<script" not in html
        assert "&lt;script&gt;" in html
        assert not re.search(r"(?:src|href)\s*=|url\(|@import", html.replace("&lt;", ""))
        assert "x" * 100 in html or page.title == "progress letter"


def test_markdown_takes_no_mark_from_what_was_typed() -> None:
    page = Page("note", ("# head",), (Block("plan", ("*stars* [link](x) <b> | `code`",)),), ())
    told = as_markdown(page)
    assert r"\*stars\* \[link\](x) \<b\> \| \`code\`" in told
    assert "\n\\# head" in told


def test_nothing_blind_leaves(tmp_path: Path) -> None:
    hand = begun(tmp_path)
    hand.line("lunge l 10.2 r 4.8")
    for page in (note(hand), letter_page(hand.care, hand.episode.id)):
        for told in (as_text(page), as_html(page), as_markdown(page)):
            assert not re.search(r"10\.2|4\.8|5\.4 ", told)


def test_the_letter_carries_its_chart_with_both_sides_named(tmp_path: Path) -> None:
    hand = done(tmp_path)
    html = as_html(letter_page(hand.care, hand.episode.id))
    assert html.count("<svg") == 1
    assert "right, injured" in html
    assert html.index(">left<") < html.index(">right, injured<")
    assert "jog 8" in html


def test_the_letter_says_to_whom_only_where_that_is_known(tmp_path: Path) -> None:
    hand = done(tmp_path)
    episode = hand.episode.id
    assert "To:" not in as_text(letter_page(hand.care, episode))
    hand.care.settings = hand.care.settings._replace(letter_to="Dr N. N.")
    assert "To: Dr N. N." in as_text(letter_page(hand.care, episode))
    assert "To: the coach" in as_text(letter_page(hand.care, episode, " the\ncoach "))
    assert "To:" not in as_text(letter_page(hand.care, episode, ""))
    with pytest.raises(CareFault, match="at most 120 characters"):
        letter_page(hand.care, episode, "x" * 121)


@pytest.mark.skipif(CHROMIUM is None, reason=NO_BROWSER)
def test_a_full_visit_prints_on_one_page_and_so_does_its_letter(tmp_path: Path) -> None:
    """Of the invented forest orienteer: five measures on both sides, four things timed, eight visits."""
    shutil.copy(ROOT / "demo.sqlite", tmp_path / "demo.sqlite")
    with closing(open_care(tmp_path / "demo.sqlite", SetClock(MONDAY), examiner="AB")) as care:
        episode = shown_episodes(care, find_person(care, "R.K."))[0].id
        visit = noting.visit_to_note(care, episode)
        assert visit is not None
        papers = note_page(care, noting.note_of(care, visit)), letter_page(care, episode, "Dr N. N.")
    assert [printed_pages(as_html(page), tmp_path) for page in papers] == [1, 1]


@pytest.mark.parametrize("ending", FORMATS)
def test_each_format_is_saved_for_its_owner_only(tmp_path: Path, ending: str) -> None:
    to = save_page(note(done(tmp_path)), tmp_path / f"note{ending}")
    assert to.stat().st_size > 500
    assert to.stat().st_mode & 0o077 == 0


def test_what_cannot_be_saved_says_so_and_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, old = note(done(tmp_path)), tmp_path / "note.md"
    old.write_text("old", "utf-8")
    for to in (tmp_path / "note.doc", tmp_path / "none" / "note.md"):
        with pytest.raises(CareFault, match=r"ends in|cannot be written"):
            save_page(page, to)

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CareFault, match="No space left"):
        save_page(page, old)
    assert old.read_text("utf-8") == "old"
    assert not list(tmp_path.glob(".bothfeet-*"))


def test_once_the_last_stage_is_decided_on_nothing_is_wanted_for_it(tmp_path: Path) -> None:
    hand = done(tmp_path)
    stages.decide(hand.care, standing(hand.care, hand.episode.id), list(Stage)[-1], "as good as before")
    told = as_text(letter_page(hand.care, hand.episode.id))
    assert "ready for sport, decided 25 Nov 2026 by AB: it is the last stage" in told
    assert "criteria of sport" in as_text(note(hand))  # of the visit in which it was decided: how they stood then
    for words in ("THE NEXT STAGE", "criteria", "met,"):
        assert words.casefold() not in told.casefold()
    end_visit(hand.care, hand.care.visit(hand.visit_id))
    hand.clock.move(3 * 86_400)
    hand.visit_id = start_visit(hand.care, hand.episode).id
    hand.says("pain 0 consent y")
    later = as_text(note(hand))
    for words in ("criteria of", "no decision on a stage", "before sport"):
        assert words not in later
