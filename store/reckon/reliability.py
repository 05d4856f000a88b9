"""How large an examiner's own error is, from the same ankles measured again, or graded twice.

A table has a row a target (an ankle) and a column a repeat (a round, a judge). All is worked out exactly, from the
decimals as they were typed: what does not vary has a mean square of nought, and not of a rounding error. The
formulas are those of Shrout and Fleiss 1979, Psychol Bull 86:420-428 (recalled; held against worked examples in
tests/outside/test_reliability.py).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from fractions import Fraction
from itertools import chain
from typing import Literal, NamedTuple

from store.reckon.error import mdc_from_sem

Table = Sequence[Sequence[float]]
"""A row a target and a column a repeat, every row as long: at least two of each, in the measure's unit."""

LARGEST = 1e100
"""Beyond it a mean square no longer fits a float."""

UPPER = 0.975
"""An interval of 95 % leaves as much on either side."""

LIMITS_SDS = 1.96
"""Limits of agreement are the mean difference and so many SD of the differences either way. Bland and Altman 1986
(Lancet i:307-310) print 2 SD; later papers 1.96 (recalled)."""


class Form(StrEnum):
    """The six forms of Shrout and Fleiss: what repeats are taken for, then one repeat or the mean of all k.

    1: each target has repeats of its own, which are not told apart. 2: the repeats (judges) are the same for all
    targets and stand for any others. 3: these repeats alone matter. Forms 1 and 2 are of absolute agreement: a
    repeat that reads higher throughout counts as error, since a value is held against a line as it stands. Form 3
    is of consistency: only the order and the distances have to agree.
    """

    ICC_1_1 = "ICC(1,1)"
    ICC_2_1 = "ICC(2,1)"
    ICC_3_1 = "ICC(3,1)"
    ICC_1_K = "ICC(1,k)"
    ICC_2_K = "ICC(2,k)"
    ICC_3_K = "ICC(3,k)"


class MeanSquares(NamedTuple):
    """The mean squares of the table, in the unit squared, and its size: n targets by k repeats.

    `within` is what is left when targets are taken out (one-way); `error` when the repeats are, too (two-way).
    """

    between: float
    within: float
    repeats: float
    error: float
    n: int
    k: int


class Icc(NamedTuple):
    """An intraclass correlation, without a unit, and its 95 % interval. None is clipped: all may be below nought.

    `value` is None where nothing varies that the form could hold against something. `low` and `high` are None,
    both, where the value is; where targets do not differ, or nothing is left for an error; where the approximation
    behind form 2 fails; and where scipy (the extra `practice`) is not installed.
    """

    form: Form
    value: float | None
    low: float | None = None
    high: float | None = None


class Limits(NamedTuple):
    """The lower and the upper limit of agreement, in the measure's unit."""

    low: float
    high: float


class Reliability(NamedTuple):
    """What a table says of the error of whoever measured, in the measure's unit but for `icc` and `cv`.

    All is of one repeat, whatever that is: a single trial, or the mean of three.

    `sem` is the square root of the error mean square (Weir 2005, J Strength Cond Res 19:231-240, as quoted
    elsewhere). It does not hang on how different the targets are, as SD x root(1 - ICC) does, and a steady shift
    from one repeat to the next is not in it but in `bias`; other readings of the word (one-way, agreement, from an
    ICC) give other figures on the same table. `mdc` is 2.77 times it, at 95 %.

    `bias` is the mean of the second repeat less the first, and `limits` are its limits of agreement: 1.96 SD of
    the differences either way. `cv` is the SEM in percent of the mean of all values, None unless all are above
    nought. `icc` is form (2,1): absolute agreement of one repeat with another.
    """

    targets: int
    repeats: int
    icc: Icc
    sem: float
    mdc: float
    bias: float
    limits: Limits
    cv: float | None

    @property
    def typical_error(self) -> float:
        """The SEM by its name in Hopkins 2000 (Sports Med 30:1-15, as quoted elsewhere); of two repeats it is the
        SD of the change / root 2."""
        return self.sem


Weights = Literal["none", "linear", "quadratic"]
"""What a near miss counts: nothing, by steps (1 - d / most), or by their square (1 - (d / most)^2)."""


class Kappa(NamedTuple):
    """Agreement on grades beyond chance, its standard error, and the share of targets given the very same grade.

    `value` and `standard_error` are None, not defined, where both used one and the same grade only.
    """

    value: float | None
    standard_error: float | None
    agreement: float


def mean_squares(table: Table) -> MeanSquares:
    """The mean squares of a two-way layout with one value a cell.

    Raises ValueError unless there are two targets and two repeats at least, as many of each target, all finite.
    """
    between, within, repeats, error, n, k = _squares(_exact(table))
    return MeanSquares(float(between), float(within), float(repeats), float(error), n, k)


def icc(table: Table, form: Form) -> Icc:
    """One of the six forms, with its 95 % interval (F quantiles of scipy). Raises ValueError as `mean_squares`."""
    return _icc(_squares(_exact(table)), form)


def summary(table: Table) -> Reliability:
    """All that is told after a drill. Raises ValueError as `mean_squares`."""
    rows = _exact(table)
    squares = _squares(rows)
    sem = math.sqrt(squares.error)
    changes = [row[1] - row[0] for row in rows]
    bias = _mean(changes)
    sd = math.sqrt(sum((change - bias) ** 2 for change in changes) / (squares.n - 1))
    return Reliability(
        targets=squares.n,
        repeats=squares.k,
        icc=_icc(squares, Form.ICC_2_1),
        sem=sem,
        mdc=mdc_from_sem(sem),
        bias=float(bias),
        limits=Limits(float(bias) - LIMITS_SDS * sd, float(bias) + LIMITS_SDS * sd),
        cv=_cv(rows, sem),
    )


def kappa(counts: Sequence[Sequence[int]], weights: Weights = "none") -> Kappa:
    """Cohen's kappa, plain or weighted: row the grade given first, column the one given second, in the same order.

    Its standard error is that of Fleiss, Cohen and Everitt 1969, Psychol Bull 72:323-327 (recalled), for an
    interval and not for a test against nought. Raises ValueError on a table that is not square, has a count below
    nought, or counts nothing.
    """
    total = _counted(counts)
    shares = [[Fraction(count, total) for count in row] for row in counts]
    first, second = [sum(row) for row in shares], [sum(column) for column in zip(*shares, strict=True)]
    size = range(len(counts))
    near = [[_near(abs(i - j), len(counts) - 1, weights) for j in size] for i in size]
    by_row = [sum(near[i][j] * second[j] for j in size) for i in size]
    by_column = [sum(near[i][j] * first[i] for i in size) for j in size]
    chance = sum(first[i] * by_row[i] for i in size)
    agreement = float(sum(shares[i][i] for i in size))
    if chance == 1:
        return Kappa(None, None, agreement)
    seen = sum(near[i][j] * shares[i][j] for i in size for j in size)
    value = (seen - chance) / (1 - chance)
    beyond = sum(
        shares[i][j] * (near[i][j] - (by_row[i] + by_column[j]) * (1 - value)) ** 2 for i in size for j in size
    )
    variance = (beyond - (value - chance * (1 - value)) ** 2) / total
    return Kappa(float(value), math.sqrt(variance) / float(1 - chance), agreement)


class _Squares(NamedTuple):
    """The mean squares as exact fractions."""

    between: Fraction
    within: Fraction
    repeats: Fraction
    error: Fraction
    n: int
    k: int


_Rows = tuple[tuple[Fraction, ...], ...]


def _exact(table: Table) -> _Rows:
    """The values as the decimals that were typed, once they are a table."""
    if len(table) < 2:
        raise ValueError("a table has at least two targets")
    if any(len(row) != len(table[0]) for row in table):
        raise ValueError("every target has as many repeats as the others")
    if len(table[0]) < 2:
        raise ValueError("every target has at least two repeats")
    if not all(abs(value) < LARGEST for value in chain.from_iterable(table)):
        raise ValueError(f"every value is a finite number, less than {LARGEST:g}")
    return tuple(tuple(Fraction(str(value)) for value in row) for row in table)


def _mean(values: Sequence[Fraction]) -> Fraction:
    return sum(values, Fraction()) / len(values)


def _squares(rows: _Rows) -> _Squares:
    n, k = len(rows), len(rows[0])
    middle = _mean([value for row in rows for value in row])
    total = sum(((value - middle) ** 2 for row in rows for value in row), Fraction())
    between = k * sum(((_mean(row) - middle) ** 2 for row in rows), Fraction())
    repeats = n * sum(((_mean(column) - middle) ** 2 for column in zip(*rows, strict=True)), Fraction())
    within, error = total - between, total - between - repeats
    return _Squares(
        between / (n - 1), within / (n * (k - 1)), repeats / (k - 1), error / ((n - 1) * (k - 1)), n, k
    )


class _Ratio(NamedTuple):
    """A form as (between - error) / (between + rest), with the degrees of freedom of its error.

    A limit is the same ratio with `between` so many times as large.
    """

    between: Fraction
    error: Fraction
    rest: Fraction
    freedom: float

    def at(self, times: float = 1.0) -> float | None:
        """None where the denominator, which stands for a variance, is not above nought."""
        between = self.between * Fraction(times)
        whole = between + self.rest
        try:
            return float((between - self.error) / whole) if whole > 0 else None
        except OverflowError:
            return None


def _icc(squares: _Squares, form: Form) -> Icc:
    ratio = _ratio(squares, form)
    value = ratio.at()
    if value is None:
        return Icc(form, None)
    low, high = _interval(ratio, squares.n - 1)
    return Icc(form, value, low, high)


def _ratio(squares: _Squares, form: Form) -> _Ratio:
    between, within, repeats, error, n, k = squares
    match form:
        case Form.ICC_1_1:
            return _Ratio(between, within, (k - 1) * within, n * (k - 1))
        case Form.ICC_1_K:
            return _Ratio(between, within, Fraction(), n * (k - 1))
        case Form.ICC_2_1:
            return _Ratio(between, error, _rest_of_two(squares), _freedom_of_two(squares))
        case Form.ICC_2_K:
            return _Ratio(between, error, (repeats - error) / n, _freedom_of_two(squares))
        case Form.ICC_3_1:
            return _Ratio(between, error, (k - 1) * error, (n - 1) * (k - 1))
        case Form.ICC_3_K:
            return _Ratio(between, error, Fraction(), (n - 1) * (k - 1))


def _rest_of_two(squares: _Squares) -> Fraction:
    """Repeats less error is taken as it is, also where it is below nought: a variance that is clamped is not
    this form."""
    _, _, repeats, error, n, k = squares
    return (k - 1) * error + k * (repeats - error) / n


def _freedom_of_two(squares: _Squares) -> float:
    """Satterthwaite's degrees of freedom for the error of form 2: seldom whole; nought where there are none."""
    between, _, repeats, error, n, k = squares
    whole = between + _rest_of_two(squares)
    if not whole > 0:
        return 0.0
    share = (between - error) / whole
    of_repeats, of_error = k * share * repeats, (n * (1 + (k - 1) * share) - k * share) * error
    spread = of_repeats**2 / (k - 1) + of_error**2 / ((n - 1) * (k - 1))
    return float((of_repeats + of_error) ** 2 / spread) if spread else 0.0


def _interval(ratio: _Ratio, targets_freedom: int) -> tuple[float, float] | tuple[None, None]:
    """Both limits or neither. Below one degree of freedom, which only an ICC below nought can bring about, the
    approximation fails: its limits need not even have the value between them."""
    if not (ratio.between > 0 and ratio.error > 0 and ratio.freedom >= 1):
        return None, None
    falls, rises = _f_quantile(targets_freedom, ratio.freedom), _f_quantile(ratio.freedom, targets_freedom)
    if falls is None or rises is None:
        return None, None
    low, high = ratio.at(1 / falls), ratio.at(rises)
    return (None, None) if low is None or high is None else (low, high)


def _f_quantile(above: float, below: float) -> float | None:
    """The upper quantile of F with these degrees of freedom, or None without scipy: it takes a third of a second
    to import, which nobody else should pay."""
    try:
        from scipy.special import fdtri
    except ImportError:
        return None
    return float(fdtri(above, below, UPPER))


def _cv(rows: _Rows, sem: float) -> float | None:
    values = [value for row in rows for value in row]
    return 100 * sem / float(_mean(values)) if min(values) > 0 else None


def _counted(counts: Sequence[Sequence[int]]) -> int:
    """How many targets the table counts."""
    if not counts or any(len(row) != len(counts) for row in counts):
        raise ValueError("a table of grades has as many columns as rows")
    if any(count < 0 for row in counts for count in row):
        raise ValueError("a count is not below nought")
    total = sum(map(sum, counts))
    if not total:
        raise ValueError("a table of grades counts at least one target")
    return total


def _near(steps: int, most: int, weights: Weights) -> Fraction:
    """What two grades so many steps apart count as agreement: 1 for the same, 0 for the furthest."""
    if weights == "none" or not steps:
        return Fraction(not steps)
    return 1 - Fraction(steps, most) ** (2 if weights == "quadratic" else 1)
