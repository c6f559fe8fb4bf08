"""What the engine sees can be read by it, and means to it what it means to us."""

from __future__ import annotations

import math
import operator
import struct
from random import Random

import pytest

from diagnose.engine import message
from diagnose.engine.message import RESERVED, Keys, engine_hash, number_text
from diagnose.engine.ruleset import Ruleset


def test_exponents_get_the_fraction_without_which_the_engine_refuses_them() -> None:
    assert [number_text(x) for x in (1e-07, 1e22, 1.5e-9, -0.0, 3)] == ["1.0e-07", "1.0e+22", "1.5e-09", "0.0", "3.0"]


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_never_written(bad: float) -> None:
    with pytest.raises(ValueError, match="cannot be written"):
        number_text(bad)


def test_the_hash_is_the_published_one() -> None:
    # Test vectors published with the FNV hash: "" "a" "foobar" in 32-bit FNV-1a (from memory).
    assert [engine_hash(text) for text in ("", "a", "foobar")] == [0x811C9DC5, 0xE40C292C, 0xBF9CF968]


def test_no_two_keys_look_the_same_to_the_engine() -> None:
    keys = Keys()
    made = [keys.new() for _ in range(20_000)]

    assert len({engine_hash(key) for key in (*made, *RESERVED)}) == len(made) + len(RESERVED)


def test_a_key_whose_hash_is_taken_is_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(message, "engine_hash", lambda key: 7 if key in ("sid", "k1", "k3") else hash(key))
    keys = Keys()

    assert [keys.new(), keys.new()] == ["k2", "k4"]


def a_number(rng: Random) -> float:
    """Return a number of any size: any bits at all, a power, a decimal, a small whole one."""
    while True:
        found = rng.choice(
            (
                struct.unpack("d", rng.getrandbits(64).to_bytes(8, "little"))[0],
                10 ** rng.uniform(-12, 12),
                round(rng.uniform(-2000, 2000), rng.randrange(4)),
                float(rng.randrange(-9, 9)),
            )
        )
        if math.isfinite(found):
            return found


def test_the_engine_reads_every_number_exactly() -> None:
    rng = Random(3)
    signs = {"$lt": operator.lt, "$lte": operator.le, "$gt": operator.gt, "$gte": operator.ge}
    for _ in range(150):
        limits = [a_number(rng) for _ in range(10)]
        tests = [(sign, limit) for limit in limits for sign in signs]
        rules = Ruleset([[("k1", f'{{"{sign}":{{"k1":{number_text(limit)}}}}}')] for sign, limit in tests])
        for limit in limits:
            value = rng.choice((limit, math.nextafter(limit, math.inf), math.nextafter(limit, -math.inf)))
            if math.isfinite(value):
                met = rules.met(f',"k1":{number_text(value)}')
                assert met == tuple(i for i, (sign, end) in enumerate(tests) if signs[sign](value, end))
