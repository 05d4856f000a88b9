"""One invented visit, walked from the first word to its end by the acts of care."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from store.care import appointments, ending, home, measuring, noting, resprain, run_acts, safety, stages, visits
from store.care.home_days import tell_days
from store.care.home_items import changed, new_item
from store.care.standing import standing, start_of
from store.care.timing import LiveBout, begin
from store.care.undoing import undo
from store.demo import bouts
from store.demo.body import Body
from store.demo.clinic import Clinic
from store.entry.numbers import plain
from store.knowledge.criteria import Stage
from store.knowledge.kinds import Measure
from store.knowledge.words import Episode, Side

_MINUTES = {"lunge": 4, "girth": 3, "reach_ant": 4, "stance_open": 4}
"""How long a measure takes, both sides; the others two minutes."""

FIRST_TALK = 12
"""Minutes of a first visit for how it happened, and for what must be ruled out."""

FORESEEN = ("lunge",)
"""What is foreseen at the end of a visit where a story wants that; the rest would make the build slow."""

USUAL = {"refill": 1.5}
"""What a figure of the safety screen is in somebody who is well."""

ALL_STEPS = ("lunge", "mobilisation", "lunge_retest", "hold", "shifts")


class Session:
    """A visit in hand.

    `plan` are the steps of the standard plan that are meant to be walked, and the others are left out from the
    start; with None they stand, and what was not done by the end was not done.
    """

    def __init__(self, clinic: Clinic, episode: Episode, body: Body, plan: Iterable[str] | None = None) -> None:
        self.clinic, self.care = clinic, clinic.care
        self.body = body
        self.person = self.care.person(episode.person)
        self.episode = episode.id
        body.wake((self.care.clock.now().on - start_of(episode)).days)
        self.visit = visits.start_visit(self.care, episode)
        meant = ALL_STEPS if plan is None else tuple(plan)
        there = [step.id for step in self.visit.plan]
        for step in (step for step in ALL_STEPS if step in there and step not in meant):
            self.visit = visits.drop_step(self.care, self.visit, step)

    def says(self, line: str) -> None:
        """What the person says, and that they agree to today's visit; in a later visit what must be referred is
        then asked as a group, and no change is told.
        """
        self.clinic.pass_minutes(1)
        self.visit = visits.said(self.care, self.visit, f"{line} consent y")
        self.clinic.pass_minutes(2 if "morning" in line else FIRST_TALK)
        if "morning" in line:  # there was a visit before
            safety.reask(self.care, self.visit)

    # what must be ruled out

    def screens(self, *there: str, other: str = "", **numbers: float) -> None:
        """Put every question of the safety screen: a no to each, but for what is `there` and the `numbers`.

        The zone of the malleoli hurts, as it does in any sprain. `other` is the episode of the other ankle.
        """
        yes = {"malleolar_pain", *there}
        draft = safety.begin(self.care, other or self.episode)
        answered = -1
        while answered < len(draft.answers):  # a yes may put more questions
            answered = len(draft.answers)
            for question in safety.put(self.care, draft):
                for key in question.keys:
                    if key not in draft.answers:
                        word = safety.YES if question.id in yes else safety.NO
                        draft = safety.answer(draft, key, (USUAL | numbers).get(question.id, word))
        safety.keep(self.care, draft)
        self.clinic.pass_minutes(1)

    def settles(self, reason: str) -> None:
        """Settle the referral that stands."""
        safety.settle(self.care, self.episode, reason)

    # at home

    def hands_out(self, *activities: str, more: str = "", anew: bool = False) -> None:
        """Hand out last time's programme with these things more; of `more` a set more than before. `anew` leaves
        last time's out.
        """
        held = home.home_standing(self.care, self.episode)
        known = self.care.knowledge.activities
        last = () if anew else home.carried_over(self.care, held)
        items = [changed(item, "sets", 1) if item.activity == more else item for item in last]
        items += [new_item(self.care, known[each], held.episode) for each in activities]
        home.issue(self.care, held, items, home.review_day(self.care, held), self.visit)
        self.clinic.pass_minutes(1)

    def tells_days(self, done: str) -> None:
        """Tell of the days just past, the last one last: how much was done on each, such as "3302", at most all
        that the programme of then had.
        """
        held = home.home_standing(self.care, self.episode)
        told = []
        for back, count in zip(range(len(done), 0, -1), done, strict=True):
            day = held.on - timedelta(days=back)
            then = next((one for one in reversed(held.handed) if one.since <= day), None)
            if then is not None:
                told.append(f"{day} {min(int(count), len(then.items))}")
        tell_days(self.care, held, ", ".join(told), self.visit)

    def tells_of_sprain(self, days_ago: int, how: str) -> None:
        """Tell that it was sprained again some days ago."""
        day = self.care.clock.now().on - timedelta(days=days_ago)
        resprain.log(self.care, self.episode, f"{day} {how}")

    def plans_running(self, line: str) -> None:
        """Plan when it is run from now on."""
        run_acts.plan(self.care, self.episode, line)
        self.clinic.pass_minutes(1)

    def measure(self, name: str, lift: float = 0.0, more: str = "") -> None:
        """Measure both sides and type the line; `lift` is what treatment has added to the injured side."""
        measure = self.care.knowledge.measures[name]
        self.clinic.pass_minutes(_MINUTES.get(name, 2))
        sides = [f"{side} {self._typed(measure, side, lift)}" for side in Side]
        self.types(" ".join([name, *sides, more]).strip())

    def types(self, line: str) -> None:
        """Type a line of measures."""
        subject = measuring.Subject(self.person, self.visit)
        measuring.keep(self.care, subject, measuring.read_line(self.care, subject, line))

    def takes_back(self) -> None:
        """Take back what was saved last."""
        undo(self.care, self.visit)
        self.clinic.pass_minutes(0.2)

    def _typed(self, measure: Measure, side: Side, lift: float) -> str:
        trials = self.body.trials(measure, side, lift if side is self.body.injured else 0.0)
        return " ".join(plain(trial) for trial in trials) or "unable"

    def mobilise(self, pains: Iterable[int], reps: int = 10, activity: str = "mobilisation_belt") -> None:
        """Mobilise, a set for each pain that is told after it."""
        pains = tuple(pains)
        bouts.paced(self._begin(activity, bouts.Overrides(sets=len(pains), reps=reps)), self.clinic.clock, pains)

    def hold(
        self,
        *faults: int,
        controls: Iterable[int] = (),
        activity: str = "hold_firm",
        hold_s: float = 30,
        slip: bool = False,
    ) -> None:
        """Hold on each leg: the faults of each hold, the uninjured leg's first, and the control graded.

        With a `slip` the pedal is pressed once too often in the first hold, and that is undone.
        """
        asked = bouts.Overrides(sets=len(faults) // 2, hold_s=hold_s)
        bouts.holds(self._begin(activity, asked), self.clinic.clock, faults, tuple(controls), slip=slip)

    def shift(self, *lost: int, reps: int = 12) -> None:
        """Shift weight on the injured leg; `lost` are the shifts, counted from 1, that got out of control."""
        asked = bouts.Overrides(duration_s=reps * 5)
        bouts.shifts(self._begin("direction_shifts", asked), self.clinic.clock, lost)

    def work(self, activity: str, *pains: int, faults: Iterable[int] = (), **asked: Any) -> None:  # noqa: ANN401 - a dose
        """Sets that the clock ends, one for each pain that is told after it; `asked` changes the usual dose."""
        live = self._begin(activity, bouts.Overrides(sets=len(pains), **asked))
        bouts.by_the_clock(live, self.clinic.clock, pains, tuple(faults))

    def reach(self, reps: int = 3) -> None:
        """Reach in three directions on each leg, one set."""
        bouts.reaches(self._begin("reaches", bouts.Overrides(sets=1, reps=reps)), self.clinic.clock)

    def test_stance(self, name: str = "stance_open") -> None:
        """Test single-leg stance by the clock: what comes of it is a reading."""
        measure = self.care.knowledge.measures[name]
        live = self._begin(measure.bout)
        seconds = [s for side in live.plan.sides if side for s in self.body.trials(measure, side)]
        bouts.to_loss(live, self.clinic.clock, seconds)

    def test_raises(self) -> None:
        """Count heel raises to the last full one: what comes of it is a reading."""
        measure = self.care.knowledge.measures["heel_raise"]
        live = self._begin(measure.bout)
        counts = [int(n) for side in live.plan.sides if side for n in self.body.trials(measure, side)]
        bouts.counted(live, self.clinic.clock, counts)

    def _begin(self, activity: str, asked: bouts.Overrides | None = None) -> LiveBout:
        self.clinic.pass_minutes(1)
        return begin(self.care, self.care.knowledge.activities[activity], self.visit, overrides=asked)

    def corrects(self, line: str) -> None:
        """Say a part again that was heard wrongly: what stood before is kept as an amendment."""
        self.visit = visits.said(self.care, self.visit, line)
        self.clinic.pass_minutes(0.5)

    def leaves_out(self, step: str) -> None:
        """Leave a step of the plan out, once the visit is under way."""
        self.visit = visits.drop_step(self.care, self.visit, step)

    def decide(self, stage: Stage, reason: str) -> None:
        """Decide what the ankle is ready for, on all that was measured up to now."""
        self.clinic.pass_minutes(1)
        stages.decide(self.care, standing(self.care, self.episode), stage, reason)

    def comes_again(self, when: str) -> None:
        """Plan the next visit."""
        appointments.plan(self.care, self.person, when, self.episode)

    def end(self, *, foresee: bool = False, again: str = "", sign: bool = False) -> None:
        """Talk it all over, plan the next visit (`again`) where it is not planned yet, and end this one.

        With `foresee` what is expected of the main measure is kept with it; with `sign` its note is signed.
        """
        self.clinic.pass_minutes(4)
        if again:
            self.comes_again(again)
        self.visit = ending.end_visit(self.care, self.visit, FORESEEN if foresee else ())
        if sign:
            noting.sign(self.care, self.visit.id)
