"""How to find out what had to be assumed: the setting that records it, its label, or the bench test about it."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

from diagnose.derive.calculator import Calculator
from diagnose.model.vocabulary import Setting
from diagnose.rulebase.load import RuleBase

WISHES = frozenset(("should", "may", "must", "want", "wanted"))


def how_to_settle(base: RuleBase, name: str, told: Container[str]) -> str:
    """Return in words how to find out a fact that was assumed: a setting, or a property of a material."""
    setting = base.words.settings.get(name)
    if setting is not None:
        return f"record the {name}: {setting.ask}{_bench(base, setting.about, told)}"
    slot = next((s for s in base.words.slots.values() if name.startswith(s.name + " ")), None)
    if slot is None:
        return f"find out the {name}"
    short = name.removeprefix(slot.name + " ")
    own = _own(base, short)
    if own is not None and own.name not in told:
        return f"record the {own.name}: {own.ask}{_bench(base, own.about, told)}"
    says = slot.properties[short].says if short in slot.properties else ""
    return f"ask the maker of the {slot.name} for its {short}, or measure it ({says[:1].lower()}{says[1:].rstrip('.')})"


def to_be_known(
    base: RuleBase, calculators: Iterable[Calculator], setting: Setting, facts: Mapping[str, object]
) -> str:
    """Return what must be known to say where a setting belongs: what windows and corrections of it go by."""
    makers, slots = list(calculators), base.words.slots
    goals = {m.fact for cause in base.causes.values() for c in cause.corrections for m in c.moves
             if m.setting == setting.name and m.fact is not None}  # fmt: skip
    goals |= {fact for window in setting.windows for fact in window.holds_for}
    wanted: dict[str, None] = {}
    for goal in sorted(goals - facts.keys()):
        able = [c for c in makers if goal in c.gives and facts.keys() >= set(c.needs)]
        inputs = [n for c in able for n in c.takes if n not in facts]
        about = [n for n in inputs if (s := base.words.settings.get(n)) and s.about == setting.about]
        slot = [s for s in slots if goal.startswith(s + " ")]
        wanted |= dict.fromkeys(about or slot or [goal])
    if not wanted:
        return f"No other {setting.name} is named here: go by the label and the maker's instructions."
    return f"No other {setting.name} is named here: to say which is right takes the {' or the '.join(wanted)}."


def is_a_wish(base: RuleBase, name: str) -> bool:
    """Say whether a setting asks for what is wanted, which no test can settle."""
    setting = base.words.settings.get(name)
    return setting is not None and not WISHES.isdisjoint(setting.ask.casefold().split())


def _own(base: RuleBase, short: str) -> Setting | None:
    """Return the setting that records one's own value of a material's property."""
    for setting in base.words.settings.values():
        if setting.name == f"own {short}" or short in setting.words:
            return setting
    return None


def _bench(base: RuleBase, about: str, told: Container[str]) -> str:
    for name, observation in base.words.observations.items():
        if observation.bench_test is not None and observation.about == about and name not in told:
            return f" (bench test: {name})"
    return ""
