"""One measure taken trial by trial in a visit: a side is kept as soon as it is whole, and so is each change."""

from __future__ import annotations

from store.care import measuring, visits
from store.care.care import Care
from store.care.faults import CareFault
from store.care.measuring import Subject
from store.care.trials import Doubt, SideTrials, Trials, back, enter, exchange, more, swap, unable
from store.entry.numbers import spelled
from store.knowledge.kinds import Measure
from store.knowledge.words import Moment, Reading, Side, Status

__all__ = ["Doubt", "SideTrials", "TrialPass", "start"]


class TrialPass:
    """The trials of one pass, and the readings that stand for them in the record.

    A side is kept when it has all it wants; once it is kept, each change of it is kept too, in place of what stood
    before. When keeping fails the trials stay here, and the next act tries again.
    """

    def __init__(self, care: Care, subject: Subject, trials: Trials, kept: list[Reading]) -> None:
        self.care = care
        self.subject = subject
        self.trials = trials
        self._kept: dict[Side | None, Reading] = {reading.side: reading for reading in kept}
        self._went_on = {reading.id for reading in kept}
        self._sure = False
        self._leaving = False

    # what is shown

    @property
    def measure(self) -> Measure:
        """What is measured."""
        return self.trials.measure

    @property
    def asks_swap(self) -> bool:
        """Whether all is in, or all that will be, and the sides were perhaps taken the wrong way round: ask before
        going on."""
        ends = self.trials.done or self._leaving
        return ends and not self._sure and measuring.swapped_trials(self.subject, self.trials)

    @property
    def done(self) -> bool:
        """Whether nothing more is wanted, and nothing is left to be asked or kept."""
        return self.trials.done and not self.asks_swap and not self._unkept(every=True)

    def hides(self, side: SideTrials) -> bool:
        """Whether the values of a side are not to be shown: before values of an earlier turn, while blind."""
        blind = visits.awaits(self.care, self.subject.visit, self.measure.id)
        return side.earlier and blind and self.trials.moment is not Moment.AFTER

    def words(self, side: SideTrials) -> list[str]:
        """The trials of a side as they are shown: each as typed, or that they are hidden, or that it is unable."""
        if self.hides(side):
            return [f"{len(side.values)} in, hidden" if side.values else "in, hidden"]
        return ["unable"] if side.unable else [spelled(value, self.measure) for value in side.values]

    def says(self) -> str:
        """What this pass has kept so far, in words; empty when nothing was."""
        new = [reading for reading in self._kept.values() if reading.id not in self._went_on]
        if not new:
            return ""
        new.sort(key=lambda reading: reading.side is Side.RIGHT)
        words = measuring.saved_words(self.care, self.subject, new, self.measure)
        fewer = [self._fewer(self.trials.of(reading.side)) for reading in new]
        return "; ".join([words, *filter(None, fewer)])

    def _fewer(self, side: SideTrials) -> str:
        if side.unable or len(side.values) >= side.wanted:
            return ""
        whose = f"{side.side} " if side.side else ""
        return f"{whose}with {len(side.values)} of {side.wanted} trials"

    # what is done

    def enter(self, text: str, *, sure: bool = False) -> None:
        """One value, or several. Raises EntryError, CareFault, RecordFault, or Doubt on what is unusual and not
        told to be `sure`.
        """
        self._become(enter(self.trials, text, sure=sure))

    def unable(self) -> None:
        """The side in hand could not do it."""
        self._become(unable(self.trials))

    def more(self) -> None:
        """One more trial for the side in hand."""
        self._become(more(self.trials))

    def swap(self) -> None:
        """Test the other side now; where the sides were perhaps swapped, exchange what was taken."""
        if self.asks_swap:
            self._sure = True
            self._become(exchange(self.trials))
        else:
            self._become(swap(self.trials))

    def back(self) -> None:
        """Take the last trial back."""
        self._sure = False
        self._become(back(self.trials))

    def sure(self) -> None:
        """The sides are as they were taken."""
        self._sure = True

    def wants_to_leave(self) -> bool:
        """Nothing more will come: whether the sides are to be asked about before what is there is kept."""
        self._leaving = True
        return self.asks_swap

    def leave(self) -> None:
        """Keep what is there as fewer trials. Raises RecordFault or CareFault when it cannot be kept."""
        self._keep(every=True)

    def _become(self, changed: Trials) -> None:
        self._leaving = False
        self.trials = changed
        self._keep(every=False)

    def _unkept(self, *, every: bool) -> list[SideTrials]:
        """Sides of which the record lacks what is here; without `every`, only those that are kept as they go."""
        return [
            side
            for side in self.trials.sides
            if (every or side.done or side.side in self._kept) and not self._is_kept(side)
        ]

    def _is_kept(self, side: SideTrials) -> bool:
        reading = self._kept.get(side.side)
        if reading is None:
            return not side.begun
        return reading.trials == side.values and (reading.status is Status.UNABLE) is side.unable

    def _keep(self, *, every: bool) -> None:
        for side in self._unkept(every=every):
            instead = self._kept.get(side.side)
            saved = measuring.save_side(
                self.care, self.subject, self.trials, side.side, [instead] if instead is not None else []
            )
            self._kept.pop(side.side, None)
            self._kept.update({reading.side: reading for reading in saved.readings})


def start(care: Care, visit_id: str, measure_id: str, moment: Moment | None = None) -> TrialPass:
    """Begin a measure, or go on with it; without a moment it takes the plan's. Raises CareFault."""
    visit = care.visit(visit_id)
    measure = care.knowledge.measures.get(measure_id)
    if measure is None:
        raise CareFault(f"this copy does not know the measure {measure_id}: choose another one (m)")
    if measure.made_of:
        raise CareFault(f"{measure.name} is worked out: take {', '.join(measure.made_of)}")
    subject = measuring.subject_of(care, visit)
    chosen = moment or measuring.planned_moment(care, visit, measure)
    return TrialPass(care, subject, *measuring.start_trials(care, subject, measure, chosen))
