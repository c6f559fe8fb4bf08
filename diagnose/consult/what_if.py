"""What would change if some settings were others: the diagnosis before and after, side by side."""

from __future__ import annotations

from typing import NamedTuple

from diagnose.consult.consultant import Consultant
from diagnose.errors import BadInput
from diagnose.model.case import Case
from diagnose.model.diagnosis import Diagnosis
from diagnose.rulebase.cases import fact_value, told


class Comparison(NamedTuple):
    """A diagnosis as recorded and after the changes named."""

    changes: tuple[str, ...]
    before: Diagnosis
    after: Diagnosis

    def cleared(self) -> list[str]:
        """Return the reasons that speak for a cause before and no longer after."""
        return _reasons(self.before, self.after)

    def raised(self) -> list[str]:
        """Return the reasons that speak for a cause only after the change."""
        return _reasons(self.after, self.before)


def _reasons(here: Diagnosis, not_there: Diagnosis) -> list[str]:
    there = {e.rule for c in not_there.causes for e in c.evidence}
    return [
        f"{c.name} ({e.weight}): {e.because}"
        for c in here.causes for e in c.evidence if e.speaks == "for" and e.rule not in there
    ]  # fmt: skip


def what_if(of: Consultant, case: Case, changes: tuple[str, ...]) -> Comparison:
    """Return the diagnosis of a case before and after `name=value` changes; raise BadInput for an unusable one."""
    changed = case
    for change in changes:
        name, sep, value = change.partition("=")
        if not sep:
            raise BadInput(
                f"'{change}' is not name=value.", where="what if", next_step="For example: 'wax temperature=68C'"
            )
        name = of.base.words.named(name)
        changed = told(changed, name, fact_value(of.base, name, value.strip()), of.base)
    return Comparison(changes, of.diagnose(case), of.diagnose(changed))
