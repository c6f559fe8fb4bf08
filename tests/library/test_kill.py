"""Killed at any moment: everything that was acknowledged is there, and no half of anything (200 times: tests.bench.kills)."""

from __future__ import annotations

from tests.library.killing import kills


def test_a_killed_program_leaves_all_it_acknowledged_and_no_half_change(named: str) -> None:
    expected = kills(named, count=8, seed=5, most=0.3)
    assert sum(expected.kinds.values()) == 8
    assert expected.changes > 8
