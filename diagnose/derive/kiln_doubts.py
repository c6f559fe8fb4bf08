"""Whether the heat that a kiln shows can be taken for the heat of the mold."""

from __future__ import annotations

from diagnose.derive.calculator import Facts
from diagnose.derive.told import told

MOST_KILN_ERROR = 15.0  # K
KILN_DOUBTS = ("kiln offset", "change before the fault", "thermocouple changed", "thermometer beside the flask")


def kiln_believed(facts: Facts) -> bool:
    """Return whether nothing is known that makes the displayed heat of the flask a wrong one."""
    return (
        abs(told(facts, "kiln offset", 0.0)) <= MOST_KILN_ERROR
        and facts.get("change before the fault") != "kiln or thermometer"
        and facts.get("thermocouple changed") not in ("types differ", "replaced unchecked")
        and facts.get("thermometer beside the flask") not in ("hotter than the display", "colder than the display")
    )
