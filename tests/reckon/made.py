"""Measures and readings for tests of reckon and entry: made here, so that no table must exist."""

from __future__ import annotations

from datetime import UTC, datetime

from store.knowledge.kinds import ErrorFamily, Figure, Measure
from store.knowledge.time import Stamp
from store.knowledge.words import Better, Mark, Moment, Reading, Side, Status

REVIEW = ErrorFamily(
    "review",
    "review of twelve studies",
    sem_within=Figure(0.5, Mark.DERIVED, "konor_2012", "middle of 0.4 to 0.6"),
    sem_between=Figure(0.69, Mark.DERIVED, "powden_2015", "1.9 / 2.77"),
    mdc_between=Figure(1.9, Mark.READ, "powden_2015"),
)
TWO_EXAMINERS = ErrorFamily("two", "two examiners", mdc_between=Figure(1.6, Mark.READ, "powden_2015"), examiners=2)
ANKLE_PATIENTS = ErrorFamily(
    "ankle_patients",
    "ankle patients, three days apart",
    mdc_between=Figure(1.0, Mark.READ, "chisholm_2012"),
    gap_mdc=Figure(1.5, Mark.READ, "chisholm_2012"),
)


def measure(
    id: str = "lunge",
    unit: str = "cm",
    *,
    step: float = 0.1,
    low: float = 0.0,
    high: float = 30.0,
    usual: tuple[float, float] | None = None,
    better: Better = Better.HIGHER,
    paired: bool = True,
    counted: int = 3,
    aggregate: str = "mean",
    cap: float | None = None,
    errors: tuple[ErrorFamily, ...] = (),
    importance: float | None = None,
    asks: str = "",
) -> Measure:
    usual_low, usual_high = usual or (low, high)
    return Measure(
        id=id,
        name=id.replace("_", " "),
        long_name=id,
        shows="",
        unit=unit,
        step=step,
        low=low,
        high=high,
        usual_low=usual_low,
        usual_high=usual_high,
        better=better,
        paired=paired,
        counted=counted,
        domain="",
        aggregate=aggregate,
        cap=cap,
        errors=errors,
        importance=None if importance is None else Figure(importance, Mark.READ),
        asks=asks,
        protocol=f"{id} 1",
    )


def pain(id: str) -> Measure:
    return measure(
        id,
        "0-10",
        step=1.0,
        high=10.0,
        better=Better.LOWER,
        paired=False,
        counted=1,
        aggregate="single",
        importance=2.0,
        asks="how much pain?",
    )


LUNGE = measure(usual=(1.0, 20.0), errors=(REVIEW, TWO_EXAMINERS, ANKLE_PATIENTS))
LUNGE_OF_PATIENTS = measure(errors=(ANKLE_PATIENTS, TWO_EXAMINERS, REVIEW))
LUNGE_ANGLE = measure("lunge_angle", "deg", step=1.0, high=65.0)
GIRTH = measure(
    "girth",
    low=30.0,
    high=80.0,
    better=Better.LOWER,
    errors=(ErrorFamily("clinic", "clinic", Figure(0.2, Mark.READ), Figure(0.3, Mark.READ)),),
)
STANCE = measure("stance_open", "s", high=60.0, aggregate="best", cap=45.0)
HEEL_RAISE = measure(
    "heel_raise",
    "reps",
    step=1.0,
    high=100.0,
    counted=1,
    aggregate="single",
    errors=(ErrorFamily("limits", "limits of agreement", mdc_between=Figure(6.0, Mark.DERIVED)),),
)
SIDE_HOP = measure("side_hop", "s", step=0.01, low=3.0, high=120.0, better=Better.LOWER)
CONFIDENCE = measure(
    "confidence", "0-10", step=1.0, high=10.0, paired=False, counted=1, aggregate="single", asks="?"
)
PAIN = pain("pain_now")
PAINS = tuple(pain(id) for id in ("pain_now", "pain_worst", "pain_morning", "pain_walk"))
EVERY = (LUNGE, LUNGE_ANGLE, GIRTH, STANCE, HEEL_RAISE, SIDE_HOP, CONFIDENCE, *PAINS)
SHORT = {"heel": HEEL_RAISE, "stance": STANCE, "pain": PAIN}


def find(word: str) -> Measure | None:
    return next((measure for measure in EVERY if measure.id == word), SHORT.get(word))


NAMES = (*(measure.id for measure in EVERY), *SHORT)


def reading(
    value: float | None,
    measure: Measure = LUNGE,
    side: Side | None = Side.RIGHT,
    *,
    visit: str = "first",
    moment: Moment | None = None,
    status: Status = Status.MEASURED,
    conditions: tuple[str, ...] = (),
    examiner: str = "K.B.",
    protocol: str | None = None,
    trials: int | None = None,
    unit: str | None = None,
) -> Reading:
    count = measure.counted if trials is None else trials
    return Reading(
        id=f"{visit} {side} {moment}",
        person="R.K.",
        measure=measure.id,
        unit=unit or measure.unit,
        taken=Stamp(datetime(2026, 11, 2, 10, tzinfo=UTC)),
        side=side if measure.paired else None,
        value=value,
        status=Status.UNABLE if value is None else status,
        moment=moment,
        trials=() if value is None else (value,) * count,
        conditions=conditions,
        visit=visit,
        examiner=examiner,
        protocol=measure.protocol if protocol is None else protocol,
    )
