"""The command line: `bothfeet` opens the screens; a verb does one thing headless and never imports Textual."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tui.clock.system import SystemClock

if TYPE_CHECKING:
    from store.care.care import Care

FAULT = 2
"""Exit status when something is wrong with what was asked or with the file."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status: 0, or 2 with a sentence on standard error."""
    from store.care.faults import FAULTS

    words = list(sys.argv[1:] if argv is None else argv)
    options = _parser(words).parse_args(words)
    try:
        verb: Callable[[argparse.Namespace], int] = options.verb
        return verb(options)
    except FAULTS as fault:
        print(f"bothfeet: {fault}", file=sys.stderr)
        return FAULT
    except BrokenPipeError:
        # the reader of a pipe went away: nothing is wrong with the record
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


# the parsers


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    """The parser that fits the first word: a verb, or else a file to open."""
    first = next((word for word in words if not word.startswith("-")), "")
    return _verbs() if first in VERBS and words[0] == first else _opener()


def _opener() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bothfeet",
        description="Brings a sprained ankle back, from first screen to running.",
        epilog="verbs: " + ", ".join(VERBS) + ". `bothfeet VERB --help` tells more. "
        "It supports, and does not replace, a licensed clinician's judgement and local protocol.",
    )
    parser.add_argument("--version", action="version", version=f"bothfeet {_version()}")
    parser.add_argument(
        "path", metavar="FILE", nargs="?", type=Path, help="the record to open; the default is made on first run"
    )
    _common(parser)
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")
    parser.set_defaults(verb=_open)
    return parser


def _verbs() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="bothfeet")
    verbs = parser.add_subparsers(required=True)
    for name, verb in VERBS.items():
        sub = verbs.add_parser(name, help=verb.says, description=verb.says)
        _common(sub)
        verb.arguments(sub)
        sub.set_defaults(verb=verb.run)
    return parser


def _common(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--file", type=Path, help="the record; else BOTHFEET_FILE, else the default one")
    parser.add_argument("--examiner", default="", help="who measures; kept for next time")


def _version() -> str:
    from importlib.metadata import version

    return version("bothfeet")


# where the record is


def _path(options: argparse.Namespace) -> Path | None:
    """The file that was named: by word, by option, by environment; None for the default one."""
    named = getattr(options, "path", None) or options.file or os.environ.get("BOTHFEET_FILE")
    return Path(named) if named else None


def _care(options: argparse.Namespace, *, create: bool = False) -> Care:
    from store.care.care import open_care

    return open_care(_path(options), SystemClock(), examiner=options.examiner, create=create)


# the verbs


def _open(options: argparse.Namespace) -> int:
    with closing(_care(options, create=True)) as care:
        return _show_screens(care, options)


def _show_screens(care: Care, options: argparse.Namespace) -> int:
    """Open the screens on a record, or say why they cannot be shown here and print the caseload instead."""
    from tui.widgets.terminal import refusal

    why = refusal(sys.stdin, sys.stdout, os.environ)
    if why:
        from store.care.caseload import everybody
        from store.care.shown import caseload_text

        print(caseload_text(everybody(care)), end="", flush=True)
        print(f"bothfeet: {why}", file=sys.stderr)
        return FAULT
    from tui.app import BothFeetApp

    app = BothFeetApp(care, care.clock)
    app.run(mouse=not options.no_mouse)
    return app.return_code or 0


def _demo(options: argparse.Namespace) -> int:
    from tempfile import TemporaryDirectory

    from store.demo import build

    from store.care.care import open_care

    with TemporaryDirectory(prefix="bothfeet-") as folder:
        path = options.file or Path(folder) / "demo.sqlite"
        clock = SystemClock()
        build(path, clock.now())
        with closing(open_care(path, clock, examiner=options.examiner)) as care:
            return _show_screens(care, options)


def _add(options: argparse.Namespace) -> int:
    from store.care.adding import add_line, doubts, find_person
    from store.care.care import name_examiner
    from store.care.faults import CareFault

    with closing(_care(options)) as care:
        person = find_person(care, options.person)
        asked = doubts(care, person, options.line)
        if asked.says and not options.yes and not _agreed(asked.says):
            raise CareFault(
                f"{' '.join(asked.says)} Nothing was saved: type it again, or add --yes if it is right"
            )
        if not care.examiner and sys.stdin.isatty():
            name_examiner(care, input("examiner, initials will do: "))
        elif options.examiner:
            name_examiner(care, options.examiner)
        print(add_line(care, person, options.line))
    return 0


def _agreed(says: Sequence[str]) -> bool:
    """Whether the person at the terminal says yes; with no terminal nobody can."""
    if not sys.stdin.isatty():
        return False
    print(" ".join(says))
    return input("save it? y/n: ").strip().lower() in {"y", "yes"}


def _show(options: argparse.Namespace) -> int:
    import json

    from store.care import shown
    from store.care.adding import find_person, shown_episode
    from store.care.caseload import everybody
    from store.care.standing import standing

    with closing(_care(options)) as care:
        if options.person is None:
            rows = everybody(care)
            data, text = shown.caseload_data(rows), shown.caseload_text(rows)
        else:
            held = standing(care, shown_episode(care, find_person(care, options.person)).id)
            data, text = shown.episode_data(held), shown.episode_text(held)
    print(json.dumps(data, ensure_ascii=False, indent=2) if options.json else text.rstrip("\n"))
    return 0


def _measures(options: argparse.Namespace) -> int:
    from store.care.listing import measure_page, measures_text
    from store.knowledge.load import load

    known = load()
    print(measure_page(known, options.measure) if options.measure else measures_text(known))
    return 0


def _backup(options: argparse.Namespace) -> int:
    from store.care.keeping import backup

    with closing(_care(options)) as care:
        print(f"copied to {backup(care, options.to)}")
    return 0


def _check(options: argparse.Namespace) -> int:
    from store.care.keeping import check

    found = check(_path(options))
    print("\n".join(found) if found else "the record is whole")
    return FAULT if found else 0


def _merge(options: argparse.Namespace) -> int:
    from store.care.keeping import merge

    with closing(_care(options)) as care:
        print(merge(care, options.other))
    return 0


def _no_arguments(parser: argparse.ArgumentParser) -> None:
    del parser


def _demo_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")


def _add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("person", metavar="PERSON", help="an exact label, else the start of an id")
    parser.add_argument("line", metavar="LINE", help='such as "lunge 10.2 4.8", left then right')
    parser.add_argument("--yes", action="store_true", help="save what is unusual without asking")


def _show_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("person", metavar="PERSON", nargs="?", help="an exact label, else the start of an id")
    parser.add_argument("--json", action="store_true", help="as JSON")


def _measures_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("measure", metavar="MEASURE", nargs="?", help="one measure's page")


def _backup_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("to", metavar="TO", nargs="?", type=Path, help="a new file, or a folder")


def _merge_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("other", metavar="OTHER", type=Path, help="the file to bring in; it is not written to")


@dataclass(frozen=True, slots=True)
class Verb:
    """One verb: what it does in a sentence, the function that does it, and its arguments."""

    says: str
    run: Callable[[argparse.Namespace], int]
    arguments: Callable[[argparse.ArgumentParser], None] = _no_arguments


VERBS = {
    "demo": Verb("Open a fresh record of invented people.", _demo, _demo_arguments),
    "add": Verb("Save one line of a person's measures in today's visit.", _add, _add_arguments),
    "show": Verb("Print the caseload, or one person's ankle.", _show, _show_arguments),
    "measures": Verb("Print the measures, or one measure's page.", _measures, _measures_arguments),
    "backup": Verb("Copy the record to a new file.", _backup, _backup_arguments),
    "check": Verb("Look whether the record is whole.", _check),
    "merge": Verb("Bring in another copy of a record.", _merge, _merge_arguments),
}
