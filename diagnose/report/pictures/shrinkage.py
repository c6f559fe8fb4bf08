"""The chain of shrinkage: how the size falls from the model to the finished piece."""

from __future__ import annotations

from diagnose.consult.show import Shower
from diagnose.derive.calculator import Facts, number
from diagnose.derive.mold_inputs import known
from diagnose.derive.mold_size import chain_sizes
from diagnose.report.pictures.panels import Bar, Bars, Kind, Level
from diagnose.report.pictures.picture import Picture
from diagnose.report.pictures.scale import Scale, scale_of

SHARE = Scale("percent", "%")


def shrinkage_picture(show: Shower, recorded: Facts, revised: Facts | None = None) -> Picture:
    """Return the chain of sizes; the facts are those that the calculators of sizes need."""
    told: dict[Kind, Facts] = {"recorded": recorded}
    if revised is not None:
        told["revised"] = revised
    several, sized = len(told) > 1, "model size" in recorded or "wanted finished size" in recorded
    size = scale_of(show, "model size") if sized else SHARE
    bars, rows, words = [], [], []
    for kind, facts in told.items():
        before, chain = 0.0, []
        for name, value, share in chain_sizes(facts):
            lost = f"-{SHARE.text(share)}" if share else ""
            start = before or value
            label = f"{name}, {kind}" if several else name
            bars.append(Bar(label, size.of(start), size.of(value), f"{size.text(value)} {lost}".strip(), kind))
            rows.append((*((kind,) if several else ()), name, size.text(value), lost or "0 %"))
            chain.append(f"{name} {size.text(value)}")
            before = value
        words.append(f"With the {kind} values the size goes: {', '.join(chain)}.")
    wanted = known(recorded, "wanted finished size")
    header = ("step", "size", "change in the step")
    return Picture(
        name="size-chain",
        title="Sizes from the model to the metal",
        alt=" ".join(words) + ("" if wanted is None else f" Wanted in the end: {size.text(wanted)}."),
        header=("values", *header) if several else header,
        rows=tuple(rows),
        panels=(
            Bars(
                size.title("size") + ", axis not from zero",
                tuple(bars),
                () if wanted is None else (Level(size.of(number(recorded, "wanted finished size")), "wanted"),),
                from_zero=False,
            ),
        ),
    )
