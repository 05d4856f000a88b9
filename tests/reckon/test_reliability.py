"""The error of whoever measures: what must hold of any table, and what is said where nothing can be worked out."""

from __future__ import annotations

import math
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.reckon.error import mdc_from_sem
from store.reckon.reliability import Form, Icc, Kappa, Table, Weights, icc, kappa, mean_squares, summary

EVERY = settings(deadline=None, max_examples=30)  # the first to ask for an interval imports a library
WEIGHTS: list[Weights] = ["none", "linear", "quadratic"]
ANKLES = ((10.1, 10.4, 10.0), (8.2, 8.0, 8.5), (12.9, 13.3, 13.0), (6.4, 6.1, 6.6))

Whole = list[list[int]]


def tenths(table: Whole) -> Table:
    return [[value / 10 for value in row] for row in table]


def whole_tables(lowest: int = -400, highest: int = 400) -> st.SearchStrategy[Whole]:
    def of_size(size: tuple[int, int]) -> st.SearchStrategy[Whole]:
        row = st.lists(st.integers(lowest, highest), min_size=size[1], max_size=size[1])
        return st.lists(row, min_size=size[0], max_size=size[0])

    return st.tuples(st.integers(2, 6), st.integers(2, 4)).flatmap(of_size)


def counts() -> st.SearchStrategy[Whole]:
    def of_size(size: int) -> st.SearchStrategy[Whole]:
        row = st.lists(st.integers(0, 20), min_size=size, max_size=size)
        return st.lists(row, min_size=size, max_size=size).filter(lambda table: any(map(any, table)))

    return st.integers(1, 5).flatmap(of_size)


@EVERY
@given(whole_tables(), st.integers(-1000, 1000))
def test_a_constant_on_all_values_changes_nothing_but_the_share_of_the_mean(table: Whole, more: int) -> None:
    shifted = tenths([[value + more for value in row] for row in table])
    assert summary(shifted)._replace(cv=None) == summary(tenths(table))._replace(cv=None)


@EVERY
@given(whole_tables(), st.sampled_from([-3, 2, 10, 254]))
def test_another_unit_scales_the_error_and_no_correlation(table: Whole, times: int) -> None:
    was, found = summary(tenths(table)), summary(tenths([[value * times for value in row] for row in table]))
    assert found.sem == pytest.approx(abs(times) * was.sem)
    assert found.mdc == pytest.approx(abs(times) * was.mdc)
    assert found.bias == pytest.approx(times * was.bias)
    assert found.icc == was.icc


@EVERY
@given(whole_tables(), st.data())
def test_the_order_of_targets_changes_nothing(table: Whole, data: st.DataObject) -> None:
    assert summary(tenths(data.draw(st.permutations(table)))) == summary(tenths(table))


@EVERY
@given(whole_tables())
def test_the_order_of_repeats_turns_the_bias_and_nothing_else(table: Whole) -> None:
    was, found = summary(tenths(table)), summary(tenths([[row[1], row[0], *row[2:]] for row in table]))
    assert found.bias == -was.bias
    assert found.limits == pytest.approx((-was.limits.high, -was.limits.low))
    assert found._replace(bias=0, limits=was.limits) == was._replace(bias=0)


@EVERY
@given(whole_tables())
def test_the_error_is_never_below_nought(table: Whole) -> None:
    found, squares = summary(tenths(table)), mean_squares(tenths(table))
    assert min(squares[:4]) >= 0
    assert found.sem == pytest.approx(math.sqrt(squares.error))
    assert found.mdc == mdc_from_sem(found.sem)
    assert found.limits.low <= found.bias <= found.limits.high
    assert (found.targets, found.repeats) == (len(table), len(table[0])) == (squares.n, squares.k)


@EVERY
@given(whole_tables())
def test_the_mean_squares_add_up(table: Whole) -> None:
    found = mean_squares(tenths(table))
    n, k = found.n, found.k
    values = [value for row in tenths(table) for value in row]
    middle = math.fsum(values) / (n * k)
    total = math.fsum((value - middle) ** 2 for value in values)
    assert (n - 1) * found.between + n * (k - 1) * found.within == pytest.approx(total, abs=1e-7)
    left_over = (k - 1) * found.repeats + (n - 1) * (k - 1) * found.error
    assert left_over == pytest.approx(n * (k - 1) * found.within, abs=1e-7)


@EVERY
@given(whole_tables(), st.sampled_from(Form))
def test_an_interval_holds_its_value(table: Whole, form: Form) -> None:
    found = icc(tenths(table), form)
    assert (found.low is None) == (found.high is None)
    if found.low is not None and found.high is not None:
        assert found.value is not None
        assert found.low <= found.value <= found.high <= 1


@EVERY
@given(whole_tables())
def test_the_mean_of_k_follows_from_one(table: Whole) -> None:
    # Spearman and Brown: k r / (1 + (k - 1) r).
    k = len(table[0])
    for one, mean in ((Form.ICC_1_1, Form.ICC_1_K), (Form.ICC_2_1, Form.ICC_2_K), (Form.ICC_3_1, Form.ICC_3_K)):
        single, averaged = icc(tenths(table), one).value, icc(tenths(table), mean).value
        if averaged is not None:
            assert single is not None
            assert averaged == pytest.approx(k * single / (1 + (k - 1) * single), rel=1e-6, abs=1e-9)


@EVERY
@given(st.floats(-1e6, 1e6), st.integers(2, 7), st.integers(2, 50), st.sampled_from(Form))
def test_where_nothing_varies_no_form_is_defined(value: float, n: int, k: int, form: Form) -> None:
    table = [[value] * k] * n
    assert icc(table, form) == Icc(form, None)
    found = summary(table)
    assert (found.sem, found.mdc, found.bias, found.limits) == (0, 0, 0, (0, 0))


@EVERY
@given(st.lists(st.lists(st.floats(-1e99, 1e99), min_size=2, max_size=2), min_size=2, max_size=4))
def test_no_table_of_numbers_breaks_it(table: list[list[float]]) -> None:
    found = summary(table)
    values = [found.sem, found.mdc, found.bias, *found.limits]
    values += [limit for form in Form for limit in icc(table, form)[1:] if limit is not None]
    assert all(map(math.isfinite, values))


def test_a_steady_shift_is_bias_and_not_error() -> None:
    found = summary([[5.1, 5.6], [7.3, 7.8], [9.0, 9.5]])
    assert (found.sem, found.bias, found.limits) == (0, 0.5, (0.5, 0.5))
    agreement, consistency = found.icc, icc([[5.1, 5.6], [7.3, 7.8], [9.0, 9.5]], Form.ICC_3_1)
    assert agreement.value is not None
    assert agreement.value < 1
    assert consistency == Icc(Form.ICC_3_1, 1.0), "no error was seen: the interval is not told"


@pytest.mark.parametrize(
    ("table", "form", "value"),
    [
        ([[1, 2], [1, 2]], Form.ICC_3_1, None),  # only the repeats vary
        ([[1, 2], [1, 2]], Form.ICC_2_1, 0.0),
        ([[1, 2], [2, 1]], Form.ICC_2_1, None),  # what stands under it is nought
        ([[1, 2], [2, 1]], Form.ICC_2_K, None),
        ([[1, 2], [2, 1]], Form.ICC_1_1, -1.0),
        ([[1, 2], [2, 1]], Form.ICC_1_K, None),
        ([[1, 1], [2, 2]], Form.ICC_2_1, 1.0),
        ([[1, 5], [5, 1], [3, 3.1]], Form.ICC_2_K, None),  # a variance below nought
        ([[1e99, 1e-250], [0, 1e99]], Form.ICC_2_1, None),  # more than a float holds
    ],
)
def test_edges(table: Table, form: Form, value: float | None) -> None:
    assert icc(table, form) == Icc(form, value)


def test_where_the_approximation_fails_no_interval_is_told() -> None:
    # 0.003 degrees of freedom: taken at its word, form 2 would have an upper limit of -0.248, below the value.
    table = [[1, 3, 5], [1, 6, 1], [1, 6, 1]]
    assert icc(table, Form.ICC_2_1) == Icc(Form.ICC_2_1, -0.24)
    assert icc(table, Form.ICC_3_1).low is not None, "the others need no approximation"


def test_without_scipy_there_is_a_value_and_no_interval(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = icc(ANKLES, Form.ICC_2_1)
    assert whole.low is not None
    monkeypatch.setitem(sys.modules, "scipy.special", None)
    assert icc(ANKLES, Form.ICC_2_1) == Icc(Form.ICC_2_1, whole.value)
    assert summary(ANKLES).icc.low is None


def test_the_share_of_the_mean_wants_values_above_nought() -> None:
    found = summary(ANKLES)
    mean = sum(map(sum, ANKLES)) / 12
    assert found.cv == pytest.approx(100 * found.sem / mean)
    assert summary([[0.0, 1.0], [2.0, 3.5]]).cv is None
    assert summary([[-1.0, 1.0], [2.0, 3.5]]).cv is None


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ([], "two targets"),
        ([[1, 2]], "two targets"),
        ([[1], [2]], "two repeats"),
        ([[], []], "two repeats"),
        ([[1, 2], [1, 2, 3]], "as many repeats"),
        ([[1, 2], [1, math.nan]], "finite"),
        ([[1, 2], [1, -math.inf]], "finite"),
        ([[1, 2], [1, 1e200]], "less than 1e"),
    ],
)
def test_what_is_no_table_is_refused(table: Table, says: str) -> None:
    for work in (mean_squares, summary, lambda table: icc(table, Form.ICC_1_1)):
        with pytest.raises(ValueError, match=says):
            work(table)


@EVERY
@given(counts(), st.sampled_from(WEIGHTS))
def test_kappa_of_any_table(table: Whole, weights: Weights) -> None:
    found = kappa(table, weights)
    assert 0 <= found.agreement <= 1
    if found.value is None:
        assert (found.standard_error, found.agreement) == (None, 1)
    else:
        assert found.standard_error is not None
        assert found.standard_error >= 0
        assert found.value <= 1
        turned = kappa([list(column) for column in zip(*table, strict=True)], weights)
        assert turned == found, "it does not matter who graded first"


@EVERY
@given(counts(), st.integers(2, 9))
def test_more_of_the_same_shrinks_the_error_of_kappa_alone(table: Whole, times: int) -> None:
    was, found = kappa(table), kappa([[count * times for count in row] for row in table])
    assert found[::2] == was[::2]
    if was.standard_error is not None:
        assert found.standard_error == pytest.approx(was.standard_error / math.sqrt(times))


@EVERY
@given(counts(), st.data())
def test_grades_named_in_another_order_are_the_same_to_plain_kappa(table: Whole, data: st.DataObject) -> None:
    order = data.draw(st.permutations(range(len(table))))
    assert kappa([[table[i][j] for j in order] for i in order]) == kappa(table)


@pytest.mark.parametrize("weights", WEIGHTS)
def test_one_grade_only_has_no_kappa(weights: Weights) -> None:
    assert kappa([[9, 0, 0], [0, 0, 0], [0, 0, 0]], weights) == Kappa(None, None, 1.0)
    assert kappa([[9]], weights) == Kappa(None, None, 1.0)
    assert kappa([[0, 0], [9, 0]], weights) == Kappa(0.0, 0.0, 0.0), "a grade each, and not the same one"


def test_two_grades_know_no_near_miss() -> None:
    table = [[20, 5], [10, 15]]
    assert kappa(table) == kappa(table, "linear") == kappa(table, "quadratic")


@pytest.mark.parametrize("weights", WEIGHTS)
def test_full_agreement_is_one(weights: Weights) -> None:
    assert kappa([[4, 0, 0], [0, 3, 0], [0, 0, 5]], weights) == Kappa(1.0, 0.0, 1.0)


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ([], "columns as rows"),
        ([[1, 2]], "columns as rows"),
        ([[1, 2], [3]], "columns as rows"),
        ([[1, -2], [3, 4]], "below nought"),
        ([[0, 0], [0, 0]], "at least one"),
    ],
)
def test_what_is_no_table_of_grades_is_refused(table: Whole, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        kappa(table)
