"""A setting as it was typed: what it is, or which of several readings is meant."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from diagnose import units
from diagnose.errors import BadInput
from diagnose.model.case import Recorded

if TYPE_CHECKING:
    from diagnose.interview.inquiry import Inquiry
    from diagnose.model.vocabulary import Setting

NUMBER_ALONE = re.compile(r"[\d.,/ ]+")


def read(inquiry: Inquiry, setting: Setting, typed: str) -> Recorded | None:
    """Return a setting as recorded; None when the person must choose first. Raises BadInput for what cannot be."""
    system = inquiry.of.show.system
    unit = setting.unit_us if system == "us" else setting.unit_metric
    plausible = (setting.plausible_low, setting.plausible_high)
    if setting.many:
        many = units.read_many(typed, setting.dimension, unit, plausible, name=setting.name)
        if isinstance(many, tuple):
            return Recorded(typed=typed, value=tuple(v.si for v in many))
        raise BadInput(getattr(many, "reason", "") or getattr(many, "question", ""))
    found = units.read(setting.in_numbers(typed), setting.dimension, unit, plausible, name=setting.name)
    if isinstance(found, units.Value):
        if system == "us" and _metric_too(setting, typed):
            inquiry.pick = (setting.name, [(f"{typed} {one}", "") for one in (unit, setting.unit_metric)])
            return None
        return Recorded(typed=typed, value=found.si)
    if isinstance(found, units.Reject):
        raise BadInput(found.reason)
    if found.why == "unusual":
        raise BadInput(found.question + " If it is right, record the case in a file; here it would mislead the rules.")
    inquiry.pick = (setting.name, [(units.show(v.si, setting.dimension, v.unit, 6), "") for v in found.candidates])
    return None


def _metric_too(setting: Setting, typed: str) -> bool:
    """Say whether a length typed without a unit can be metric as well: shops that write inches write both."""
    if setting.dimension != "length" or setting.unit_us == setting.unit_metric or not NUMBER_ALONE.fullmatch(typed):
        return False
    plausible = (setting.plausible_low, setting.plausible_high)
    return isinstance(units.read(f"{typed} {setting.unit_metric}", setting.dimension, None, plausible), units.Value)
