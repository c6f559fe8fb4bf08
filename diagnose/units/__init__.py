"""What people type <-> SI, and back in the units they like.

pint is loaded only from here, and is never fed typed text.

read, read_many            what a person typed: a value, a question back, or a refusal
must_read, must_read_many  the same for files and command lines: a value or BadInput
quantity, span             quantities and ranges in rules: floats in SI or BadInput
to_si, from_si             conversion, rounded to six significant digits
show, show_both, show_time, say   back into words
prose, quantities_in       metric quantities in sentences, in the units of their reader
usual                      in which units people write what has an SI unit
absolute, vacuum_depth     pressures, given the air around
dimension_named, unit_named, dimensions   what there is, with suggestions for what there is not
"""

from __future__ import annotations

from diagnose.units.convert import from_si, plain, to_si
from diagnose.units.dimension import Dimension, Unit
from diagnose.units.many import must_read_many, read_many
from diagnose.units.pressure import absolute, gauge, vacuum_depth
from diagnose.units.prose import prose, quantities_in
from diagnose.units.quantities import quantity, span
from diagnose.units.reading import must_read, read
from diagnose.units.result import Ask, AskMany, Reject, Value
from diagnose.units.show import say, show, show_both, show_time
from diagnose.units.table import dimension_named, dimensions, unit_named
from diagnose.units.usual import usual

__all__ = [
    "Ask",
    "AskMany",
    "Dimension",
    "Reject",
    "Unit",
    "Value",
    "absolute",
    "dimension_named",
    "dimensions",
    "from_si",
    "gauge",
    "must_read",
    "must_read_many",
    "plain",
    "prose",
    "quantities_in",
    "quantity",
    "read",
    "read_many",
    "say",
    "show",
    "show_both",
    "show_time",
    "span",
    "to_si",
    "unit_named",
    "usual",
    "vacuum_depth",
]
