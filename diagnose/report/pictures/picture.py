"""A picture and everything that someone who does not see it needs."""

from __future__ import annotations

from dataclasses import dataclass

from diagnose.report.pictures.panels import Panel


@dataclass(frozen=True)
class Picture:
    """A picture: what it shows in a sentence with numbers (`alt`), and as a table that holds the same.

    `name` is a word for ids and file names. The drawing is made when it is asked for: `svg` gives an element that
    can stand in a page (own background, no outside requests, the same bytes every time), `png` the same as an image.
    """

    name: str
    title: str
    alt: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    panels: tuple[Panel, ...]

    def svg(self) -> str:
        """Return the drawing as an SVG element that starts with `<svg`."""
        from diagnose.report.pictures.drawing import as_svg

        return as_svg(self)

    def png(self) -> bytes:
        """Return the drawing as a PNG image."""
        from diagnose.report.pictures.drawing import as_png

        return as_png(self)

    def characters(self, width: int = 80) -> list[str]:
        """Return the drawing as lines of plain signs for a terminal."""
        from diagnose.report.pictures.characters import in_characters

        return in_characters(self, width)
