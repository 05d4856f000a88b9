"""The command line: `bothfeet` opens the screens; a verb does one thing headless and never imports Textual."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import closing, suppress
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, NoReturn

from store.care.unswept import unswept
from tui import VERSION, export_verb, own_settings, paper_verbs, serve_verb, verbs
from tui.clock.system import SystemClock

if TYPE_CHECKING:
    from store.care.care import Care

FAULT = 2
"""Exit status when something is wrong with what was asked or with the file."""

INTERRUPTED = 130
"""Exit status after ctrl+c, as shells have it."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status: 0, or 2 with a sentence on standard error."""
    for stream in (sys.stdout, sys.stderr):
        with suppress(AttributeError, ValueError):  # a stream put in its place may have no encoding to change
            stream.reconfigure(errors="backslashreplace")  # type: ignore[union-attr]  # TextIO does not declare it
    try:
        status = _run(_verb_first(sys.argv[1:] if argv is None else argv))
        sys.stdout.flush()
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # the reader of a pipe went away: nothing is wrong with the record
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return status


def _run(words: Sequence[str]) -> int:
    try:
        options = (_verbs(words[0]) if words and words[0] in VERBS else _opener()).parse_args(words)
    except SystemExit as stop:
        return int(stop.code or 0)
    options.clock = SystemClock()
    try:
        status: int = options.verb(options)
    except Exception as error:
        if not _say_fault(error, getattr(options, "said", "")):
            raise
        return FAULT
    return status


def _say_fault(error: Exception, line: str) -> bool:
    """Say a fault that has a sentence, and point into the line it is about; other errors stay the caller's."""
    from store.care.faults import FAULTS, EntryError
    from store.care.pointing import pointed

    if not isinstance(error, FAULTS):
        return False
    verbs.say(f"bothfeet: {error}", sys.stderr)
    below = pointed(line, error) if isinstance(error, EntryError) else ""
    if below:
        verbs.say(below, sys.stderr)
    return True


# the parsers


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one sentence, and where to read more."""

    def error(self, message: str) -> NoReturn:
        from tui.in_plain_words import in_plain_words

        says = in_plain_words(message)
        verbs.say(f"bothfeet: {says}: `{self.prog} --help` tells what to type", sys.stderr)
        raise SystemExit(FAULT)


def _verb_first(words: Sequence[str]) -> list[str]:
    """The words with the verb in front: `bothfeet --file X show` is `bothfeet show --file X`."""
    for at, word in enumerate(words):
        if at and words[at - 1] in {"--file", "--examiner"}:
            continue
        if word in VERBS:
            return [word, *words[:at], *words[at + 1 :]]
        if not word.startswith("-"):
            break
    return list(words)


def _opener() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="bothfeet",
        description="Brings a sprained ankle back, from first screen to running.",
        epilog="verbs: " + ", ".join(VERBS) + ". `bothfeet VERB --help` tells more. "
        "It supports, and does not replace, a licensed clinician's judgement and local protocol.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"bothfeet {VERSION}")
    parser.add_argument(
        "path", metavar="FILE", nargs="?", type=Path, help="the record to open; the default is made on first run"
    )
    _common(parser)
    _of_screens(parser)
    parser.add_argument(
        "--encrypt", action="store_true", help="make a new record that is encrypted; asks for its passphrase"
    )
    parser.set_defaults(verb=_open)
    return parser


def _verbs(asked: str) -> argparse.ArgumentParser:
    parser = _Parser(prog="bothfeet", allow_abbrev=False)
    subs = parser.add_subparsers(required=True)
    for name, verb in VERBS.items():
        sub = subs.add_parser(name, help=verb.says, description=verb.says, allow_abbrev=False)
        _common(sub)
        verb.arguments(sub)
        sub.set_defaults(verb=verb.run)
    parser.prog = f"bothfeet {asked}"  # it says what is left over of the words
    return parser


def _common(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--file", type=Path, help="the record; else BOTHFEET_FILE, else the default one")
    parser.add_argument("--examiner", default="", help="who measures; kept for next time")


def _of_screens(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")
    parser.add_argument(
        "--no-sound", action="store_true", help="start a timer silent; b in the timer switches its sound"
    )


# the screens


def _open(options: argparse.Namespace) -> int:
    from store.care.faults import CareFault

    if options.path is not None and options.file is not None:
        raise CareFault("two files are named: leave --file out, or the other")
    meant = _verb_meant(options.path)
    if meant:
        raise CareFault(
            f"there is no file {options.path}, and no verb is called so: did you mean `bothfeet {meant}`?"
        )
    why = _no_screens()
    if options.encrypt and why:
        raise CareFault(why)
    with (
        unswept(),  # until the first paint: see the application's on_ready
        closing(
            verbs.make_encrypted(options)
            if options.encrypt
            else verbs.care_of(options, create=not why, only_read=bool(why), tell_settings=bool(why))
        ) as care,
    ):
        return _show_screens(care, options, why)


def _verb_meant(path: Path | None) -> str:
    """The verb that was perhaps mistyped, where a name without an ending is no file."""
    if path is None or path.suffix or path.exists():
        return ""
    from difflib import get_close_matches

    return next(iter(get_close_matches(str(path), VERBS, n=1)), "")


def _no_screens() -> str:
    """Why the screens cannot be shown here, in a sentence; empty when they can."""
    from tui.widgets.terminal import refusal

    return refusal(sys.stdin, sys.stdout, os.environ) or ""


def _show_screens(care: Care, options: argparse.Namespace, why: str) -> int:
    """Open the screens on a record, or print the caseload and say why they cannot be shown here."""
    if why:
        verbs.say_caseload(care)
        sys.stdout.flush()
        verbs.say(f"bothfeet: {why}", sys.stderr)
        return FAULT
    if options.examiner:
        verbs.keep_examiner(care, options)
    from tui.app import BothFeetApp

    app = BothFeetApp(care, care.clock, sound_on=not options.no_sound, settings=care.settings)
    app.run(mouse=not options.no_mouse)
    return app.return_code or 0


def _demo(options: argparse.Namespace) -> int:
    """Invented people in a private folder that goes when the screens close, or in a new file that is kept."""
    from tempfile import TemporaryDirectory

    from store.care.care import open_care
    from store.demo import build

    why = _no_screens()
    with TemporaryDirectory(prefix="bothfeet-") as folder:
        path = options.file or Path(folder) / "demo.sqlite"
        build(path, options.clock.now())
        # What is done here stays invented, whoever measures otherwise.
        settings = own_settings.settings_of(verbs.say if why else None)._replace(examiner="")
        with unswept(), closing(open_care(path, options.clock, settings=settings)) as care:
            return _show_screens(care, options, why)


# the verbs


def _no_arguments(parser: argparse.ArgumentParser) -> None:
    del parser


def _person(parser: argparse.ArgumentParser, nargs: str | None = None) -> None:
    parser.add_argument("person", metavar="PERSON", nargs=nargs, help="an exact label, else the start of an id")
    parser.add_argument("--side", choices=("left", "right"), help="which ankle, where both are injured")


def _add_arguments(parser: argparse.ArgumentParser) -> None:
    _person(parser)
    parser.add_argument("said", metavar="LINE", help='such as "lunge 10.2 4.8", left then right')
    parser.add_argument("--yes", action="store_true", help="save what is unusual without asking")


def _show_arguments(parser: argparse.ArgumentParser) -> None:
    _person(parser, "?")
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.add_argument("--on", metavar="DATE", help="tell what is expected on this day, as 2026-12-24")
    parser.add_argument(
        "--visits", metavar="N", help="tell the last N visits, or all (as text 3, as JSON all where not said)"
    )


def _paper_arguments(parser: argparse.ArgumentParser) -> None:
    _person(parser)
    parser.add_argument("--out", metavar="FILE", type=Path, help="save it; .txt .md .html or .pdf says the format")
    _force(parser)


def _force(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--force", action="store_true", help="write in place of a file that is there")


def _letter_arguments(parser: argparse.ArgumentParser) -> None:
    _paper_arguments(parser)
    parser.add_argument(
        "--to", metavar="WHOM", help="whom this one goes to, in place of whom the record or the settings name"
    )


def _note_arguments(parser: argparse.ArgumentParser) -> None:
    _paper_arguments(parser)
    parser.add_argument("--visit", metavar="VISIT", help="of a day, as 2026-11-24, or the start of an id")


def _measures_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("measure", metavar="MEASURE", nargs="?", help="one measure's page")


def _settings_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.add_argument("--example", action="store_true", help="print a file to start from")


def _backup_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("to", metavar="TO", nargs="?", type=Path, help="a new file, or a folder")


def _merge_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("other", metavar="OTHER", type=Path, help="the file to bring in; it is not written to")


def _import_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("table", metavar="TABLE", type=Path, help="a CSV file, its first line naming the columns")
    parser.add_argument("--dry-run", action="store_true", help="say what would be done, and write nothing")
    parser.add_argument("--skip-bad", action="store_true", help="leave bad lines out, and import the others")


def _sheet_arguments(parser: argparse.ArgumentParser) -> None:
    _person(parser)
    parser.add_argument("--out", metavar="FILE", type=Path, help="save it: .html (one page), .md, .txt, .pdf")
    _force(parser)


def _export_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("person", metavar="PERSON", nargs="?", help="an exact label, else the start of an id")
    parser.add_argument("--all", action="store_true", help="everybody in the record")
    parser.add_argument(
        "--to",
        choices=tuple(export_verb.WAYS),
        required=True,
        help="csv: readings, as import takes them; json: all that is held; fhir: R4 bundle; ics: visits and runs",
    )
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="the file to write; - prints it")
    _force(parser)


def _serve_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("path", metavar="FILE", nargs="?", type=Path, help="the record to serve")
    parser.add_argument("--host", default="127.0.0.1", help="the loopback address; any other is refused")
    parser.add_argument("--port", default="8000", help="where it listens (8000)")
    parser.add_argument(
        "--public-url",
        metavar="URL",
        default="",
        help="where your own proxy with a log-in shows it; no sound then",
    )


class Verb(NamedTuple):
    """One verb: what it does in a sentence, the function that does it, and its arguments."""

    says: str
    run: Callable[[argparse.Namespace], int]
    arguments: Callable[[argparse.ArgumentParser], None] = _no_arguments


VERBS = {
    "demo": Verb("Open a fresh record of invented people; --file keeps it.", _demo, _of_screens),
    "add": Verb("Save one line of a person's measures in today's visit.", verbs.add, _add_arguments),
    "show": Verb("Print the caseload, or where one person's ankle stands.", verbs.show, _show_arguments),
    "note": Verb("Print or save the note of a visit.", paper_verbs.note, _note_arguments),
    "letter": Verb("Print or save the progress letter.", paper_verbs.letter, _letter_arguments),
    "measures": Verb("Print the measures, or one measure's page.", verbs.measures, _measures_arguments),
    "settings": Verb(
        "Print where the settings file is, and what it changes.", own_settings.settings, _settings_arguments
    ),
    "import": Verb("Bring in readings from a table, all or none.", verbs.bring_in, _import_arguments),
    "export": Verb(
        "Write what is held on a person, or on everybody, for other programs.",
        export_verb.export,
        _export_arguments,
    ),
    "sheet": Verb("Print or save a person's home sheet.", paper_verbs.sheet, _sheet_arguments),
    "backup": Verb("Copy the record to a new file.", verbs.backup, _backup_arguments),
    "check": Verb("Look whether the record is whole.", verbs.check),
    "serve": Verb("Show the screens in a browser on this computer.", serve_verb.serve, _serve_arguments),
    "merge": Verb("Bring in another copy of a record.", verbs.merge, _merge_arguments),
}
