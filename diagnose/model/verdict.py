"""What a diagnosis comes to."""

from __future__ import annotations

from typing import Literal

Verdict = Literal["one cause", "several causes", "not enough evidence"]
