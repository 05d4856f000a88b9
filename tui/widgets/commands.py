"""The one registry of commands: it feeds key bindings, key line, palette, help and the README's table.

A key means the same on every screen. A command that cannot run stays in sight and says why when it is pressed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from textual.binding import BindingType

CASELOAD, PERSON, EPISODE, VISIT = "caseload", "person", "episode", "visit"
TRIALS, BOUT, CHART, SOURCE, HELP = "trials", "bout", "chart", "source", "help"
LINE, PICK, VISITS, READINGS = "line", "timer", "visits", "readings"
PAGE, SQUADS, SQUAD = "page", "squads", "squad"
CRITERIA = "criteria"
HOME = "home"
PAPERS = "papers"
RUNNING = "running"
SIDELINE, CHECK = "sideline", "look at a player"
PRACTICE, WALK, CASE, DRILL = "practice", "assessment", "paper case", "drill"
SAFETY, SAFETY_AGAIN, SAFETY_SOURCE = "safety", "safety again", "safety source"
EVERYWHERE: tuple[str, ...] = ()

SCREENS: Mapping[str, str] = MappingProxyType(
    {
        CASELOAD: "caseload",
        PERSON: "person and episode",
        EPISODE: "episode",
        PAGE: "person",
        SQUADS: "squads",
        SQUAD: "squad",
        SIDELINE: "sideline",
        CHECK: "look at a player",
        PRACTICE: "practice",
        WALK: "assessment",
        CASE: "person on paper",
        DRILL: "your own error",
        VISIT: "visit",
        TRIALS: "trial by trial",
        LINE: "measure",
        PICK: "choose a timer",
        BOUT: "timer",
        CHART: "gap chart",
        CRITERIA: "criteria",
        HOME: "home programme",
        RUNNING: "running",
        PAPERS: "papers",
        SAFETY: "safety screen",
        SAFETY_AGAIN: "safety, asked as a group",
        VISITS: "earlier visits",
        READINGS: "readings",
        SOURCE: "where a figure comes from",
        HELP: "help",
    }
)


class Command(NamedTuple):
    """One thing that can be done: `keys` in Textual's spelling, the first one shown; none means palette only.

    `where` names the screens it works on, none means everywhere. `each` hands the pressed key on to the screen.
    `priority` keys arrive even where a field has the focus.
    """

    id: str
    keys: tuple[str, ...]
    label: str  # in the key line: one to three words
    says: str  # one sentence of help
    group: str
    where: tuple[str, ...] = EVERYWHERE
    shown: str = ""  # how the keys are written, where that is not the first key
    each: bool = False
    priority: bool = False

    @property
    def key(self) -> str:
        """The key as it is written on screen: `esc`, `F1`, `ctrl+p`, `m`."""
        return self.shown or (spell(self.keys[0]) if self.keys else "")

    @property
    def second(self) -> str:
        """The second way, or nothing."""
        return spell(self.keys[1]) if len(self.keys) > 1 and not self.each else ""

    def works_on(self, screen: str) -> bool:
        """Whether it belongs to this screen."""
        return not self.where or screen in self.where


_SPELLED = {
    "escape": "esc",
    "question_mark": "?",
    "asterisk": "*",
    "slash": "/",
    "plus": "+",
    "minus": "-",
    "left": "←",
    "right": "→",
    "up": "↑",
    "down": "↓",
}


def spell(key: str) -> str:
    """A key as it is written on screen, from Textual's name of it."""
    if len(key) > 1 and key[0] == "f" and key[1:].isdigit():
        return key.upper()
    return _SPELLED.get(key, key)


_DIGITS = tuple("0123456789")
_CARE = (EPISODE, VISIT)
_OF_A_PERSON = (
    CASELOAD, EPISODE, VISIT, PAGE, CHART, CRITERIA, VISITS, SOURCE, HOME, PAPERS, SAFETY, SAFETY_AGAIN,
    READINGS, RUNNING,
)  # fmt: skip
_PARTS = (
    CASELOAD, PERSON, EPISODE, VISIT, TRIALS, LINE, PICK, VISITS, PAGE, SQUADS, SQUAD, CRITERIA, HOME, PRACTICE,
)  # fmt: skip
"""Screens of more than one part to go to."""

COMMANDS: tuple[Command, ...] = (
    # the program
    Command("back", ("escape",), "back", "Leave the field, then the screen.", "program"),
    Command("help", ("f1", "question_mark"), "help", "Help for what has the focus; again: all keys.", "program"),
    Command("palette", ("ctrl+p",), "palette", "Every command by name.", "program"),
    Command("theme", (), "dark or light", "Change between the dark and the light ground.", "program"),
    Command("quit", ("ctrl+q",), "quit", "Close the program. Everything shown as saved is kept.", "program"),
    # people
    Command("open", ("enter",), "open", "Open what the cursor is on, or save what was typed or done.", "people",
            (CASELOAD, PERSON, EPISODE, VISIT, TRIALS, LINE, PICK, BOUT, SQUADS, SQUAD, CRITERIA, HOME, SAFETY,
             READINGS, RUNNING, PRACTICE, WALK, CASE, DRILL, SIDELINE, CHECK)),
    Command("save", ("ctrl+o",), "save", "Save the form, or the paper to a file.", "people",
            (PERSON, PAPERS)),
    Command("edit", ("e",), "edit",
            "Put right what was asked or measured, the original is kept; edit a part of the note; or plan the "
            "running.", "people", (EPISODE, PAGE, CHART, PAPERS, RUNNING)),
    Command("new", ("f2", "ctrl+n"), "new person",
            "Add a person and the injured ankle, or a squad, or a person to it.", "people",
            (CASELOAD, SQUADS, SQUAD)),
    Command("another", ("a",), "another episode",
            "Another episode of this person: the other ankle, or a new sprain; or an addition to a note.",
            "people", (EPISODE, PAGE, PAPERS)),
    Command("squads", ("f3", "ctrl+g"), "squads", "The squads and their people, also those without an injury.",
            "people", (CASELOAD,)),
    Command("practice", ("f4", "ctrl+t"), "practice",
            "Practise an assessment in order and time, a person on paper, or learn how large your own error is.",
            "people", (CASELOAD,)),
    Command("closed", ("f5", "ctrl+l"), "closed",
            "Show the closed episodes and people without one too, or hide them again.", "people", (CASELOAD,)),
    # the visit
    Command("visit", ("v", "f8"), "visit",
            "Start the visit, or go back into it; at the sideline, look at whoever is hurt.", "visit",
            (CASELOAD, EPISODE, CHART, SIDELINE)),
    Command("measure", ("m", "f6"), "measure",
            "Measure: trial by trial, or one line; or a squad at the sideline.", "visit",
            (*_CARE, TRIALS, LINE, PAGE, CRITERIA, SQUAD)),
    Command("timer", ("t", "f7"), "timer",
            "A bout of something: reps, holds, direction shifts; or of the rung to run next.", "visit",
            (*_CARE, RUNNING)),
    Command("undo", ("u", "f9"), "undo", "Undo the last thing saved here, a correction or the ending.", "visit",
            (*_CARE, TRIALS, LINE, BOUT, PAGE, SQUAD, CRITERIA, HOME, SAFETY, READINGS, RUNNING, WALK, DRILL,
             SIDELINE, CHECK)),
    Command("next", ("space",), "next in plan",
            "Do the next line of the plan; hand the home programme out; keep that a group was asked; or type how "
            "a run went, or the morning after it.", "visit", (VISIT, HOME, SAFETY_AGAIN, RUNNING)),
    Command("drop", ("d",), "leave out today", "Leave this line of the plan out today, or take it back in.",
            "visit", (VISIT,)),
    # what is known
    Command("chart", ("g",), "chart", "The gap chart of the measure under the cursor.", "figures", _CARE),
    Command("turn", ("right", "left"), "other measure",
            "The next one, or the one before: a measure, stage, paper, group or side, or a part of the dose.",
            "figures", (CHART, BOUT, CRITERIA, HOME, PAPERS, SAFETY, CHECK), shown="← →", each=True),
    Command("visits", ("l",), "earlier visits", "What was said, measured and timed in each visit.", "figures",
            _CARE),
    Command("read", ("pagedown", "pageup"), "read on", "On in what is told, or back.", "figures",
            (VISITS, HOME, PAPERS, SAFETY, RUNNING, WALK, CASE, DRILL), shown="PgDn PgUp", each=True),
    Command("source", ("i", "f12"), "where from",
            "Where this figure comes from: rule, source, mark, date, examiner.", "figures",
            (*_CARE, TRIALS, CHART, CRITERIA, SAFETY, RUNNING)),
    Command("safety", ("s",), "safety", "The safety screen: what must be referred.", "figures",
            (*_CARE, SAFETY_AGAIN, RUNNING)),
    Command("answer", ("y", "n"), "yes, no",
            "Yes, the sign is there; or no. Of a number n is none. In practice: the step was done, or left out.",
            "figures", (SAFETY, WALK, CHECK), shown="y n", each=True),
    Command("unasked", ("space",), "not asked", "Take the answer out: not asked is unknown, never a no.",
            "figures", (SAFETY, CHECK)),
    Command("figure", (*_DIGITS, "full_stop", "comma", "backspace"), "number",
            "A number, where one is asked for.", "figures", (SAFETY,), shown="0-9", each=True),
    Command("criteria", ("c",), "criteria", "What the next stage still wants.", "figures",
            (*_CARE, CHART, RUNNING)),
    Command("decide", ("k",), "decide",
            "Keep your own decision on a stage, or settle a referral, with a reason; or say what a person on "
            "paper comes to.", "figures", (CRITERIA, SAFETY, CASE)),
    Command("resprain", ("q",), "new sprain",
            "Log a new sprain that the person tells of, also after discharge: its day and how it came about.",
            "figures", (EPISODE,)),
    Command("home", ("h",), "home", "The home programme.", "figures", _CARE),
    Command("days", ("f",), "days at home", "Type on which days it was done at home, and the pain next morning.",
            "figures", (HOME,)),
    Command("run", ("r",), "run", "The walk-run plan, its rule and its dates.", "figures", _CARE),
    Command("note", ("n",), "papers", "The note and other papers.", "figures", _CARE),
    Command("student", ("z",), "as a student", "Sign as a student; on a student's signed note, countersign it.",
            "figures", (PAPERS,)),
    Command("copy", ("y",), "copy", "Copy the paper as text, for the clinic's own system.", "figures", (PAPERS,)),
    # trial by trial, from the number pad
    Command("swap", ("asterisk",), "swap side", "Test the other side now, or swap left and right as typed.",
            "trials", (TRIALS, LINE)),
    Command("unable", ("slash",), "unable", "This side could not do it: kept as unable, never as zero.", "trials",
            (TRIALS,)),
    Command("more", ("plus",), "one more", "Add one more trial to this side, or one more thing to do at home.",
            "trials", (TRIALS, HOME)),
    Command("less", ("minus",), "take back",
            "Take the last trial back, or what the cursor is on out of the squad, the home programme or a list.",
            "trials", (TRIALS, SQUAD, HOME, READINGS)),
    # the bout
    Command("on", ("space",), "on", "The one key of the timer, also the foot pedal: start, stop, next, lost it.",
            "timer", (BOUT, WALK)),
    Command("pain", (*_DIGITS, "asterisk"), "pain",
            "Pain after the set: 0 to 9, * for ten. Where control is asked: 0 to 3.", "timer", (BOUT,),
            shown="0-9 *", each=True),
    Command("pause", ("p",), "pause", "Pause, and go on.", "timer", (BOUT,)),
    Command("end", ("x",), "end, keep",
            "End and keep the bout, the visit or the episode, or sign the note; a closed episode is opened again.",
            "timer", (EPISODE, VISIT, BOUT, PAPERS, WALK, DRILL)),
    Command("change", ("up", "down"), "more, less", "More or less of the part of the dose that is marked.",
            "timer", (BOUT, HOME), shown="↑ ↓", each=True),
    Command("sound", ("b",), "sound", "Switch the sound of the timer off, or on again.", "timer", (BOUT,)),
    # the room, the calendar, the keyboard
    Command("only", ("o", "ctrl+r"), "only this person",
            "Hide everyone else from an open room; again: show everybody.", "people", _OF_A_PERSON),
    Command("appoint", ("w",), "next visit", "When this person comes next: plan it, move it or call it off.",
            "people", (EPISODE, PAGE)),
    Command("jump", ("j", "ctrl+y"), "jump",
            "Put a letter on each part of the screen, a field or a row; the letter goes there.", "people", _PARTS),
)  # fmt: skip

GROUPS: Mapping[str, str] = MappingProxyType(
    {
        "program": "Everywhere",
        "people": "People",
        "visit": "The visit",
        "figures": "What is known",
        "trials": "Trial by trial",
        "timer": "Timer",
    }
)

_BY_ID = MappingProxyType({command.id: command for command in COMMANDS})


def get(command_id: str) -> Command:
    """The command of an id. Raises KeyError when there is none."""
    return _BY_ID[command_id]


def on(screen: str) -> tuple[Command, ...]:
    """The commands of a screen, its own first and those that work everywhere after."""
    own = [command for command in COMMANDS if command.where and command.works_on(screen)]
    return (*own, *(command for command in COMMANDS if not command.where))


def bindings(screen: str) -> list[BindingType]:
    """The key bindings of a screen's own commands, for its `BINDINGS`. Each runs `action_do(id)` of the screen."""
    return _bound(command for command in COMMANDS if command.where and command.works_on(screen))


def bindings_everywhere() -> list[BindingType]:
    """The key bindings of the commands that work everywhere, for the application."""
    return _bound(command for command in COMMANDS if not command.where)


def _bound(wanted: Iterable[Command]) -> list[BindingType]:
    from textual.binding import Binding

    made: list[BindingType] = []
    for command in wanted:
        for key in command.keys:
            act = f"do('{command.id}', '{key}')" if command.each else f"do('{command.id}')"
            made.append(
                Binding(
                    key,
                    act,
                    command.label,
                    show=False,
                    key_display=spell(key),
                    priority=command.priority or command.id == "quit",
                    tooltip=command.says,
                    id=f"{command.id}.{key}",
                )
            )
    return made


def relabelled(command: Command, label: str) -> Command:
    """The same command under the words that fit the state it is in: `space stop`, `space lost it`."""
    return command._replace(label=label)


def keys_table() -> str:
    """The keys as a Markdown table, for the README."""
    rows = ["| key | also | where | means |", "| --- | --- | --- | --- |"]
    for group in GROUPS:
        for command in (each for each in COMMANDS if each.group == group):
            where = ", ".join(SCREENS[name] for name in command.where) or "everywhere"
            rows.append(f"| {_code(command.key)} | {_code(command.second)} | {where} | {command.says} |")
    return "\n".join(rows) + "\n"


def _code(key: str) -> str:
    return f"`{key}`" if key else ""
