"""What confirmed cases are worth: log loss on fresh cases, above the true model, after more and more of them.

Run: python -m tests.bench.learning [--shops 12] [--fresh 1500]

In invented shops whose exact posterior is known (tests/consult/invented_shop.py): small, middling and large defects;
one where the experts were right to begin with; one whose labels are drawn by lot.
"""

from __future__ import annotations

import argparse
from statistics import mean

import numpy as np

from diagnose.consult.learned import learn
from tests.consult.invented_shop import InventedShop, Seen, experience, invented_shop, log_loss, true_loss

AFTER = (0, 10, 25, 50, 100, 200, 400, 800)
SHOPS = {
    "small: 5 causes, 6 signs": {"causes": 5, "signs": 6},
    "middling: 5 causes, 10 signs": {"causes": 5, "signs": 10},
    "large: 8 causes, 20 signs, 40 % told": {"causes": 8, "signs": 20, "told": 0.4},
    "experts right: 5 causes, 6 signs": {"causes": 5, "signs": 6, "moved": 0.0},
}


def excess(seed: int, fresh: int, **kind: float) -> list[tuple[float, float]]:
    """Return, after so many cases, the log loss over that of the true model and over that of the rules alone."""
    dice = np.random.default_rng(seed)
    shop: InventedShop = invented_shop(dice, **kind)  # type: ignore[arg-type]
    cases, new = shop.draw(dice, max(AFTER)), shop.draw(dice, fresh)
    true, alone = true_loss(shop, new), log_loss(shop.defect, None, new)
    found = []
    for count in AFTER:
        learned = log_loss(shop.defect, learn(shop.defect, experience(shop.defect, cases[:count])), new)
        found.append((learned / true - 1.0, learned / alone - 1.0))
    return found


def by_lot(seed: int, fresh: int) -> list[float]:
    """Return the log loss over that of the rules alone where causes have nothing to do with signs."""
    dice = np.random.default_rng(seed)
    shop = invented_shop(dice)
    labels = list(shop.shares)
    drawn = [Seen(str(dice.choice(labels)), c.signs) for c in shop.draw(dice, max(AFTER) + fresh)]
    cases, new = drawn[: max(AFTER)], drawn[max(AFTER) :]
    alone = log_loss(shop.defect, None, new)
    return [
        log_loss(shop.defect, learn(shop.defect, experience(shop.defect, cases[:count])), new) / alone - 1.0
        for count in AFTER
    ]


def main() -> None:
    """Print a table: mean over the shops, and the worst one."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--shops", type=int, default=12)
    parser.add_argument("--fresh", type=int, default=1500)
    given = parser.parse_args()
    print(f"{'cases learned from':48}" + "".join(f"{n:>9}" for n in AFTER))
    for name, kind in SHOPS.items():
        every = [excess(seed, given.fresh, **kind) for seed in range(given.shops)]
        rules = mean(len(invented_shop(np.random.default_rng(s), **kind).defect.rules()) for s in range(given.shops))
        print(f"{name}, {rules:.0f} rules")
        for title, which, pick in (
            ("  over the true model, mean", 0, mean), ("  over the true model, worst shop", 0, max),
            ("  over the rules alone, mean", 1, mean), ("  over the rules alone, worst shop", 1, max),
        ):  # fmt: skip
            print(f"{title:48}" + "".join(f"{pick(s[n][which] for s in every):>+9.1%}" for n in range(len(AFTER))))
    lots = [by_lot(seed, given.fresh) for seed in range(given.shops)]
    worst = "".join(f"{max(shop[n] for shop in lots):>+9.1%}" for n in range(len(AFTER)))
    print("labels by lot")
    print(f"{'  over the rules alone, worst shop':48}{worst}")


if __name__ == "__main__":
    main()
