"""How a statement names where it comes from."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Literal, NamedTuple

COMMON = "common practice"
_MEMORY = re.compile(r"from memory of (?P<key>[a-z0-9-]+)(?:, *(?P<place>.+))?\Z")
_COMPUTED = re.compile(r"computed from (?P<what>.+)\Z")
_READ = re.compile(r"(?P<key>[a-z][a-z0-9-]*-\d{4}[a-z]?)(?:, *(?P<place>.+))?\Z")


class SourceRef(NamedTuple):
    """A parsed reference: its kind, the work's key (if any) and the place in it."""

    kind: Literal["common practice", "memory", "computed", "read"]
    key: str = ""
    place: str = ""


@lru_cache(maxsize=4096)
def parse_source(text: str) -> SourceRef | None:
    """Return the parsed reference, or None when the text is no reference at all."""
    if text == COMMON:
        return SourceRef("common practice")
    if m := _MEMORY.match(text):
        return SourceRef("memory", m["key"], m["place"] or "")
    if m := _COMPUTED.match(text):
        return SourceRef("computed", "", m["what"])
    if m := _READ.match(text):
        return SourceRef("read", m["key"], m["place"] or "")
    return None
