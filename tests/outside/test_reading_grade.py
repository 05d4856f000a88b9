"""The reading grade against examples that were published with the formula's figures.

Sources: the figures of the grade are those of Kincaid, Fishburne, Rogers and Chissom 1975 (Navy report 8-75), and
the sentences and values those of the encyclopedia article on the Flesch-Kincaid tests, both as recalled. The
values of the sentences are reading ease (206.835 - 1.015 x words a sentence - 84.6 x syllables a word, Flesch
1948), which hangs on the same two counts.
"""

from __future__ import annotations

import pytest

from store.reckon.reading_grade import grade_of, reading_of, syllables

EASE = [
    ("The cat sat on the mat.", 116),
    ("This sentence, taken as a reading passage unto itself, is being used to prove a point.", 69),
    ("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.", 37.5),
]


@pytest.mark.parametrize(("sentence", "ease"), EASE)
def test_the_counts_give_the_published_ease(sentence: str, ease: float) -> None:
    found = reading_of([sentence])
    counted = 206.835 - 1.015 * found.words / found.sentences - 84.6 * found.syllables / found.words
    assert counted == pytest.approx(ease, abs=0.5)


def test_the_platypus_has_its_published_counts() -> None:
    found = reading_of([EASE[2][0]])
    assert (found.words, found.syllables) == (13, 24)


@pytest.mark.parametrize(
    ("words", "heard", "grade"),
    [
        (1, 1, -3.40),  # the lowest that can be: every sentence one word of one syllable
        (5.7, 1.02, -1.3),  # a well-known picture book for children
    ],
)
def test_the_formula_gives_the_published_grades(words: float, heard: float, grade: float) -> None:
    assert grade_of(words, heard) == pytest.approx(grade, abs=0.05)


# Counted by hand, as a dictionary parts them.
HYPHENATED = (
    "an-kle bal-ance be-fore cir-cles clin-i-cian doc-tor e-mer-gen-cy eve-ning ex-er-cise ex-er-cis-es for-ward "
    "han-dled heav-i-er hos-pi-tal in-ju-ry kneel-ing li-on lit-tle ly-ing ma-te-ri-al me-di-al min-utes morn-ing "
    "need-ed o-ver pi-an-o ra-di-o re-ac-tion rest-ed rhy-thm safe-ly se-ri-ous slow-ly sta-tion stretched "
    "swell-ing "
    "ta-bles ten-don tow-el tri-al try-ing u-su-al-ly walked watch-es wob-ble clothes shoes toes numb raise hold"
)


@pytest.mark.parametrize("parted", HYPHENATED.split())
def test_a_word_has_the_syllables_it_is_parted_into(parted: str) -> None:
    assert syllables(parted.replace("-", "")) == parted.count("-") + 1


@pytest.mark.parametrize(
    ("number", "said"),
    [("0", "ze-ro"), ("3", "three"), ("11", "e-lev-en"), ("17", "sev-en-teen"), ("30", "thir-ty"),
     ("75", "sev-en-ty-five"), ("10", "ten"), ("112", "one-one-two")],
)  # fmt: skip
def test_a_number_counts_as_it_is_said(number: str, said: str) -> None:
    assert syllables(number) == said.count("-") + 1


def test_several_texts_are_a_sentence_each_at_least() -> None:
    assert reading_of(["stand on one leg", "Hold. Let go."]).sentences == 3
    assert reading_of(["", "  ", "..."]).grade == 0.0
