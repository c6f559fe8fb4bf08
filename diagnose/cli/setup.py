"""Puts the parts together: rules base, calculators, consultant. Imported late."""

from __future__ import annotations

from diagnose.cli.base import rules_base
from diagnose.consult import Consultant
from diagnose.derive.all import all_calculators
from diagnose.derive.resolve import Resolver
from diagnose.errors import RulesError
from diagnose.rulebase.load import RuleBase


def consultant(rules: str | None = None, system: str = "us") -> Consultant:
    """Return a consultant on a rules folder; raise RulesError with every issue when its vocabulary has errors."""
    base = rules_base(rules)
    if base.issues:
        raise RulesError(
            "the rules base has errors:", [i.text() for i in base.issues], where=str(base.folder),
            next_step="`diagnose rules check` lists them all.",
        )  # fmt: skip
    return on(base, system)


def on(base: RuleBase, system: str = "us") -> Consultant:
    """Return a consultant on a rules base that has been read."""
    return Consultant(base, Resolver(all_calculators(), base.words.settings, base.words.slots), system)
