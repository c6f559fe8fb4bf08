"""Words that would lie on each other, moved apart."""

from __future__ import annotations

from collections.abc import Sequence


def spread_out(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return places moved apart to at least a gap, in the same order, inside the limits where there is room.

    >>> [round(p, 2) for p in spread_out([0.5, 0.52, 0.1], 0.1, 0.0, 1.0)]
    [0.46, 0.56, 0.1]
    """
    order = sorted(range(len(places)), key=lambda n: places[n])
    groups: list[tuple[float, list[int]]] = []  # the middle of each group and who is in it
    for n in order:
        middle, members = min(max(places[n], low), high), [n]
        while groups and groups[-1][0] + 0.5 * gap * (len(groups[-1][1]) + len(members)) > middle + 1e-12:
            before, others = groups.pop()
            middle = (before * len(others) + middle * len(members)) / (len(others) + len(members))
            members = others + members
            half = 0.5 * gap * (len(members) - 1)
            middle = max(min(middle, high - half), low + half)
        groups.append((middle, members))
    found = [0.0] * len(places)
    for middle, members in groups:
        for i, n in enumerate(members):
            found[n] = middle + gap * (i - 0.5 * (len(members) - 1))
    return found
