"""The use case: facts in; ranked causes, the next question and revised settings out. No terminal, no disk."""

from diagnose.consult.consultant import Consultant
from diagnose.consult.standing import Standing

__all__ = ["Consultant", "Standing"]
