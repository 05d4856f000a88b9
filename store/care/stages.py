"""What an ankle is ready for: the criteria of each stage as they stand, and the clinician's own decisions."""

from __future__ import annotations

from typing import Any, NamedTuple

from store.care.care import Care
from store.care.compared import HIDDEN
from store.care.faults import CareFault
from store.care.foreseeing import foresee, next_stage, sem_of
from store.care.standing import Standing
from store.knowledge.criteria import Criterion, Stage, StageCriteria
from store.knowledge.planned import StageDecision
from store.reckon import criteria as reckoned
from store.reckon.criteria import Answer, Evidence
from store.reckon.forecast import Dates, Forecast
from store.reckon.threshold import LineVerdict
from store.record import decisions

REASON_MOST = 300
"""Characters of the reason for a decision."""

ONLY_AFTER = "measured after treatment only"
"""Why a value answers no criterion: what treatment did is not how the ankle stands."""


class CriterionStanding(NamedTuple):
    """One criterion as it stands, with its measure's name and, where it is short, the days on which it is
    expected, and the forecast that says so."""

    answer: Answer
    measure: str
    unit: str
    dates: Dates | None = None
    forecast: Forecast | None = None

    @property
    def criterion(self) -> Criterion:
        """The condition itself."""
        return self.answer.criterion


class StageStanding(NamedTuple):
    """The criteria of one stage, what would be worth measuring next, and what stands in the way whatever that
    says."""

    stage: Stage
    wanted: StageCriteria
    criteria: tuple[CriterionStanding, ...]
    next: CriterionStanding | None
    in_the_way: tuple[CriterionStanding, ...]

    @property
    def met(self) -> int:
        """How many count as met."""
        return sum(one.answer.verdict.met for one in self.criteria)

    @property
    def all_met(self) -> bool:
        """Whether each is met, by its own verdict."""
        return self.met == len(self.criteria)

    @property
    def counts(self) -> dict[LineVerdict, int]:
        """How many there are of each verdict."""
        return reckoned.counted([one.answer for one in self.criteria])


def stage_standing(care: Care, held: Standing, stage: Stage, *, dated: bool = True) -> StageStanding:
    """The criteria of a stage as they stand today, without what is blind now. `dated` also asks when the short
    ones are expected."""
    wanted = care.knowledge.criteria[stage]
    found = tuple(_criterion(care, held, criterion, dated=dated) for criterion in wanted.criteria)
    answers = [one.answer for one in found]
    by_id = {one.criterion.id: one for one in found}
    coming = reckoned.measure_next(answers)
    return StageStanding(
        stage=stage,
        wanted=wanted,
        criteria=found,
        next=by_id[coming.criterion.id] if coming else None,
        in_the_way=tuple(by_id[one.criterion.id] for one in reckoned.in_the_way(answers)),
    )


def _criterion(care: Care, held: Standing, criterion: Criterion, *, dated: bool) -> CriterionStanding:
    one = held.of(criterion.measure)
    measure = one.measure
    if one.hidden:
        return CriterionStanding(
            Answer(criterion, LineVerdict.NOT_MEASURED, why=HIDDEN), measure.name, measure.unit
        )
    if one.subject.latest is not None and one.untreated is None:
        return CriterionStanding(
            Answer(criterion, LineVerdict.NOT_MEASURED, why=ONLY_AFTER), measure.name, measure.unit
        )
    known = Evidence(
        measure=measure,
        reading=one.untreated,
        previous=one.subject.previous,
        reference=one.reference.value if one.reference else None,
        sem=sem_of(one, relative=False),
        gap_sem=sem_of(one, relative=True) if measure.paired else None,
        fresh_days=measure.fresh_days.value if measure.fresh_days else None,
    )
    answer = reckoned.answer(criterion, known, held.on)
    if not dated or answer.line is None or answer.verdict.met:
        return CriterionStanding(answer, measure.name, measure.unit)
    told = foresee(care, held, measure.id, dated=False).forecast  # of its lines this one alone is asked about
    dates = told.dates(answer.line, held.on) if told else None
    return CriterionStanding(answer, measure.name, measure.unit, dates, told)


# decisions


def stage_of(care: Care, episode_id: str) -> Stage | None:
    """What the clinician decided last that this ankle is ready for; None until something was decided."""
    last = decisions.last_of(care.record, [episode_id]).get(episode_id)
    return last.stage if last else None


def decisions_of(care: Care, episode_id: str) -> list[StageDecision]:
    """All decisions on an episode's stages, oldest first."""
    return decisions.decisions_of(care.record, episode_id)


def coming_stage(care: Care, episode_id: str) -> Stage:
    """The stage whose criteria are of interest now: the one after the last decided, or the last."""
    return next_stage(stage_of(care, episode_id)) or list(Stage)[-1]


def reached_last(care: Care, episode_id: str) -> StageDecision | None:
    """The last decision, where it was on the last of the stages: nothing is wanted any more."""
    last = decisions.last_of(care.record, [episode_id]).get(episode_id)
    return last if last is not None and next_stage(last.stage) is None else None


def decide(care: Care, held: Standing, stage: Stage, reason: str) -> StageDecision:
    """Keep the clinician's decision that an ankle is ready for a stage, with its reason and the criteria as they
    stood.

    It is theirs whatever the criteria say. Raises CareFault without a reason, or in a closed episode.
    """
    reason = " ".join(reason.split())
    if held.episode.closed is not None:
        raise CareFault("this episode is closed: open it again to decide on a stage")
    if not reason or len(reason) > REASON_MOST:
        raise CareFault(f"type the reason for the decision, at most {REASON_MOST} characters")
    stood = stage_standing(care, held, stage, dated=False)
    made = StageDecision(
        id="",
        person=held.person.id,
        episode=held.episode.id,
        stage=stage,
        decided=care.clock.now(),
        examiner=care.examiner,
        reason=reason,
        answers=tuple(answer_data(one) for one in stood.criteria),
    )
    with care.together():
        return decisions.DECISION.add(care.record, made, by=care.examiner)


def take_back(care: Care, decision: StageDecision) -> None:
    """Take a decision back; it stays in the file, marked."""
    with care.together():
        decisions.DECISION.take_back(care.record, None, decision, by=care.examiner)


def answer_data(one: CriterionStanding) -> dict[str, Any]:
    """One criterion as plain data, for the file and JSON."""
    answer, criterion = one.answer, one.criterion
    return {
        "id": criterion.id,
        "measure": criterion.measure,
        "verdict": answer.verdict.value,
        "value": answer.value,
        "line": answer.line,
        "margin": answer.margin,
        "chance": None if answer.chance is None else round(answer.chance, 4),
        "age_days": answer.age_days,
        "source": criterion.source or None,
        "mark": criterion.mark.value,
    }
