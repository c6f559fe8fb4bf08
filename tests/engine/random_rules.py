"""Random conditions and facts, with awkward names and values that lie exactly on the limits."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from diagnose.model.condition import (
    Against,
    All,
    Any,
    AtLeast,
    Beyond,
    Condition,
    Is,
    Leaf,
    Nothing,
    Window,
    Within,
)

SIDES = ("below", "inside", "above")
AWKWARD = (
    "seam at the parting line",
    'quoted "name"',
    "back\\slash {brace} [bracket], comma: colon",
    "Größe 漢字 😀",
    "line\nbreak\ttab",
    "sid",
    "id",
    "~g",
    "$s",
    "",
    " ",
    "key.zwyasicq",  # these two have the same 32-bit FNV-1a hash
    "key.qmbfiuls",
    "m",
    "x$all",
    "null",
    "a" * 300,
)


@dataclass
class World:
    """Names that rules may use, and the numbers and answers that facts and limits are drawn from."""

    answers: dict[str, tuple[str, ...]]
    numbers: tuple[str, ...]
    grid: tuple[float, ...]
    amounts: tuple[float, ...]
    shares: tuple[float, ...] = (0.0, 0.05, 0.1, 0.25, 0.5, 1.0)
    windows: tuple[str, ...] = field(default=())

    def leaf(self, rng: Random) -> Leaf:
        """Return a single comparison."""
        kind = rng.choice(("is", "is", "within", "beyond", "window", "against"))
        if kind == "is":
            fact = rng.choice(tuple(self.answers))
            known = self.answers[fact]
            return Is(fact=fact, answers=tuple(rng.sample(known, rng.choice((1, 1, 2, min(3, len(known)))))))
        if kind == "window":
            return Window(fact=rng.choice(self.windows), sides=tuple(rng.sample(SIDES, rng.choice((1, 1, 2, 3)))))
        fact = rng.choice(self.numbers)
        if kind == "against":
            share = rng.choice(self.shares) if rng.random() < 0.6 else None
            return Against(
                fact=fact,
                other=rng.choice(self.numbers),
                side=rng.choice(("below", "above")),
                share=share,
                amount=rng.choice(self.amounts) if share is None else None,
            )
        low, high = sorted((rng.choice(self.grid), rng.choice(self.grid)))
        open_end = rng.choice(("none", "none", "low", "high", "both" if rng.random() < 0.1 else "low"))
        ends = {
            "low": None if open_end in ("low", "both") else low,
            "high": None if open_end in ("high", "both") else high,
        }
        return Within(fact=fact, **ends) if kind == "within" else Beyond(fact=fact, **ends)

    def condition(self, rng: Random, depth: int) -> Condition:
        """Return a condition nested at most so deep."""
        if depth == 0 or rng.random() < 0.25:
            return self.leaf(rng)
        parts = tuple(self.condition(rng, depth - 1) for _ in range(rng.randint(1, 3)))
        kind = rng.choice((All, All, Any, Nothing, AtLeast))
        if kind is AtLeast:
            return AtLeast(count=rng.randint(1, len(parts)), parts=parts)
        return kind(parts=parts)

    def facts(self, rng: Random, known: float) -> tuple[dict[str, float | str], dict[str, str]]:
        """Return facts and sides of windows, each known with the given chance, in random order."""
        facts: dict[str, float | str] = {
            name: rng.choice((*a, "some other answer")) for name, a in self.answers.items()
        }
        facts.update({name: rng.choice(self.grid) for name in self.numbers})
        names = [name for name in facts if rng.random() < known]
        rng.shuffle(names)
        return {n: facts[n] for n in names}, {n: rng.choice(SIDES) for n in self.windows if rng.random() < known}


def decimal_world(rng: Random, size: int) -> World:
    """Return a world of awkward names whose numbers are short decimals, on either side of zero."""
    names = [*rng.sample(AWKWARD, min(len(AWKWARD), size)), *(f"fact {n}" for n in range(size))]
    half = max(2, len(names) // 2)
    answers = ("yes", "no", 'a "b"', "é", "1.0", "\\", "x" * 70_000)
    power = rng.choice((0, 0, -1, -2, -7, 15))
    return World(
        answers={name: tuple(rng.sample(answers, 4)) for name in names[:half]},
        numbers=tuple(names[half:]),
        grid=(-0.0, *(float(f"{n}e{power}") for n in range(-4, 30))),
        amounts=tuple(float(f"{n}e{power}") for n in (0, 1, 3, 10)),
        windows=tuple(names[half:]),
    )


def binary_world(size: int) -> World:
    """Return a world whose numbers and amounts are sums of eighths, which no arithmetic rounds."""
    return World(
        answers={f"look {n}": tuple(f"answer {i}" for i in range(2 + n % 4)) for n in range(size)},
        numbers=tuple(f"setting {n}" for n in range(size)),
        grid=tuple(n / 8 for n in range(-8, 41)),
        amounts=(0.0, 0.125, 0.5, 2.0),
        windows=tuple(f"setting {n}" for n in range(size)),
    )
