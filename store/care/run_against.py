"""What stands against running that is planned, as long as it does: a referral, jogging not decided, a plan that
begins before the ankle may be ready."""

from __future__ import annotations

from store.care.care import Care
from store.care.dates import short_day
from store.care.run_ready import bound_words, ready_ahead
from store.care.running import RunStanding, day_of, jog_decided
from store.care.safety_state import warnings
from store.care.standing import Standing

NOT_DECIDED = "the stage jog is not decided: look at the criteria (c), decide it there (k)"


def stands_against(care: Care, held: RunStanding, stands_as: Standing) -> tuple[str, ...]:
    """A sentence for each; none without a plan, or in a closed episode.

    Before something is planned all of it is asked (`run_acts.against`); this is what is still true afterwards.
    """
    if held.plan is None or held.episode.closed is not None:
        return ()
    refers = tuple(one.text for one in warnings(care, held.episode.id))
    if jog_decided(care, held.episode.id):
        return refers
    soon = _too_soon(care, held, stands_as)
    return (*refers, NOT_DECIDED, *([soon] if soon else []))


def _too_soon(care: Care, held: RunStanding, stands_as: Standing) -> str:
    """That the next session is planned for a day on which the ankle will hardly be ready; empty otherwise."""
    if held.next is None:
        return ""
    ready = ready_ahead(care, stands_as)
    day = day_of(held.next)
    if not ready.is_before(day):
        return ""
    return f"planned from {short_day(day)} on, and ready to jog {bound_words(ready)}"
