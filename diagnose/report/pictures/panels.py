"""What a picture is made of, as plain numbers: curves, bars and points with their words. Nothing is drawn here."""

from __future__ import annotations

from typing import Literal, NamedTuple

Dash = Literal["solid", "dashed", "dotted", "dashdot"]
Kind = Literal["recorded", "revised"]


class Curve(NamedTuple):
    """A line through points, with the words that stand at its end and the sign that stands for it in a terminal."""

    label: str
    xs: tuple[float, ...]
    ys: tuple[float, ...]
    dash: Dash = "solid"
    kind: Kind = "recorded"
    sign: str = "*"


class Level(NamedTuple):
    """A place on an axis that matters, and why."""

    at: float
    label: str


class Band(NamedTuple):
    """A range on an axis that matters, and why."""

    low: float
    high: float
    label: str


class Curves(NamedTuple):
    """Curves over a common axis; `levels` and `bands` lie across it, `moments` stand on it."""

    x_title: str
    y_title: str
    curves: tuple[Curve, ...]
    levels: tuple[Level, ...] = ()
    moments: tuple[Level, ...] = ()
    bands: tuple[Band, ...] = ()


class Bar(NamedTuple):
    """A row of a bar panel: from where to where, what it is, and its numbers in words. A bar of no length is a dot."""

    label: str
    start: float
    end: float
    words: str
    kind: Kind = "recorded"


class Bars(NamedTuple):
    """Rows of bars over a common axis, first row on top; `moments` stand across all rows."""

    x_title: str
    bars: tuple[Bar, ...]
    moments: tuple[Level, ...] = ()
    bands: tuple[Band, ...] = ()
    from_zero: bool = True


class Spot(NamedTuple):
    """A point of a map: where it lies (0 to 1, from the left and from the front) and its words."""

    x: float
    y: float
    value: float
    words: tuple[str, ...]


class Map(NamedTuple):
    """Readings over a plate seen from above."""

    spots: tuple[Spot, ...]
    placed: str


class Step(NamedTuple):
    """A box of a chain: the word it begins with, what it says, and why in smaller print."""

    lead: str
    words: str
    because: str = ""


class Steps(NamedTuple):
    """Boxes one under the other, each leading to the next; narrow enough for a phone."""

    boxes: tuple[Step, ...]


class Cell(NamedTuple):
    """A field of a grid: its words, how light it is (0 to 1), and whether it is hatched as a weak one."""

    words: tuple[str, ...]
    light: float
    weak: bool = False


class Grid(NamedTuple):
    """Rows of fields, each row with its name; rows may differ in length. `legend` says what a field holds."""

    rows: tuple[tuple[str, tuple[Cell, ...]], ...]
    legend: tuple[str, ...]


Panel = Grid | Curves | Bars | Map | Steps
