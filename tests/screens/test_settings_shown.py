"""A clinic's settings on the screens: what is wrong in them, their theme, pedal, dose, and a re-test not blind."""

from __future__ import annotations

from pathlib import Path
from string import ascii_lowercase

import pytest
from textual.binding import Binding

from store.care.care import Care, open_care
from store.care.own_settings import own_settings
from store.care.timing import Mode
from store.knowledge.load import load
from store.knowledge.settings import Settings
from store.knowledge.settings_read import read_settings
from store.knowledge.time import SetClock
from tests.care.bouts import Ward, ward
from tests.helpers.fit import misfits, text_of
from tests.screens.made import NOW
from tui.app import BothFeetApp
from tui.screens.bout import BoutScreen
from tui.screens.visit import VisitScreen
from tui.widgets import commands
from tui.widgets.message_line import Kind, MessageLine


def settings(text: str, *, faults: int = 0) -> Settings:
    found = read_settings(text, load())
    assert len(found.faults) == faults
    return found


def care_under(tmp_path: Path, found: Settings) -> Care:
    return open_care(tmp_path / "ward.sqlite", SetClock(NOW), examiner="AB", create=True, settings=found)


def app_under(tmp_path: Path, text: str, *, faults: int = 0) -> BothFeetApp:
    found = settings(text, faults=faults)
    care = care_under(tmp_path, found)
    return BothFeetApp(care, care.clock, log_folder=tmp_path, settings=found)


# the caseload


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)], ids=str)
async def test_a_typo_is_told_on_the_caseload_until_the_next_key(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_under(tmp_path, 'clinic = "Room 2"\ntheme = "drak"\n', faults=1)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        said = app.screen.query_one(MessageLine).said
        assert said.kind is Kind.WRONG
        assert said.text.startswith("settings: line 2: theme: not one of the themes; did you mean dark?")
        assert "line 2: theme" in text_of(app)
        assert not misfits(app)
        await pilot.press("r")
        assert app.screen.query_one(MessageLine).said.text == ""


async def test_the_clinic_stands_in_the_head(tmp_path: Path) -> None:
    app = app_under(tmp_path, 'clinic = "Room 2"\n')
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert text_of(app).splitlines()[0].split()[:3] == ["bothfeet", "Room", "2"]
        assert app.screen.query_one(MessageLine).said.text == ""


# the theme


@pytest.mark.parametrize(
    ("theme", "ground", "wanted"),
    [
        ("light", "15;0", "light"),
        ("dark", "0;15", "dark"),
        ("auto", "0;15", "light"),
        ("auto", "15;0", "dark"),
        ("auto", "12;default;7", "light"),
        ("auto", "", "dark"),
    ],
)
async def test_the_ground_is_as_set_else_as_the_terminals(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, theme: str, ground: str, wanted: str
) -> None:
    monkeypatch.setenv("COLORFGBG", ground)
    monkeypatch.delenv("NO_COLOR", raising=False)
    app = app_under(tmp_path, f'theme = "{theme}"\n')
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.theme.removeprefix("sixteen-") == wanted


async def test_what_is_changed_in_the_program_is_not_written_to_the_file(tmp_path: Path) -> None:
    file = tmp_path / "settings.toml"
    file.write_text('theme = "light"\n', encoding="utf-8")
    care = care_under(tmp_path, own_settings(file))
    app = BothFeetApp(care, care.clock, log_folder=tmp_path, settings=care.settings)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        app.do_theme()
        assert app.theme.endswith("dark")
    assert file.read_text(encoding="utf-8") == 'theme = "light"\n'


# the timer


async def started_by(tmp_path: Path, text: str, key: str) -> Mode:
    """The mode of a timer after one key, under these settings."""
    at = under(tmp_path, text)
    app = BothFeetApp(at.care, at.clock, log_folder=tmp_path, settings=at.care.settings)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open(commands.BOUT, visit=at.visit.id, activity="hold_firm")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, BoutScreen)
        await screen.settled()
        at.clock.move(1)
        await pilot.press(key)
        await pilot.pause()
        await screen.settled()
        await pilot.pause()
        return screen.view.mode if screen.view is not None else Mode.READY


def under(tmp_path: Path, text: str) -> Ward:
    """R.K. in a visit, under these settings."""
    found, at = settings(text), ward(tmp_path)
    at.care.settings = found
    at.care.knowledge = load(settings=found)
    at.care.blind = found.blind_retest
    return at


@pytest.mark.parametrize("key", ["pagedown", "f13", "tab", "k"])
async def test_the_pedal_does_what_space_does(tmp_path: Path, key: str) -> None:
    assert await started_by(tmp_path, f'pedal_key = "{key}"\n', key) is Mode.COUNTDOWN


async def test_space_goes_on_doing_it_too(tmp_path: Path) -> None:
    assert await started_by(tmp_path, 'pedal_key = "pagedown"\n', "space") is Mode.COUNTDOWN


async def test_without_the_setting_the_key_does_nothing(tmp_path: Path) -> None:
    assert await started_by(tmp_path, "", "k") is Mode.READY


def test_no_key_of_the_timer_is_taken_for_a_pedal() -> None:
    paging = {"pageup", "pagedown"}  # reading on before the start gives way to a pedal that sends it
    taken = {key for command in commands.on(commands.BOUT) for key in command.keys}
    taken |= {one.key for one in BoutScreen.BINDINGS if isinstance(one, Binding)}
    for key in taken - {"space"} - paging:
        assert read_settings(f'pedal_key = "{key}"\n', load()).faults, key
    free = [key for key in ascii_lowercase if key not in taken]
    assert len(free) > 10
    for key in free:
        settings(f'pedal_key = "{key}"\n')


async def test_a_timer_shows_the_dose_of_the_clinic_as_theirs(tmp_path: Path) -> None:
    at = under(tmp_path, "[doses.hold_firm]\nsets = 4\nhold_s = 20\n")
    app = BothFeetApp(at.care, at.clock, log_folder=tmp_path, settings=at.care.settings)
    async with app.run_test(size=(120, 40)) as pilot:
        app.open(commands.BOUT, visit=at.visit.id, activity="hold_firm")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, BoutScreen)
        await screen.settled()
        await pilot.pause()
        shown = " ".join(text_of(app).split())
        assert "4 sets" in shown
        assert "hold 20 s" in shown
        assert "set by this clinic" in shown


# blind off


async def test_with_the_blind_re_test_off_the_visit_shows_the_before_values(tmp_path: Path) -> None:
    for blind in ("true", "false"):
        folder = tmp_path / blind
        folder.mkdir()
        at = under(folder, f"blind_retest = {blind}\n")
        app = BothFeetApp(at.care, at.clock, log_folder=folder, settings=at.care.settings)
        async with app.run_test(size=(120, 40)) as pilot:
            app.open(commands.VISIT, visit=at.visit.id)
            await pilot.pause()
            app.open(commands.LINE, visit=at.visit.id)
            await pilot.pause()
            await pilot.press(*"lunge", "space", *"13.7", "space", *"6.3", "enter")
            await pilot.pause()
            while not isinstance(app.screen, VisitScreen):
                await pilot.press("escape")
                await pilot.pause()
            await pilot.pause()
            assert ("6.3" in text_of(app)) is (blind == "false")


@pytest.mark.parametrize(
    "text", ['blnd = 1\ntheme = "drak"\n', "blnd = 1\n", "a = [\n", "[measures.x]\nname = 1\n"]
)
async def test_whatever_is_wrong_is_told_whole_on_the_narrowest_screen(tmp_path: Path, text: str) -> None:
    found = read_settings(text, load())
    care = care_under(tmp_path, found)
    app = BothFeetApp(care, care.clock, log_folder=tmp_path, settings=found)
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        shown = " ".join(text_of(app).split())
        assert " ".join(app.screen.query_one(MessageLine).said.text.split()) in shown
        assert not misfits(app)
