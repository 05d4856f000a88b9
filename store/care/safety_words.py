"""A safety screen in words and as plain data: findings with what they leave out, and where each comes from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from store.care.care import Care
from store.care.dates import day_text
from store.care.in_words import many, visible
from store.care.safety_state import AS_A_GROUP, NO_CHANGE, NOT_SCREENED, STANDS, last_full
from store.care.statements import Section, Statement
from store.entry.numbers import plain
from store.knowledge.kinds import Figure
from store.knowledge.papers import SafetyScreen
from store.knowledge.safety import Question
from store.reckon.clot import score
from store.reckon.safety import Finding
from store.record import safety

SUPPORTS = "It supports, and does not replace, licensed judgement and local protocol."


# as data


def finding_data(care: Care, one: Finding, answers: Mapping[str, Any]) -> dict[str, Any]:
    """A finding as it is kept, with what its rule leaves out; of the clot score also which form was used."""
    rule = care.knowledge.safety.rules[one.rule]
    found: dict[str, Any] = {
        "rule": one.rule,
        "outcome": one.outcome.value,
        "reasons": list(one.reasons),
        "open": list(one.open),
        "misses": list(rule.misses),
    }
    return found | ({"score": _score(care, answers)} if one.rule == "clot" else {})


def _score(care: Care, answers: Mapping[str, Any]) -> dict[str, Any]:
    given = {key: word == "yes" if isinstance(word, str) else float(word) for key, word in answers.items()}
    scored = score(care.knowledge.safety.form, given)
    least, most = scored.final()
    return {
        "form": scored.form.id,
        "name": scored.form.name,
        "without_other": [scored.low, scored.high],
        "band_without_other": scored.band_without,
        "other_at_least_as_likely": scored.other,
        "with_judgement": [least, most],
        "band": scored.band,
    }


def rules_data(care: Care) -> dict[str, Any]:
    """The rules of the screen as they stand: lines, forms, and the mark of each rule."""
    screen = care.knowledge.safety
    return {
        "safety": {
            "clot_form": screen.clot_form,
            "lines": {key: _figure(line) for key, line in screen.lines.items()},
            "forms": {
                key: {**form._asdict(), "bands": [list(each) for each in form.bands], "mark": form.mark.value}
                for key, form in screen.forms.items()
            },
            "rules": {key: {"mark": rule.mark.value, "source": rule.source} for key, rule in screen.rules.items()},
        }
    }


def _figure(figure: Figure) -> dict[str, Any]:
    return {"value": figure.value, "mark": figure.mark.value, "source": figure.source}


def safety_data(care: Care, episode_id: str) -> dict[str, Any]:
    """What `show --json` tells of the safety screens of an episode: the last full one, the last as a group."""
    screens = safety.screens_of(care.record, episode_id)
    last = last_full(screens)
    group = next((one for one in reversed(screens) if one.kind == AS_A_GROUP), None)
    return {
        "screened": last is not None,
        "last": screen_data(last) if last else None,
        "asked_as_a_group": screen_data(group) if group else None,
        "stands": [one.id for one in screens if one.outcome in STANDS and one.settled is None],
    }


def screen_data(one: SafetyScreen) -> dict[str, Any]:
    """A screen as data. `answers` holds what was answered only."""
    return {
        "id": one.id,
        "kind": one.kind,
        "asked_at": one.asked.text,
        "asked_on": one.asked.on.isoformat(),
        "examiner": one.examiner or None,
        "outcome": one.outcome,
        "answers": one.answers,
        "shown": list(one.shown),
        "findings": list(one.findings),
        "rules": one.rules,
        "settled_at": one.settled.text if one.settled else None,
        "settled_because": one.settled_because or None,
    }


# in words


def question_words(care: Care) -> dict[str, str]:
    """What is asked, by the name of each answer; with the side where there is one."""
    return {
        key: f"{question.asks}, {side}" if side else question.asks
        for question in care.knowledge.safety.questions
        for key in question.keys
        if (side := key.partition(".")[2]) or not question.sided
    }


def answer_words(question: Question, word: str | float | None) -> str:
    """An answer as it is shown."""
    if word is None:
        return "not asked"
    if isinstance(word, str):
        return word
    return many(1, "day") if (word, question.unit) == (1, "days") else f"{plain(float(word))} {question.unit}"


def open_words(care: Care, names: tuple[str, ...] | list[str], most: int = 3) -> str:
    """What a rule still hangs on, the first few in full."""
    known = question_words(care)
    told = [known.get(name, name) for name in names[:most]]
    more = len(names) - len(told)
    return "not asked: " + "; ".join(told) + (f"; and {more} more" if more > 0 else "")


def screen_words(one: SafetyScreen) -> str:
    """A screen in a few words: outcome, and whether it was settled."""
    if one.kind == AS_A_GROUP:
        return NO_CHANGE
    if one.settled is not None:
        return f"{one.outcome}, settled {day_text(one.settled.on)}: {visible(one.settled_because)}"
    return f"{one.outcome}, stands until it is settled" if one.outcome in STANDS else one.outcome


def safety_lines(care: Care, episode_id: str) -> list[str]:
    """What `show` tells: the last full screen with the reasons that weigh, and the last asking as a group."""
    screens = safety.screens_of(care.record, episode_id)
    last = last_full(screens)
    if last is None:
        lines = [f"safety: {NOT_SCREENED}"]
    else:
        lines = [f"safety screen of {day_text(last.asked.on)}{_by(last)}: {screen_words(last)}"]
        lines += [f"  {line}" for line in why(care, last)]
    earlier = [one for one in screens if one.kind != AS_A_GROUP and one is not last]
    lines += [
        f"safety screen of {day_text(one.asked.on)}: {screen_words(one)}"
        for one in earlier
        if one.outcome in STANDS and one.settled is None
    ]
    group = next((one for one in reversed(screens) if one.kind == AS_A_GROUP), None)
    lines += [f"safety {NO_CHANGE}, {day_text(group.asked.on)}{_by(group)}"] if group is not None else []
    return lines


def why(care: Care, one: SafetyScreen) -> list[str]:
    """The findings that weigh with their reasons, and the names of those that are unknown."""
    lines = [
        f"{_name(care, found['rule'])}: {found['outcome']}; {'; '.join(found['reasons'])}"
        for found in one.findings
        if found["outcome"] in STANDS
    ]
    unknown = [_name(care, found["rule"]) for found in one.findings if found["outcome"] == "unknown"]
    return [*lines, f"unknown, not all was asked: {'; '.join(unknown)}"] if unknown else lines


def finding_names(care: Care, one: SafetyScreen) -> list[str]:
    """The names of the rules for which it refers."""
    return [_name(care, found["rule"]) for found in one.findings if found["outcome"] in STANDS]


def _by(one: SafetyScreen) -> str:
    return f", by {visible(one.examiner)}" if one.examiner else ""


def _name(care: Care, rule: str) -> str:
    known = care.knowledge.safety.rules.get(rule)
    return known.name if known else rule


# where from


def source_page(care: Care, rule_id: str) -> tuple[Section, ...]:
    """Where a rule comes from: what it leaves out, its figures, and the lines and forms that it uses."""
    screen = care.knowledge.safety
    rule = screen.rules[rule_id]
    says = [Statement("rule", rule.name, _known(care, rule.mark.value, rule.source))]
    says += [Statement("does not cover", line) for line in rule.misses]
    says += [Statement("", SUPPORTS)]
    figures = [
        Statement("figure", f"{line.says}: {plain(line.figure.value)}", _of(care, line.figure))
        for line in rule.figures
    ]
    figures += [
        Statement("line", f"{line.says}: {plain(line.value)}", _of(care, line))
        for key, line in screen.lines.items()
        if key in _LINES_OF.get(rule_id, ())
    ]
    sections = [Section("The rule", tuple(says))]
    sections += [Section("Its figures", tuple(figures))] if figures else []
    return (*sections, *((_forms(care),) if rule_id == "clot" else ()))


def rule_of(group: str) -> str:
    """The rule that a group of questions is for."""
    return {"fracture": "ankle", "limits": "ankle"}.get(group, group)


_LINES_OF = {
    "ankle": ("zone_cm", "valid_days", "adult_years", "child_years"),
    "syndesmosis": ("high_days", "high_days_per_cm", "high_days_within"),
    "nerve": ("refill_s",),
    "behind": ("talus_weeks",),
    "same_day": ("no_weight_days",),
}


def _forms(care: Care) -> Section:
    screen = care.knowledge.safety
    found = []
    for form in screen.forms.values():
        chosen = "used here, set by this clinic" if screen.clot_form_set else "used here"
        used = chosen if form.id == screen.clot_form else "not used"
        bands = ", ".join(f"{word} from {least:g}" for word, least in form.bands[:-1])
        says = (
            f"{form.name}: {bands}, else {form.bands[-1][0]}; surgery within {form.surgery_weeks:g} weeks, "
            f"in bed {form.bed} {form.bed_days:g} days, calf {form.calf} {form.calf_cm:g} cm larger"
        )
        found.append(Statement(used, says, _known(care, form.mark.value, form.source)))
    return Section("The forms of the score", tuple(found))


def _of(care: Care, figure: Figure) -> str:
    return _known(care, figure.mark.value, figure.source)


def _known(care: Care, mark: str, source: str) -> str:
    named = care.knowledge.sources.get(source)
    return f"{mark}: {named.text}" if named else mark
