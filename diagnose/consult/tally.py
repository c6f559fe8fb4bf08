"""What many plays come to: how often right, after how many questions, and whether stated chances come true."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import log
from statistics import fmean, median

from diagnose.model.simulation import Bin, CauseScore, Play, Simulation

BINS = 10


def tally(plays: Sequence[Play], noise: float, seed: int) -> Simulation:
    """Return the figures over all plays; causes that do worst come first."""
    by_cause: dict[tuple[str, str], list[Play]] = {}
    for play in plays:
        by_cause.setdefault((play.defect, play.cause), []).append(play)
    scores = [cause_score(own) for own in by_cause.values()]
    in_order = [p.in_file_order for p in plays if p.in_file_order is not None]
    mean_in_order = fmean(in_order) if in_order else None
    questions = [p.questions for p in plays]
    of_defect = _shares(plays)
    met = [p.share / of_defect[p.defect] for p in plays]
    bins = _bins(plays, [1.0] * len(plays))
    return Simulation(
        noise=noise, seed=seed, defects=len({p.defect for p in plays}), causes=len(scores), plays=len(plays),
        first=fmean(p.place == 1 for p in plays), first_three=fmean(p.place <= 3 for p in plays),
        first_as_met=sum(w for p, w in zip(plays, met, strict=True) if p.place == 1) / sum(met),
        median_questions=median(questions), mean_questions=fmean(questions),
        mean_looks_again=fmean(p.looks_again for p in plays), settled=fmean(p.settled for p in plays),
        log_loss=_log_loss(plays), bins=bins, calibration_error=_error(plays, [1.0] * len(plays)),
        calibration_error_as_met=_error(plays, met), mean_in_file_order=mean_in_order,
        fewer_questions=1.0 - fmean(questions) / mean_in_order if mean_in_order else None,
        by_cause=tuple(sorted(scores, key=lambda s: (s.first, s.first_three, -s.log_loss))),
    )  # fmt: skip


def cause_score(plays: Sequence[Play]) -> CauseScore:
    """Return how one cause fared over its plays."""
    confused = Counter(p.first for p in plays if p.place > 1)
    return CauseScore(
        defect=plays[0].defect, cause=plays[0].cause, plays=len(plays), first=fmean(p.place == 1 for p in plays),
        first_three=fmean(p.place <= 3 for p in plays), mean_questions=fmean(p.questions for p in plays),
        log_loss=_log_loss(plays), confused_with=dict(confused.most_common()),
    )  # fmt: skip


def _shares(plays: Sequence[Play]) -> dict[str, float]:
    found: dict[str, float] = {}
    for play in plays:
        found[play.defect] = found.get(play.defect, 0.0) + play.share
    return found


def _log_loss(plays: Sequence[Play]) -> float:
    return fmean(-log(max(p.given, 1e-12)) for p in plays)


def _bins(plays: Sequence[Play], weights: Sequence[float]) -> tuple[Bin, ...]:
    """Return the plays sorted into tenths of the stated probability of their first cause."""
    found = []
    for number in range(BINS):
        own = [(p, w) for p, w in zip(plays, weights, strict=True) if min(int(p.stated * BINS), BINS - 1) == number]
        total = sum(w for _, w in own)
        if total:
            stated = sum(w * p.stated for p, w in own) / total
            found.append(Bin(plays=len(own), stated=stated, true=sum(w for p, w in own if p.place == 1) / total))
        else:
            found.append(Bin(plays=0, stated=(number + 0.5) / BINS, true=0.0))
    return tuple(found)


def _error(plays: Sequence[Play], weights: Sequence[float]) -> float:
    """Return the expected calibration error: mean distance of stated from come true over the bins."""
    total = sum(weights)
    error = 0.0
    for number in range(BINS):
        own = [(p, w) for p, w in zip(plays, weights, strict=True) if min(int(p.stated * BINS), BINS - 1) == number]
        error += abs(sum(w * (p.stated - (p.place == 1)) for p, w in own))
    return error / total
