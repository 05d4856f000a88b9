"""What the safety screen shows beside its questions: the outcome, its reasons, what the rules leave out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from store.care.care import Care
from store.care.dates import day_text
from store.care.safety import Draft, Finding, Outcome, outcome_of, put
from store.care.safety_state import refer_words
from store.care.safety_words import SUPPORTS, answer_words, open_words, rule_of, screen_words
from store.care.statements import Section, Statement
from store.knowledge.papers import SafetyScreen
from store.knowledge.safety import Question
from tui.widgets.look import Role
from tui.widgets.question_list import QuestionRow

Asked = tuple[Question, str]
"""A question and the name of one of its answers."""


def asked_rows(care: Care, draft: Draft) -> list[Asked]:
    """All that is put, in order, left before right."""
    return [(question, key) for question in put(care, draft) for key in question.keys]


def question_row(asked: Asked, draft: Draft, typed: str = "") -> QuestionRow:
    """One question with its answer, or with the number that is being typed."""
    question, key = asked
    word = draft.answers.get(key)
    side = key.partition(".")[2]
    asks = f"{question.asks}, {side}" if side else question.asks
    told = " *" if key in draft.told else ""
    answer = f"{typed}_ {question.unit}" if typed else f"{answer_words(question, word)}{told}"
    sign = None if word is None else word == "yes"
    return QuestionRow(key, asks, answer, sign)


def outcome_look(outcome: Outcome) -> tuple[str, Role]:
    """The outcome in words as it is shown, and its colour."""
    if outcome is Outcome.NONE:
        return outcome.value, Role.GAIN
    return (outcome.value.upper(), Role.LOSS) if outcome.stands else (outcome.value, Role.INK)


LARGE = tuple(outcome_look(outcome)[0] for outcome in Outcome)
"""All that it can be: the letters keep one size whichever it is."""


def outcome_sections(
    care: Care, draft: Draft, found: Sequence[Finding], group: str, standing: Sequence[SafetyScreen]
) -> Iterable[Section]:
    """Why: what weighs first, then what is unknown, then what the rule of this group says and leaves out."""
    screen = care.knowledge.safety
    weighs = [one for one in found if one.outcome.stands]
    own = rule_of(group)
    if weighs:
        said = [
            Statement(screen.rules[one.rule].name, f"{one.outcome.value}: {'; '.join(one.reasons)}")
            for one in sorted(weighs, key=lambda one: list(Outcome).index(one.outcome))
        ]
        yield Section("Because", tuple(said))
    if whole(found) is Outcome.NONE:
        yield Section("Your decision", (Statement("", "Nothing that was asked stops you: what you do is yours."),))
    here = [one for one in found if one.rule in (own, *_WITH.get(own, ()))]
    said = [Statement(screen.rules[one.rule].name, _says(care, one)) for one in here if one not in weighs]
    said += [Statement("does not cover", " ".join(screen.rules[own].misses))]
    yield Section("This group", tuple(said))
    unknown = [screen.rules[one.rule].name for one in found if one.outcome is Outcome.UNKNOWN]
    if unknown:
        yield Section("Unknown, not negative", (Statement("", "; ".join(unknown)),))
    past = [Statement(day_text(one.asked.on), refer_words(one)) for one in standing]
    if draft.kept is not None:
        past.append(Statement("kept today", screen_words(draft.kept)))
    if past:
        yield Section("Kept", tuple(past))
    yield Section("", (Statement("", SUPPORTS),))


_WITH = {"ankle": ("foot", "beside")}


def _says(care: Care, one: Finding) -> str:
    said = [one.outcome.value, *one.reasons]
    return "; ".join([*said, open_words(care, one.open)] if one.open else said)


def whole(found: Sequence[Finding]) -> Outcome:
    """What the screen comes to."""
    return outcome_of(found)
