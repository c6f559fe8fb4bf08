"""How alike cases are, against Gower's formula worked by hand, the package `gower` and scikit-learn's neighbours."""

from __future__ import annotations

import gower
import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sklearn.neighbors import NearestNeighbors

from diagnose.library.features import FEATURE
from diagnose.library.gower import Asked, alike

NUMBERS, ANSWERS = (11, 12, 13), (21, 22, 23, 24)  # numbers of names
RANGES = {11: 40.0, 12: 7.5, 13: 0.02}
Facts = dict[int, float | int]


def packed(case: Facts) -> bytes:
    rows = [(n, 0, v) if n in NUMBERS else (n, v, np.nan) for n, v in sorted(case.items())]
    return np.array(rows, dtype=FEATURE).tobytes()


def asked(case: Facts, ranges: dict[int, float] = RANGES) -> Asked:
    numbers = {n: (float(v), ranges[n]) for n, v in case.items() if n in NUMBERS}
    return Asked({n: int(v) for n, v in case.items() if n in ANSWERS}, numbers)


def by_the_formula(a: Facts, b: Facts, ranges: dict[int, float] = RANGES) -> float | None:
    """Gower, Biometrics 27 (1971), eq. 1: the sum of scores over the sum of validities, term by term."""
    scores = [
        1.0 - abs(a[n] - b[n]) / ranges[n] if n in NUMBERS else float(a[n] == b[n]) for n in sorted(a.keys() & b.keys())
    ]
    return sum(scores) / len(scores) if scores else None


number = {11: st.floats(20.0, 60.0), 12: st.floats(0.0, 7.5), 13: st.floats(0.01, 0.03)}
cases = st.fixed_dictionaries({}, optional={**number, **dict.fromkeys(ANSWERS, st.integers(1, 4))})


@given(cases, st.lists(cases, min_size=1, max_size=8))
def test_it_is_gowers_formula_with_what_is_not_told_left_out(mine: Facts, kept: list[Facts]) -> None:
    found = alike(asked(mine), [packed(k) for k in kept])
    for similarity, shared, theirs in zip(found.similarity, found.shared, kept, strict=True):
        assert shared == len(mine.keys() & theirs.keys())
        assert similarity == pytest.approx(by_the_formula(mine, theirs) or 0.0)


def whole_cases(count: int) -> pd.DataFrame:
    dice = np.random.default_rng(7)
    columns = {11: dice.uniform(20, 60, count), 12: dice.uniform(0.5, 8, count), 13: dice.uniform(0.01, 0.03, count)}
    return pd.DataFrame({**columns, **{n: dice.integers(1, 4, count) for n in ANSWERS}})


def as_cases(table: pd.DataFrame) -> list[Facts]:
    return [{n: (float if n in NUMBERS else int)(row[n]) for n in (*NUMBERS, *ANSWERS)} for _, row in table.iterrows()]


def test_it_agrees_with_the_package_gower_on_cases_that_tell_everything() -> None:
    table = whole_cases(60)
    ranges = {n: float(table[n].max() - table[n].min()) for n in NUMBERS}
    theirs = 1.0 - gower.gower_matrix(table.to_numpy(float), cat_features=[False] * 3 + [True] * 4)
    kept = as_cases(table)
    for mine, row in zip(kept, theirs, strict=True):
        ours = alike(asked(mine, ranges), [packed(k) for k in kept]).similarity
        assert ours == pytest.approx(row, abs=1e-6)  # the package computes in single precision


def test_the_nearest_are_those_that_scikit_learn_finds_by_the_same_distance() -> None:
    dice = np.random.default_rng(3)
    table = whole_cases(120).to_numpy(float)
    table[dice.random(table.shape) < 0.3] = np.nan
    columns = (*NUMBERS, *ANSWERS)
    spans = np.array([RANGES.get(n, np.nan) for n in columns])

    def distance(a: np.ndarray, b: np.ndarray) -> float:
        both = ~np.isnan(a) & ~np.isnan(b)
        if not both.any():
            return 1.0
        score = np.where(np.isnan(spans), a == b, 1.0 - np.minimum(np.abs(a - b) / spans, 1.0))
        return 1.0 - float(score[both].mean())

    # scikit-learn lets unknown values through to a distance of one's own only as stand-ins.
    coded = np.where(np.isnan(table), -1e9, table)
    search = NearestNeighbors(
        n_neighbors=5,
        algorithm="brute",
        metric=lambda a, b: distance(np.where(a < -1e8, np.nan, a), np.where(b < -1e8, np.nan, b)),
    )
    search.fit(coded)
    far, _ = search.kneighbors(coded[:20])
    kept: list[Facts] = [
        {n: v if n in NUMBERS else int(v) for n, v in zip(columns, row, strict=True) if not np.isnan(v)}
        for row in table
    ]
    for mine, theirs in zip(kept[:20], far, strict=True):
        ours = np.sort(1.0 - alike(asked(mine), [packed(k) for k in kept]).similarity)[:5]
        assert ours == pytest.approx(np.sort(theirs), abs=1e-9)


def test_a_setting_that_never_varied_is_alike_only_when_it_is_the_same() -> None:
    ranges = {11: 0.0}
    found = alike(asked({11: 30.0}, ranges), [packed({11: 30.0}), packed({11: 31.0})])
    assert list(found.similarity) == [1.0, 0.0]


def test_nothing_told_is_like_nothing() -> None:
    found = alike(asked({}), [packed({11: 30.0}), packed({})])
    assert list(found.similarity) == [0.0, 0.0]
    assert list(found.shared) == [0, 0]
    assert len(alike(asked({11: 30.0}), []).similarity) == 0
