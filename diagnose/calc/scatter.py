"""What a handful of repeated readings says: mean, scatter, a reading that does not belong, a trend."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, isfinite, lgamma, log, sqrt
from statistics import fmean, stdev

from diagnose.calc.allowed_range import not_negative, within
from diagnose.errors import OutOfRange


def student_quantile(probability: float, freedom: int) -> float:
    r"""Quantile of Student's t distribution.

    Parameters
    ----------
    probability
        Share of the distribution below the quantile, from 0.5 up. [-]
    freedom
        Degrees of freedom. [-]

    Returns
    -------
    float
        Quantile. [-]

    Raises
    ------
    OutOfRange
        If the probability is not from 0.5 to under 1, or there is no freedom.

    Notes
    -----
    Regularised incomplete beta function by its continued fraction, inverted by halving.

    References
    ----------
    press-2007, sec. 6.4, from memory.

    Examples
    --------
    Any t table: 2.262 for 97.5 % and nine degrees of freedom:

    >>> round(student_quantile(0.975, 9), 3)
    2.262
    """
    within("probability", probability, 0.5, 1.0 - 1e-12)
    _require_freedom(freedom)

    def below(t: float) -> float:
        return 1.0 - 0.5 * _beta_share(freedom / (freedom + t * t), freedom / 2.0, 0.5)

    return _solve(below, probability)


def chi_square_quantile(probability: float, freedom: int) -> float:
    r"""Quantile of the chi-square distribution.

    Parameters
    ----------
    probability
        Share of the distribution below the quantile. [-]
    freedom
        Degrees of freedom. [-]

    Returns
    -------
    float
        Quantile. [-]

    Raises
    ------
    OutOfRange
        If the probability is not between 0 and 1, or there is no freedom.

    Notes
    -----
    Regularised incomplete gamma function by its series, inverted by halving.

    References
    ----------
    press-2007, sec. 6.2, from memory.

    Examples
    --------
    Any chi-square table: 16.919 for 95 % and nine degrees of freedom:

    >>> round(chi_square_quantile(0.95, 9), 3)
    16.919
    """
    within("probability", probability, 1e-12, 1.0 - 1e-12)
    _require_freedom(freedom)
    return _solve(lambda x: _gamma_share(freedom / 2.0, x / 2.0), probability)


def mean_and_scatter(readings: Sequence[float]) -> tuple[float, float]:
    r"""Mean and standard deviation of repeated readings.

    Parameters
    ----------
    readings
        Readings above zero, all in one unit. [any]

    Returns
    -------
    tuple of float
        Mean and standard deviation. [as the readings]

    Raises
    ------
    OutOfRange
        If there are fewer than three readings or one is not above zero.

    Notes
    -----
    Deviation with n - 1.

    Examples
    --------
    >>> mean_and_scatter([1.0, 2.0, 3.0])
    (2.0, 1.0)
    """
    if len(readings) < 3:
        raise OutOfRange(
            f"{len(readings)} readings say nothing about scatter.", next_step="Weigh at least three, better ten."
        )
    for one in readings:
        if not (isfinite(one) and one > 0.0):
            raise OutOfRange(f"a reading of {one:g} is not above zero.", next_step="Check the list of readings.")
    return fmean(readings), stdev(readings)


def mean_uncertainty(scatter: float, count: int, confidence: float = 0.95) -> float:
    r"""Half width of the range that holds the true mean.

    Parameters
    ----------
    scatter
        Standard deviation of the readings. [any]
    count
        Number of readings. [-]
    confidence
        Share of such ranges that hold the true mean. [-]

    Returns
    -------
    float
        Half width. [as the scatter]

    Raises
    ------
    OutOfRange
        If there are fewer than two readings, or scatter or confidence is not possible.

    Notes
    -----
    :math:`t\,s/\sqrt{n}`.

    Examples
    --------
    Ten readings pin the mean down to 0.715 of their scatter:

    >>> round(mean_uncertainty(1.0, 10), 3)
    0.715
    """
    not_negative("scatter", scatter)
    within("confidence", confidence, 0.01, 0.9999)
    return student_quantile(0.5 + confidence / 2.0, count - 1) * scatter / sqrt(count)


def scatter_range(scatter: float, count: int, confidence: float = 0.95) -> tuple[float, float]:
    r"""Range that holds the true standard deviation.

    Parameters
    ----------
    scatter
        Standard deviation of the readings. [any]
    count
        Number of readings. [-]
    confidence
        Share of such ranges that hold the true value. [-]

    Returns
    -------
    tuple of float
        Low and high end. [as the scatter]

    Raises
    ------
    OutOfRange
        If there are fewer than two readings, or scatter or confidence is not possible.

    Notes
    -----
    :math:`s\sqrt{(n-1)/\chi^2}` at both ends; the readings are taken as normally scattered.

    Examples
    --------
    Ten readings leave the scatter itself open from 0.69 to 1.83 times what was found:

    >>> tuple(round(end, 2) for end in scatter_range(1.0, 10))
    (0.69, 1.83)
    """
    within("confidence", confidence, 0.01, 0.9999)
    tail = (1.0 - confidence) / 2.0
    ends = (chi_square_quantile(1.0 - tail, count - 1), chi_square_quantile(tail, count - 1))
    return scatter * sqrt((count - 1) / ends[0]), scatter * sqrt((count - 1) / ends[1])


def grubbs_limit(count: int, risk: float = 0.05) -> float:
    r"""Distance from the mean, in standard deviations, past which one reading does not belong.

    Parameters
    ----------
    count
        Number of readings. [-]
    risk
        Chance that a sound set has a reading past the limit, on either side. [-]

    Returns
    -------
    float
        Limit. [-]

    Raises
    ------
    OutOfRange
        If there are fewer than three readings or the risk is not from 0.001 to 0.2.

    Notes
    -----
    Two-sided test for one outlier among normal readings, with :math:`t` the quantile at
    :math:`1 - \alpha/(2n)` for n - 2 degrees of freedom:
    :math:`G = \frac{n-1}{\sqrt n}\sqrt{\frac{t^2}{n - 2 + t^2}}`.

    References
    ----------
    grubbs-1969, from memory.

    Examples
    --------
    Tables of the test give 2.290 for ten readings at 5 %, both sides:

    >>> round(grubbs_limit(10), 3)
    2.29
    """
    within("number of readings", float(count), 3.0, 1e6)
    within("risk", risk, 0.001, 0.2)
    t2 = student_quantile(1.0 - risk / (2.0 * count), count - 2) ** 2
    return (count - 1) / sqrt(count) * sqrt(t2 / (count - 2 + t2))


def odd_reading(readings: Sequence[float], risk: float = 0.05) -> int | None:
    """Find the one reading that does not belong to the others, if there is one.

    Parameters
    ----------
    readings
        Repeated readings above zero. [any]
    risk
        Chance of accusing a reading of a sound set. [-]

    Returns
    -------
    int or None
        Its place in the list, from 0; None if all belong together. [-]

    Raises
    ------
    OutOfRange
        If there are fewer than three readings or one is not above zero.

    Notes
    -----
    One round of Grubbs' test. It is not repeated: striking out one after the other finds "outliers" in any set.

    References
    ----------
    grubbs-1969, from memory.

    Examples
    --------
    >>> odd_reading([5.0, 5.1, 4.9, 5.0, 5.1, 4.9, 8.0])
    6
    """
    mean, scatter = mean_and_scatter(readings)
    if scatter <= 1e-12 * mean:
        return None
    far = max(range(len(readings)), key=lambda i: abs(readings[i] - mean))
    return far if abs(readings[far] - mean) / scatter > grubbs_limit(len(readings), risk) else None


def trend(readings: Sequence[float], risk: float = 0.05) -> tuple[float, str]:
    r"""Change from one reading to the next, and whether it is more than chance.

    Parameters
    ----------
    readings
        Readings above zero in the order they were taken. [any]
    risk
        Chance of seeing a trend in a set that has none. [-]

    Returns
    -------
    tuple
        Slope per reading [as the readings], and `rising`, `falling` or `none`.

    Raises
    ------
    OutOfRange
        If there are fewer than four readings or one is not above zero.

    Notes
    -----
    Straight line by least squares; the slope over its own uncertainty against Student's t with n - 2 degrees.

    Examples
    --------
    >>> trend([1.0, 2.1, 2.9, 4.0])[1]
    'rising'
    """
    mean, _ = mean_and_scatter(readings)
    count = len(readings)
    if count < 4:
        raise OutOfRange(f"{count} readings show no trend.", next_step="Take at least four, in order.")
    places = [i - (count - 1) / 2.0 for i in range(count)]
    spread = sum(p * p for p in places)
    slope = sum(p * (r - mean) for p, r in zip(places, readings, strict=True)) / spread
    left = sum((r - mean - slope * p) ** 2 for p, r in zip(places, readings, strict=True))
    error = sqrt(left / (count - 2) / spread)
    if abs(slope) <= max(student_quantile(1.0 - risk / 2.0, count - 2) * error, 1e-12 * mean):
        return slope, "none"
    return slope, "rising" if slope > 0.0 else "falling"


def _require_freedom(freedom: int) -> None:
    if freedom < 1:
        raise OutOfRange(
            f"{freedom} degrees of freedom are too few.", next_step="Take more readings; two are the least."
        )


def _solve(share: Callable[[float], float], wanted: float) -> float:
    """Return where a rising share reaches what is wanted."""
    low, high = 0.0, 1.0
    while share(high) < wanted:
        high *= 2.0
    for _ in range(200):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if share(middle) < wanted else (low, middle)
    return 0.5 * (low + high)


def _gamma_share(a: float, x: float) -> float:
    """Return the regularised lower incomplete gamma function by its series."""
    if x <= 0.0:
        return 0.0
    term = total = 1.0 / a
    n = a
    while term > 1e-17 * total:
        n += 1.0
        term *= x / n
        total += term
    return min(1.0, total * exp(a * log(x) - x - lgamma(a)))


def _beta_share(x: float, a: float, b: float) -> float:
    """Return the regularised incomplete beta function by its continued fraction."""
    if x <= 0.0 or x >= 1.0:
        return 0.0 if x <= 0.0 else 1.0
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - _beta_share(1.0 - x, b, a)
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log(1.0 - x)) / a
    value, c, d = 1.0, 1.0, 0.0
    for step in range(400):
        m = step // 2
        if step == 0:
            part = 1.0
        elif step % 2 == 0:
            part = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        else:
            part = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        d = 1.0 / (1.0 + part * d)
        c = 1.0 + part / c
        value *= c * d
        if abs(1.0 - c * d) < 1e-15:
            break
    return front * (value - 1.0)
