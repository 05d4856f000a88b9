"""The clinic's settings file: where it is, what it says, and that in plain words. The program never writes it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from store.knowledge.load import load
from store.knowledge.settings import NOTHING_SET, SettingFault, Settings

NAME = "settings.toml"
LINE_MOST = 110
"""Characters that two rows of 60 columns hold."""

NO_TEXT = "it cannot be read as text: save it as UTF-8"


def settings_path(named: Path | None = None) -> Path:
    """The file that is named, else the usual one in the platform's folder for the user's configuration."""
    if named is not None:
        return named
    import platformdirs  # the screens' library has it loaded; a verb pays for it only here

    return platformdirs.user_config_path("bothfeet", appauthor=False) / NAME


def own_settings(named: Path | None = None) -> Settings:
    """The settings of the clinic. Never raises: what is wrong is in `faults`, and the defaults hold for it.

    Only a file that was named has to be there.
    """
    path = settings_path(named)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        if named is None:
            return NOTHING_SET
        return _unread(f"there is no file {path}, which BOTHFEET_SETTINGS names")
    except OSError as error:
        return _unread(f"{path} cannot be read: {(error.strerror or str(error)).lower()}")
    except UnicodeDecodeError:
        return _unread(f"{path}: {NO_TEXT}")
    if not text.strip():
        return NOTHING_SET
    from store.knowledge.settings_read import read_settings  # of no use without a file

    try:
        return read_settings(text, load())
    except (RecursionError, ValueError):  # tables in tables without end, a number of thousands of figures
        return _unread(f"{path} holds what no settings file can hold")


def _unread(says: str) -> Settings:
    return Settings(faults=(SettingFault("", says, then="the defaults hold"),))


# in words


def fault_lines(settings: Settings) -> list[str]:
    """What is wrong in the file, a sentence each."""
    return [f"settings: {fault.text}" for fault in settings.faults]


def fault_line(settings: Settings) -> str:
    """What is wrong, for two rows of the narrowest screen: in full, or where to read it; else empty."""
    found = settings.faults
    if not found:
        return ""
    whole = f"{fault_lines(settings)[0]}."
    if len(found) == 1 and len(whole) <= LINE_MOST:
        return whole
    line, entry = found[0].line, found[0].entry[:40]
    where = " ".join(
        part for part in (f"line {line}" if line else "the file", f"({entry})" if entry else "") if part
    )
    more = f" and {len(found) - 1} more" if len(found) > 1 else ""
    return f"settings: {where}{more} cannot be used: `bothfeet settings` says why."


def settings_text(path: Path, settings: Settings) -> str:
    """Where the file is, what it changes against the defaults and what is wrong in it, in plain text."""
    there = path.is_file()
    found = [f"settings file: {path}"]
    if not there:
        found.append("it is not there: the defaults hold; `bothfeet settings --example` prints one to start from")
    elif not settings.changes:
        found.append("it changes nothing: the defaults hold")
    else:
        found += ["it changes:", *(_change(one.line, one.entry, one.now, one.default) for one in settings.changes)]
    if settings.faults:
        found += ["what is wrong in it:", *(f"  {fault.text}" for fault in settings.faults)]
    return "\n".join(found)


def _change(line: int | None, entry: str, now: str, default: str) -> str:
    where = f"line {line}: " if line else ""
    return f"  {where}{entry}: {now} (by default {default})"


def settings_data(path: Path, settings: Settings) -> dict[str, Any]:
    """The same as plain data."""
    return {
        "path": str(path),
        "there": path.is_file(),
        "changes": [one._asdict() for one in settings.changes],
        "faults": [one._asdict() for one in settings.faults],
    }


def example_text() -> str:
    """A settings file with every entry in it, each taken out by a #, to start from."""
    return (Path(__file__).parents[1] / "knowledge" / "settings_example.toml").read_text(encoding="utf-8")
