"""From one comparison of a rule, or its opposite, to demands on one value; and the numbers compared.

Decimal figures are what a person wrote, so comparisons between two facts treat them as such: a difference
in the thirteenth figure comes from binary arithmetic or from a change of units, and is not a difference.
"""

from __future__ import annotations

import math
import sys
from decimal import Decimal
from typing import get_args

from diagnose.engine.demand import Demand, Look, NoneOf, OneOf, Span
from diagnose.model.condition import Against, Is, Leaf, Side, Window, Within

SIDES = frozenset(get_args(Side))
_FIGURES = 12


def look_of(leaf: Leaf) -> Look:
    """Return the value that a comparison looks at."""
    if isinstance(leaf, Is):
        return Look("answer", leaf.fact)
    if isinstance(leaf, Window):
        return Look("side", leaf.fact)
    if isinstance(leaf, Against):
        return Look("difference" if leaf.share is None else "ratio", leaf.fact, leaf.other)
    return Look("number", leaf.fact)


def demands(leaf: Leaf, wanted: bool) -> list[Demand]:
    """Return the demands of which one must hold for the comparison to be true, or known and false.

    Raises
    ------
    ValueError
        If the comparison makes no sense as it stands.
    """
    if isinstance(leaf, Is):
        answers = frozenset(leaf.answers)
        if not wanted:
            return [NoneOf(answers)]
        return [OneOf(answers)] if answers else []
    if isinstance(leaf, Window):
        sides = frozenset(leaf.sides)
        sides = sides if wanted else SIDES - sides
        return [OneOf(sides)] if sides else []
    if isinstance(leaf, Against):
        return [_compared(leaf, wanted)]
    inside = isinstance(leaf, Within) == wanted
    return _inside(leaf.low, leaf.high) if inside else _outside(leaf.low, leaf.high)


def _inside(low: float | None, high: float | None) -> list[Demand]:
    span = Span(_end(low, -math.inf), _end(high, math.inf))
    return [] if span.is_empty() else [span]


def _outside(low: float | None, high: float | None) -> list[Demand]:
    found: list[Demand] = []
    if low is not None:
        found.append(Span(high=_end(low, 0.0), high_shut=True))
    if high is not None:
        found.append(Span(low=_end(high, 0.0), low_shut=True))
    return found


def _end(value: float | None, when_open: float) -> float:
    if value is None:
        return when_open
    if not math.isfinite(value):
        raise ValueError(f"the limit {value} is not a number")
    return value


def _compared(leaf: Against, wanted: bool) -> Span:
    margin = leaf.amount if leaf.share is None else leaf.share
    if margin is None or (leaf.share is not None and leaf.amount is not None):
        raise ValueError(f"comparing {leaf.fact!r} with {leaf.other!r} needs a share or an amount, one of the two")
    if not (math.isfinite(margin) and margin >= 0.0):
        raise ValueError(f"comparing {leaf.fact!r} with {leaf.other!r} by {margin} makes no sense")
    # 1 - 0.9 in decimals is 0.1; in binary it is a little less.
    away = Decimal(repr(float(margin))) * (-1 if leaf.side == "below" else 1)
    threshold = _rounded(float(away if leaf.share is None else 1 + away))
    if (leaf.side == "below") == wanted:
        return Span(high=threshold, high_shut=not wanted)
    return Span(low=threshold, low_shut=not wanted)


def _rounded(value: float) -> float:
    return float(f"{value:.{_FIGURES}g}")


def ratio(value: float, other: float) -> float | None:
    """Return value / other; None when the other is not above zero, where a share of it means nothing."""
    return _tamed(round(value / other, _FIGURES)) if other > sys.float_info.min else None


def difference(value: float, other: float) -> float:
    """Return value - other, without what only binary arithmetic or a change of units put there."""
    scale = max(abs(value), abs(other))
    if scale == 0.0:
        return 0.0
    return _tamed(round(value - other, _FIGURES - 1 - math.floor(math.log10(scale))))


def _tamed(value: float) -> float:
    # An overflow still says "far above" or "far below".
    return max(-sys.float_info.max, min(sys.float_info.max, value))
