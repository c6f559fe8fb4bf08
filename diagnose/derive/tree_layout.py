"""Calculators for the tree as a whole: gaps, rows, order, weight of wax, flow down the sprue."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from diagnose.calc.chvorinov import time_ratio
from diagnose.calc.sprue_flow import flow_under_head
from diagnose.calc.tree_layout import (
    gap_over_tip,
    gap_to_wall,
    order_by_thickness,
    parts_in_row,
    rows_on_trunk,
    tree_wax,
)
from diagnose.derive.calculator import Calculator, Facts, Value, number
from diagnose.derive.told import positive
from diagnose.errors import OutOfRange


def _wall(facts: Facts) -> dict[str, Value]:
    return {"gap left at the wall": gap_to_wall(number(facts, "flask diameter"), number(facts, "tree diameter"))}


def _tip(facts: Facts) -> dict[str, Value]:
    rise = number(facts, "base rise") if "base rise" in facts else 0.0
    return {"gap left over the tip": gap_over_tip(number(facts, "flask height"), number(facts, "tree height"), rise)}


def _rows(facts: Facts) -> dict[str, Value]:
    gap, width = number(facts, "wanted gap"), number(facts, "part width")
    found: dict[str, Value] = {}
    if "part circle" in facts:
        found["most parts in a row"] = float(parts_in_row(number(facts, "part circle"), width, gap))
    if "part height" in facts and "trunk length" in facts:
        rows = rows_on_trunk(number(facts, "trunk length"), number(facts, "part height"), gap)
        found["most rows"] = float(rows)
        if "most parts in a row" in found:
            found["most parts on the tree"] = rows * number(found, "most parts in a row")
    return found


def _say_rows(facts: Facts) -> Sequence[str]:
    says = []
    if "most parts in a row" in facts:
        says.append("Up to {most parts in a row} parts stand in a row with {wanted gap} between them.")
    if "most rows" in facts:
        says.append("The trunk carries {most rows} rows.")
    if "most parts on the tree" in facts:
        says.append("That makes {most parts on the tree}; fewer are safer for heavy parts.")
    return says


def _wax(facts: Facts) -> dict[str, Value]:
    count = round(number(facts, "number of parts"))
    trunk = number(facts, "trunk wax weight") if "trunk wax weight" in facts else 0.0
    total = tree_wax(count, number(facts, "wax shot weight"), trunk)
    found: dict[str, Value] = {"added up tree weight": total}
    if "metal density" in facts and "wax density" in facts:
        found["added up tree metal"] = total * number(facts, "metal density") / positive(facts, "wax density")
    if "tree wax weight" in facts:
        found["weighed to added up"] = number(facts, "tree wax weight") / total
    return found


def _say_wax(facts: Facts) -> Sequence[str]:
    says = ["{number of parts} parts and the trunk add up to {added up tree weight} of wax."]
    if "trunk wax weight" not in facts:
        says.append("The trunk was not counted.")
    if "added up tree metal" in facts:
        says.append("That is {added up tree metal} of metal, before button and losses.")
    if "weighed to added up" in facts:
        says.append("The tree on the scale has {weighed to added up} of it; trust the scale, without the base.")
    return says


def _order(facts: Facts) -> dict[str, Value]:
    rows = facts["row sections"]
    if not isinstance(rows, tuple):
        raise OutOfRange("one row alone has no order.", next_step="Give each row's section, from the button outward.")
    return {
        "tree order": order_by_thickness(rows),
        "row time ratio": time_ratio(max(rows), min(rows)),
    }


def _say_order(facts: Facts) -> Sequence[str]:
    says = ["Heaviest and lightest row freeze {row time ratio} times apart: {tree order}."]
    if number(facts, "row time ratio") > 4.0:
        says.append("They want different flask temperatures: put them on two trees.")
    return [*says, "Heavy near the button is the usual order; casters disagree about thin parts, so change one thing."]


def _flow(facts: Facts) -> dict[str, Value]:
    area = pi / 4.0 * number(facts, "trunk diameter") ** 2
    speed, flow = flow_under_head(number(facts, "metal head"), area)
    found: dict[str, Value] = {"metal fall speed": speed, "sprue flow": flow}
    if "metal in the tree" in facts and "metal density" in facts:
        found["least fill time"] = number(facts, "metal in the tree") / positive(facts, "metal density") / flow
    return found


def _say_flow(facts: Facts) -> Sequence[str]:
    says = ["Under its own weight metal runs at {metal fall speed} at most, {sprue flow} through the trunk."]
    if "least fill time" in facts:
        says.append("The tree cannot fill in less than {least fill time} by weight alone.")
    return says


CALCULATORS = (
    Calculator(
        name="gap to flask wall",
        title="Investment between the tree and the flask",
        stage="tree",
        needs=("flask diameter", "tree diameter"),
        gives=("gap left at the wall",),
        formula=(
            "{gap left at the wall} = ({flask diameter} - {tree diameter}) / 2",
        ),
        run=_wall,
        says=lambda facts: ("A centred tree leaves {gap left at the wall} to the wall.",),
        sources=("common practice",),
    ),
    Calculator(
        name="gap over the tip",
        title="Investment over the tip of the tree",
        stage="tree",
        needs=("flask height", "tree height"),
        takes=("base rise",),
        gives=("gap left over the tip",),
        formula=(
            "{gap left over the tip} = {flask height} - {tree height} - {base rise}",
        ),
        run=_tip,
        says=lambda facts: ("Over the tip there is {gap left over the tip}.",),
        sources=("common practice",),
    ),
    Calculator(
        name="parts on the tree",
        title="How many parts a tree can carry",
        stage="tree",
        needs=("part width", "wanted gap"),
        takes=("part circle", "part height", "trunk length"),
        gives=("most parts in a row", "most rows", "most parts on the tree"),
        formula=(
            "{most parts in a row} = the largest n for which {part circle} x sin(pi / n) is at least {part width} + "
            "{wanted gap}",
            "{most rows} = ({trunk length} + {wanted gap}) / ({part height} + {wanted gap}), whole rows only",
            "{most parts on the tree} = {most rows} x {most parts in a row}",
        ),
        run=_rows,
        says=_say_rows,
        sources=("common practice",),
    ),
    Calculator(
        name="tree weight",
        title="What the tree should weigh in wax and in metal",
        stage="tree",
        needs=("number of parts", "wax shot weight"),
        takes=("trunk wax weight", "metal density", "wax density", "tree wax weight"),
        gives=("added up tree weight", "added up tree metal", "weighed to added up"),
        formula=(
            "{added up tree weight} = {number of parts} x {wax shot weight} + {trunk wax weight}",
            "{added up tree metal} = {added up tree weight} x {metal density} / {wax density}",
            "{weighed to added up} = {tree wax weight} / {added up tree weight}",
        ),
        run=_wax,
        says=_say_wax,
        sources=("common practice",),
    ),
    Calculator(
        name="tree order",
        title="Where the heavy parts stand",
        stage="tree",
        needs=("row sections",),
        gives=("tree order", "row time ratio"),
        formula=(
            "{tree order} = by whether {row sections} rise or fall with their place (rank correlation over 0.5 "
            "either way)",
            "{row time ratio} = (thickest / thinnest of {row sections})^2",
        ),
        run=_order,
        says=_say_order,
        sources=("common practice",),
    ),
    Calculator(
        name="sprue flow",
        title="How fast metal runs down the trunk by its weight",
        stage="tree",
        needs=("metal head", "trunk diameter"),
        takes=("metal in the tree", "metal density"),
        gives=("metal fall speed", "sprue flow", "least fill time"),
        formula=(
            "{metal fall speed} = sqrt(2 x 9.81 m/s2 x {metal head})",
            "{sprue flow} = pi / 4 x {trunk diameter}^2 x {metal fall speed}",
            "{least fill time} = {metal in the tree} / {metal density} / {sprue flow}",
        ),
        run=_flow,
        says=_say_flow,
        sources=("from memory of groover-2010",),
    ),
)  # fmt: skip
