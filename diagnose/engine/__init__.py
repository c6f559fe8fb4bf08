"""Which rules apply to the known facts: the only room that knows the rules engine."""

from diagnose.engine.matcher import Match, Matcher

__all__ = ["Match", "Matcher"]
