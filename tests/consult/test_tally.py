"""The figures of a simulation against scikit-learn's calibration curve and log loss."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from sklearn.calibration import calibration_curve
from sklearn.metrics import log_loss

from diagnose.consult.tally import tally
from diagnose.model.simulation import Play


def plays(count: int) -> list[Play]:
    rng = Random(5)
    found = []
    for _ in range(count):
        stated = rng.uniform(0.05, 0.999)
        right = rng.random() < stated**2  # stated too high
        found.append(
            Play(
                defect="d", cause="a", share=1.0, first="a" if right else "b", stated=stated,
                given=stated if right else (1 - stated) / 2, place=1 if right else rng.choice((2, 3, 4)),
                questions=rng.randint(1, 9), settled=True, in_file_order=rng.randint(5, 15),
            )
        )  # fmt: skip
    return found


def test_the_calibration_error_agrees_with_scikit_learn() -> None:
    played = plays(800)
    stated, right = np.array([p.stated for p in played]), np.array([p.place == 1 for p in played])
    true, mean = calibration_curve(right, stated, n_bins=10, strategy="uniform")
    size = np.histogram(stated, bins=10, range=(0, 1))[0]
    expected = float(np.sum(size[size > 0] * np.abs(true - mean)) / len(played))
    found = tally(played, 0.0, 1)
    assert found.calibration_error == pytest.approx(expected)
    assert [b.true for b in found.bins if b.plays] == pytest.approx(list(true))


def test_the_log_loss_agrees_with_scikit_learn() -> None:
    played = plays(300)
    table = np.array([[p.given, 1 - p.given] for p in played])
    expected = log_loss(["a"] * len(played), table, labels=["a", "b"])
    assert tally(played, 0.0, 1).log_loss == pytest.approx(expected)


def test_counts_and_means_are_those_of_the_plays() -> None:
    played = plays(200)
    found = tally(played, 0.0, 1)
    assert found.first == pytest.approx(np.mean([p.place == 1 for p in played]))
    assert found.first_three == pytest.approx(np.mean([p.place <= 3 for p in played]))
    assert found.median_questions == np.median([p.questions for p in played])
    saved = 1 - np.sum([p.questions for p in played]) / np.sum([p.in_file_order for p in played])
    assert found.fewer_questions == pytest.approx(saved)
    assert sum(found.by_cause[0].confused_with.values()) == sum(p.place > 1 for p in played)


def test_causes_as_often_as_met_weigh_by_their_share() -> None:
    one = Play(defect="d", cause="a", share=3.0, first="a", stated=1.0, given=1.0, place=1, questions=1, settled=True)
    other = one.model_copy(update={"cause": "b", "share": 1.0, "place": 2, "given": 1e-3})
    found = tally([one, other], 0.0, 1)
    assert found.first == 0.5
    assert found.first_as_met == 0.75
