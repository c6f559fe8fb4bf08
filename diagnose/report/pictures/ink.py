"""The inks and the sizes of the drawings."""

from __future__ import annotations

WIDTH, NARROW, ROW = 7.2, 4.2, 0.42  # [inch]
INK, PAPER, QUIET = "#1a1a1a", "#fcfcf8", "#6b6b6b"
# Blue and vermilion stay apart for every kind of colour vision (Okabe & Ito, Color Universal Design, 2008).
COLORS = {"recorded": "#0072b2", "revised": "#b84700"}
