"""How far a share that was counted can be trusted."""

from __future__ import annotations

from math import sqrt

Z95 = 1.959963984540054  # of the normal distribution, two-sided 95 %


def wilson(count: int, of: int, z: float = Z95) -> tuple[float, float]:
    """Return the interval of Wilson (J. Am. Stat. Assoc. 22, 209, 1927) for a share; 0 to 1 when nothing was counted.

    >>> [round(x, 4) for x in wilson(0, 10)]
    [0.0, 0.2775]
    """
    if of <= 0:
        return 0.0, 1.0
    share = count / of
    middle = share + z * z / (2 * of)
    half = z * sqrt(share * (1.0 - share) / of + z * z / (4 * of * of))
    below = 1.0 + z * z / of
    return max((middle - half) / below, 0.0), min((middle + half) / below, 1.0)
