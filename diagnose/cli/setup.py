"""Puts the parts together: rules base, calculators, consultant. Imported late."""

from __future__ import annotations

from diagnose.cli.base import rules_base
from diagnose.consult import Consultant
from diagnose.derive.all import all_calculators
from diagnose.derive.resolve import Resolver
from diagnose.rulebase.load import RuleBase


def consultant(rules: str | None = None, system: str = "us") -> Consultant:
    """Return a consultant on a rules folder; which raises RulesError where what it needs has errors."""
    base = rules_base(rules)
    base.refuse_faults()
    return on(base, system)


def on(base: RuleBase, system: str = "us") -> Consultant:
    """Return a consultant on a rules base that has been read."""
    return Consultant(base, Resolver(all_calculators(), base.words.settings, base.words.slots), system)
