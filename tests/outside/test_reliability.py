"""Reliability of measuring and of grading against published examples and certified values."""

from __future__ import annotations

import math
from importlib.util import find_spec
from pathlib import Path

import pytest

from store.reckon.reliability import Form, icc, kappa, mean_squares, summary
from tests.outside.published import (
    COHEN,
    FLEISS,
    GRADED_IN_THREE,
    HOPKINS,
    PEAK_FLOW,
    SHROUT_FLEISS,
    WEIR_A,
    WEIR_A_SEM,
)


def test_the_mean_squares_of_shrout_and_fleiss() -> None:
    # Worked from their table with pingouin 0.7.0 and by hand: 11.2417, 6.2639, 32.4861, 1.01944.
    found = mean_squares(SHROUT_FLEISS)
    assert found[:4] == pytest.approx(
        (11.2416666666667, 6.26388888888889, 32.4861111111111, 1.01944444444444), rel=1e-12
    )
    assert (found.n, found.k) == (6, 4)


@pytest.mark.parametrize(
    ("form", "printed", "value", "low", "high"),
    [
        (Form.ICC_1_1, 0.17, 0.165741768405, -0.132932324875, 0.722560062328),
        (Form.ICC_2_1, 0.29, 0.289763779528, 0.0187865133747, 0.761084369649),
        (Form.ICC_3_1, 0.71, 0.714840714841, 0.342464765034, 0.945858259955),
        (Form.ICC_1_K, 0.44, 0.442797133679, -0.884442155238, 0.912415420341),
        (Form.ICC_2_K, 0.62, 0.620050547599, 0.0711368153025, 0.927232040168),
        (Form.ICC_3_K, 0.91, 0.909315542377, 0.675674713816, 0.985891678169),
    ],
)
def test_the_six_forms_of_shrout_and_fleiss(
    form: Form, printed: float, value: float, low: float, high: float
) -> None:
    # Shrout and Fleiss 1979: .17 .29 .71 .44 .62 .91 (recalled of the article; read in printed output of the R
    # package psych, with the limits to two or three digits). The longer figures: pingouin 0.7.0.
    found = icc(SHROUT_FLEISS, form)
    assert found.value == pytest.approx(printed, abs=0.005)
    assert found.value == pytest.approx(value, abs=1e-9)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-6)


@pytest.mark.parametrize(
    ("form", "low", "high"),
    [(Form.ICC_1_1, -0.133, 0.72), (Form.ICC_2_1, 0.019, 0.76), (Form.ICC_3_K, 0.676, 0.99)],
)
def test_limits_as_another_program_prints_them(form: Form, low: float, high: float) -> None:
    # Printed output of the R package psych on the same table, read.
    found = icc(SHROUT_FLEISS, form)
    assert found.low == pytest.approx(low, abs=0.0005)
    assert found.high == pytest.approx(high, abs=0.005)


@pytest.mark.parametrize(
    ("form", "value", "low", "high"),
    [
        (Form.ICC_1_1, 0.950053099695, 0.792129944305, 0.989598644418),
        (Form.ICC_2_1, 0.949975070633, 0.786958514439, 0.98963689144),
        (Form.ICC_3_1, 0.947016137049, 0.760678494208, 0.989162807231),
        (Form.ICC_1_K, 0.974386902432, 0.884009495877, 0.994772133761),
        (Form.ICC_2_K, 0.974345862098, 0.880779836891, 0.994791457374),
        (Form.ICC_3_K, 0.972787147501, 0.864074272175, 0.994551882466),
    ],
)
def test_a_judge_variance_below_nought_is_not_clamped(form: Form, value: float, low: float, high: float) -> None:
    # Weir 2005, data set A: the trials differ less (30.25) than error would have it (57.11). Worked with pingouin.
    found = icc(WEIR_A, form)
    assert mean_squares(WEIR_A).repeats < mean_squares(WEIR_A).error
    assert found.value == pytest.approx(value, abs=1e-9)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-6)


def test_the_sem_is_the_root_of_the_error_mean_square() -> None:
    # Weir 2005, page 236, as quoted elsewhere: SEM 7.6, SEE 7.1, SEP 10.2. The other readings of SEM on the same
    # data are 7.331 (one-way) and 7.308 or 7.101 (SD x root(1 - ICC)): not the one we tell.
    found, squares = summary(WEIR_A), mean_squares(WEIR_A)
    assert found.sem == pytest.approx(WEIR_A_SEM, abs=0.05)
    assert found.sem == pytest.approx(7.55692681301, abs=1e-9)
    assert found.mdc == pytest.approx(20.9467, abs=1e-4)
    assert math.sqrt(squares.within) == pytest.approx(7.33143914931, abs=1e-9)
    sd, of_three = 31.7487532564, icc(WEIR_A, Form.ICC_3_1).value
    assert of_three is not None
    assert sd * math.sqrt(of_three * (1 - of_three)) == pytest.approx(7.1, abs=0.05)
    assert sd * math.sqrt(1 - of_three**2) == pytest.approx(10.2, abs=0.05)


def test_the_typical_error_of_hopkins() -> None:
    # Hopkins 2000, as quoted in an open course text: SD of the change 4.1, typical error 2.9. The CV is worked
    # from the five pairs.
    found = summary(HOPKINS)
    changes = [later - earlier for earlier, later in HOPKINS]
    sd = math.sqrt(sum((change - found.bias) ** 2 for change in changes) / (len(changes) - 1))
    assert sd == pytest.approx(4.1, abs=0.05)
    assert found.bias == pytest.approx(1.2)
    assert found.typical_error == pytest.approx(2.9, abs=0.05)
    assert found.typical_error == pytest.approx(sd / math.sqrt(2), rel=1e-12) == found.sem
    assert found.cv == pytest.approx(4.18787920967, abs=1e-8)
    assert found.mdc == pytest.approx(1.96 * sd, rel=1e-12), "and so 1.96 SD of the change"


def test_the_limits_of_agreement_of_bland_and_altman() -> None:
    # Bland and Altman 1986: first readings, meter A less meter B. Mean -2.1, SD 38.8, limits -79.7 and 75.5, which
    # are 2 SD (recalled; the article rounds before it multiplies). Ours are 1.96 SD: -78.10 and 73.86. The SD to
    # more digits is worked from the same readings.
    found = summary([(b, a) for a, _, b, _ in PEAK_FLOW])
    assert found.bias == pytest.approx(-2.11764705882, abs=1e-9)
    assert found.limits == pytest.approx((-78.10, 73.86), abs=0.005)
    sd = (found.limits.high - found.bias) / 1.96
    assert sd == pytest.approx(38.8, abs=0.05)
    assert sd == pytest.approx(38.7651298736, abs=1e-9)
    assert (found.bias - 2 * sd, found.bias + 2 * sd) == pytest.approx((-79.7, 75.5), abs=0.2)


def test_the_repeatability_of_the_two_meters() -> None:
    # The same data: the SD within a person, root(sum d^2 / 2n), is 15.3 on meter A and 19.9 on meter B. That is
    # the one-way reading, which has a shift between the two in it.
    of_a, of_b = (mean_squares([row[at : at + 2] for row in PEAK_FLOW]) for at in (0, 2))
    assert math.sqrt(of_a.within) == pytest.approx(15.3066690579, abs=1e-9)
    assert math.sqrt(of_b.within) == pytest.approx(19.9108306324, abs=1e-9)


@pytest.mark.parametrize("name", ["SiRstv", "AtmWtAg", "SmLs01", "SmLs04", "SmLs07"])
def test_certified_mean_squares(name: str) -> None:
    # NIST StRD, analysis of variance, as scipy ships it in its own tests. SmLs07 has thirteen leading digits that
    # are all alike, which floats lose. A treatment here is a target.
    lines = _nist(name)
    certified = {
        line.split()[0]: float(line.split()[4]) for line in lines[40:47] if " Instr" in line or " Treat" in line
    }
    rows: dict[str, list[float]] = {}
    for line in lines[60:]:
        if line.split():
            target, value = line.split()
            rows.setdefault(target, []).append(float(value))
    found = mean_squares(list(rows.values()))
    assert found.between == pytest.approx(certified["Between"], rel=1e-13)
    assert found.within == pytest.approx(certified["Within"], rel=1e-13)


def _nist(name: str) -> list[str]:
    scipy = find_spec("scipy")
    assert scipy is not None
    assert scipy.submodule_search_locations
    folder = Path(scipy.submodule_search_locations[0]) / "stats/tests/data/nist_anova"
    return (folder / f"{name}.dat").read_text("ascii").splitlines()


def test_kappa_as_printed_by_another_program() -> None:
    # The example of SAS's FREQ procedure: kappa .4842, error .1380; by steps .4701 and .1457; agreement 68.42 %.
    plain, linear = kappa(GRADED_IN_THREE), kappa(GRADED_IN_THREE, "linear")
    assert (plain.value, plain.standard_error) == pytest.approx((0.4842, 0.1380), abs=5e-5)
    assert (linear.value, linear.standard_error) == pytest.approx((0.4701, 0.1457), abs=5e-5)
    assert plain.agreement == linear.agreement == pytest.approx(0.6842, abs=5e-5)


def test_kappa_of_books() -> None:
    # Cohen .492; Fleiss .68 with 89 % agreement; 70 % and .4 of a table of four, which is printed in many places:
    # all recalled, tables and results; the arithmetic bears them out.
    assert kappa(COHEN).value == pytest.approx(0.492, abs=5e-4)
    assert kappa(COHEN).agreement == pytest.approx(0.70)
    assert kappa(FLEISS).value == pytest.approx(0.68, abs=0.005)
    assert kappa(FLEISS).agreement == pytest.approx(0.89)
    assert kappa(((20, 5), (10, 15)))[::2] == pytest.approx((0.4, 0.7))
