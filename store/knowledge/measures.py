"""Measures from their tables, and what must hold within one measure and between their names.

Hard limits, plausible ranges and steps are guards against slips of the hand: common practice, without a source.
"""

from __future__ import annotations

from collections.abc import Mapping

from store.knowledge.errors import families
from store.knowledge.fields import SNAKE, KnowledgeError, Row
from store.knowledge.figures import figure_or_none, lines
from store.knowledge.kinds import Activity, Measure
from store.knowledge.scoring import scoring
from store.knowledge.units import UNIT_WORDS, YES_NO
from store.knowledge.words import Better

FOLDER = "measures"

DOMAINS = {
    "pain": "delahunt_2018",
    "swelling": "delahunt_2018",
    "range of motion": "delahunt_2018",
    "arthrokinematics": "delahunt_2018",
    "strength": "delahunt_2018",
    "static balance": "delahunt_2018",
    "dynamic balance": "delahunt_2018",
    "gait": "delahunt_2018",
    "physical activity level": "delahunt_2018",
    "patient-reported": "delahunt_2018",
    "athlete perception": "smith_2021",
    "sport and function": "smith_2021",
    "ligaments": "delahunt_2018",
}
"""Consensus domains of what to assess after a sprain, with the source of each."""

RESERVED = frozenset(
    {"l", "r", "left", "right", "before", "after", "unable", "cap", "note", "yes", "no", "y", "n"}
    | {"brace", "tape", "shoe", "insole", "barefoot", "foam", "half_dome"}
)
"""Words that mean something else on the line of entry: no measure may be called so."""


def measure(key: str, row: Row) -> Measure:
    """The measure in a table. Raises KnowledgeError."""
    if not SNAKE.fullmatch(key) or key in RESERVED:
        raise row.fault("id", f"{key!r} cannot name a measure: lower snake case, and no word of the line")
    found = _measure(key, row)
    row.done()
    _check_range(row, found)
    _check_trials(row, found)
    _check_sense(row, found)
    _check_kind(row, found)
    return found


def check_short_forms(
    file: str, things: Mapping[str, Measure] | Mapping[str, Activity], reserved: frozenset[str]
) -> None:
    """Every word that finds a measure or an activity finds one only. Raises KnowledgeError."""
    owner = {key: key for key in things}
    for key, thing in things.items():
        for word in thing.short_forms:
            where = f"{file}: [{key}] short_forms: {word!r}"
            if not SNAKE.fullmatch(word):
                raise KnowledgeError(f"{where} is not lower snake case")
            if word in reserved:
                raise KnowledgeError(f"{where} means something else on the line of entry")
            if word in owner:
                raise KnowledgeError(f"{where} is used twice: it already finds {owner[word]}")
            owner[word] = key


def _measure(key: str, row: Row) -> Measure:
    paired = row.flag("paired")
    return Measure(
        id=key,
        name=row.text("name"),
        long_name=row.text("long_name"),
        shows=row.text("shows"),
        unit=row.one_of("unit", UNIT_WORDS),
        step=row.number("step"),
        low=row.number("low"),
        high=row.number("high"),
        usual_low=row.number("usual_low"),
        usual_high=row.number("usual_high"),
        better=row.choice("better", Better),
        paired=paired,
        counted=row.whole("counted"),
        domain=row.one_of("domain", DOMAINS),
        short_forms=row.texts("short_forms"),
        practice=row.whole("practice", 0),
        aggregate=row.one_of("aggregate", ("mean", "best", "single")),
        symmetry=row.one_of("symmetry", ("difference", "lsi", "none")),
        cap=row.number("cap") if row.has("cap") else None,
        ordinal=row.flag("ordinal", False),
        asks=row.text("asks", ""),
        loading=row.flag("loading"),
        errors=families(row, "errors", paired),
        importance=figure_or_none(row, "importance"),
        cut_offs=lines(row, "cut_offs"),
        healthy=lines(row, "healthy"),
        fresh_days=figure_or_none(row, "fresh_days"),
        protocol=row.text("protocol"),
        steps=row.texts("steps"),
        protocol_figures=lines(row, "protocol_figures"),
        cautions=row.texts("cautions"),
        evidence_id=row.text("evidence_id", ""),
        bout=row.word("bout"),
        made_of=row.texts("made_of"),
        scoring=scoring(row),
    )


def _check_range(row: Row, measure: Measure) -> None:
    if measure.low >= measure.high:
        raise row.fault("low", f"{measure.low:g} is not below high, {measure.high:g}")
    if measure.usual_low >= measure.usual_high:
        raise row.fault("usual_low", f"{measure.usual_low:g} is not below usual_high, {measure.usual_high:g}")
    for key, value in (("usual_low", measure.usual_low), ("usual_high", measure.usual_high), ("cap", measure.cap)):
        if value is not None and not measure.low <= value <= measure.high:
            raise row.fault(key, f"{value:g} is outside the limits, {measure.low:g} to {measure.high:g}")
    if not 0 < measure.step <= measure.high - measure.low:
        raise row.fault("step", f"{measure.step:g} is no step between {measure.low:g} and {measure.high:g}")


def _check_trials(row: Row, measure: Measure) -> None:
    if measure.counted < 1:
        raise row.fault("counted", "at least one trial counts")
    if (measure.aggregate == "single") != (measure.counted == 1):
        what = f"{measure.aggregate} of {measure.counted}: single goes with one trial, mean and best with more"
        raise row.fault("aggregate", what)


def _check_sense(row: Row, measure: Measure) -> None:
    if not measure.paired and measure.symmetry != "none":
        raise row.fault("symmetry", f"not paired, so no sides to compare: none, not {measure.symmetry}")
    if measure.better is Better.NEITHER and (measure.symmetry != "none" or measure.errors or measure.bout):
        raise row.fault("better", "what is better neither way has no symmetry, no error and no bout")
    if measure.ordinal and (measure.errors or measure.aggregate != "single"):
        raise row.fault("ordinal", "grades have no mean and no measurement error")
    if not measure.steps and not measure.asks:
        raise row.fault("steps", "missing: say how it is measured (steps) or how it is asked (asks)")
    for key, figure in (("fresh_days", measure.fresh_days), ("importance", measure.importance)):
        if figure and figure.value <= 0:
            raise row.fault(key, "more than 0 is wanted")


def _check_kind(row: Row, measure: Measure) -> None:
    """What a yes or no, a worked-out value and a questionnaire can and cannot have."""
    if measure.unit == YES_NO:
        if (measure.low, measure.high, measure.step) != (0, 1, 1):
            raise row.fault("unit", "yes and no are 1 and 0: low 0, high 1, step 1")
        if measure.errors or measure.aggregate != "single" or measure.symmetry != "none":
            raise row.fault("unit", "a yes or no has one answer, no measurement error and no symmetry")
    if measure.made_of and (measure.bout or measure.counted != 1):
        raise row.fault("made_of", "what is worked out has no trials and no bout of its own")
    if measure.id in measure.made_of:
        raise row.fault("made_of", "a measure cannot be worked out from itself")
    if measure.scoring is not None and measure.unit != ("%" if measure.scoring.percent else "points"):
        raise row.fault("scoring", f"its total is no value in {measure.unit}")
