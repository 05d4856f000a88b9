"""Activities from their table: techniques and exercises, each with a dose that fits its kind of bout."""

from __future__ import annotations

from typing import Any

from store.knowledge.fields import SNAKE, Row
from store.knowledge.figures import provenance
from store.knowledge.kinds import Activity, Dose, Phase
from store.knowledge.measures import DOMAINS
from store.knowledge.words import BoutKind, Mark

FOLDER = "activities"

MUST_HAVE = {
    BoutKind.PACED: ("reps", "phases"),
    BoutKind.COUNTED: (),
    BoutKind.HOLD_TO_LOSS: ("cap_s",),
    BoutKind.HOLD_FIXED: ("hold_s",),
    BoutKind.SHIFTS: ("reps", "shift_s"),
    BoutKind.OSCILLATIONS: ("hold_s", "rate", "word"),
    BoutKind.WALK_RUN: ("reps", "phases"),
    BoutKind.REACHES: ("reps",),
    BoutKind.HOP_HOLD: ("reps", "phases"),
    BoutKind.TIMED: ("hold_s", "word"),
}
"""The parts of a dose that each kind of bout needs, beside sets and rest."""

MAY_HAVE = {BoutKind.COUNTED: ("reps", "phases")}
"""Counted work may go without reps (as many as can be done), and with phases, which are then its metronome."""

HOLDS = (BoutKind.HOLD_TO_LOSS, BoutKind.HOLD_FIXED, BoutKind.HOP_HOLD)


def activity(key: str, row: Row) -> Activity:
    """The activity in a table. Raises KnowledgeError."""
    if not SNAKE.fullmatch(key):
        raise row.fault("id", f"{key!r} is not lower snake case")
    kind = row.choice("kind", BoutKind)
    mark, source = provenance(row)
    found = Activity(
        id=key,
        name=row.text("name"),
        hands_on=row.flag("hands_on"),
        kind=kind,
        dose=_dose(row.row("dose"), kind),
        domain=row.one_of("domain", DOMAINS),
        shows=row.text("shows"),
        sides=row.one_of("sides", ("injured", "both", "none")),
        set_up=row.texts("set_up"),
        anchor=row.text("anchor", ""),
        cue_words=row.texts("cue_words"),
        directions=row.texts("directions"),
        surface=row.one_of("surface", ("firm", "foam", "half-dome"), ""),
        ends=row.text("ends", ""),
        ask_pain=row.flag("ask_pain", False),
        painless=row.flag("painless", False),
        loading=row.flag("loading"),
        measure=row.word("measure"),
        cautions=row.texts("cautions"),
        source=source,
        mark=mark,
        minutes=row.number("minutes"),
        short_forms=row.texts("short_forms"),
        phase=_phase_of_course(row.file),
    )
    row.done()
    _check(row, found)
    return found


DOSE_MOST = {"sets": 20, "reps": 100, "hold_s": 7200, "rest_s": 600, "cap_s": 600, "shift_s": 30, "rate": 5}
"""The most of each part that a clinic may set; ours, wide enough for any usual dose."""

_OF_A_PROTOCOL = ("sets", "reps", "phases", "hold_s", "cap_s")


def dosed(found: Activity, file: str, own: Any) -> Activity:  # noqa: ANN401 - whatever stands in a file
    """An activity with parts of its dose set by a clinic, and said to be. Raises KnowledgeError."""
    table = f"doses.{found.id}"
    theirs, dose = Row(file, table, own), found.dose
    known = ("sets", "rest_s", *MUST_HAVE[found.kind], *MAY_HAVE.get(found.kind, ()))
    for key in own:
        if key not in known:
            raise theirs.fault(key, f"{found.name} ({found.kind}) has no such part; it has {', '.join(known)}")
        if found.measure and key in _OF_A_PROTOCOL:
            what = f"it belongs to the protocol of {found.measure}, which this measures: change it in the timer"
            raise theirs.fault(key, what)
        if key in DOSE_MOST and theirs.number(key) > DOSE_MOST[key]:
            raise theirs.fault(key, f"at most {DOSE_MOST[key]} is wanted")
    given = str(dose.mark) + (f", {dose.source}" if dose.source else "") + (f": {dose.says}" if dose.says else "")
    says = f"{', '.join(own)}; the rest as given, {given}"
    merged = {**_as_table(dose), **own, "mark": str(Mark.CLINIC), "says": says}
    row = Row(file, table, merged)
    changed = found._replace(dose=_dose(row, found.kind))
    _check(row, changed)
    return changed


def _as_table(dose: Dose) -> dict[str, Any]:
    """A dose as it would stand in a table, without where it comes from."""
    parts = {
        key: getattr(dose, key) for key in ("sets", "reps", "hold_s", "rest_s", "cap_s", "shift_s", "rate", "word")
    }
    phases = [{"word": phase.word, "seconds": phase.seconds} for phase in dose.phases]
    return {**parts, **({"phases": phases} if phases else {})}


def _phase_of_course(file: str) -> str:
    """From `activities/10_first_days.toml` "first days": the number only sets the order."""
    name = file.rpartition("/")[2].removesuffix(".toml")
    return name.lstrip("0123456789_").replace("_", " ")


def _dose(row: Row, kind: BoutKind) -> Dose:
    mark, source = provenance(row)
    phases = tuple(_phase(item) for item in row.rows("phases"))
    dose = Dose(
        sets=row.whole("sets"),
        reps=row.whole("reps", 0),
        hold_s=_seconds(row, "hold_s"),
        rest_s=_seconds(row, "rest_s"),
        cap_s=_seconds(row, "cap_s"),
        phases=phases,
        shift_s=_seconds(row, "shift_s"),
        rate=row.number("rate", 0.0),
        word=row.text("word", ""),
        mark=mark,
        source=source,
        says=row.text("says", ""),
    )
    row.done()
    if dose.sets < 1:
        raise row.fault("sets", "at least one set is wanted")
    for key in ("reps", "hold_s", "cap_s", "phases", "shift_s", "rate", "word"):
        if key in MUST_HAVE[kind] and not getattr(dose, key):
            raise row.fault(key, f"missing: {kind} needs it")
        if key not in (*MUST_HAVE[kind], *MAY_HAVE.get(kind, ())) and getattr(dose, key):
            raise row.fault(key, f"{kind} has no use for it")
    return dose


def _seconds(row: Row, key: str) -> float:
    value = row.number(key, 0.0)
    if value < 0:
        raise row.fault(key, f"{value:g} s is less than none")
    return value


def _phase(row: Row) -> Phase:
    phase = Phase(row.text("word"), _seconds(row, "seconds"))
    row.done()
    if phase.seconds <= 0:
        raise row.fault("seconds", "a phase lasts more than 0 s")
    return phase


def _check(row: Row, activity: Activity) -> None:
    _check_directions(row, activity)
    if activity.kind in HOLDS and not activity.ends:
        raise row.fault("ends", "missing: say what ends the hold, or what counts as a fault")
    if activity.painless and not activity.ask_pain:
        raise row.fault("ask_pain", "what must be painless asks about pain after each set")
    if activity.hands_on and not activity.cautions:
        raise row.fault("cautions", "missing: hands-on work names its cautions")
    if activity.measure and activity.kind not in (BoutKind.HOLD_TO_LOSS, BoutKind.COUNTED):
        raise row.fault("measure", f"{activity.kind} gives no value that could be a reading")
    if activity.minutes <= 0:
        raise row.fault("minutes", "more than 0 is wanted")


def _check_directions(row: Row, activity: Activity) -> None:
    ways = len(activity.directions)
    match activity.kind:
        case BoutKind.SHIFTS if ways < 2:
            raise row.fault("directions", "missing: direction shifts need at least two")
        case BoutKind.REACHES if ways < 1:
            raise row.fault("directions", "missing: reaches need at least one")
        case BoutKind.PACED if ways not in (0, activity.dose.sets):
            raise row.fault("directions", f"one for each of the {activity.dose.sets} sets is wanted")
        case BoutKind.SHIFTS | BoutKind.REACHES | BoutKind.PACED:
            return
    if ways:
        raise row.fault("directions", f"{activity.kind} has no use for it")
