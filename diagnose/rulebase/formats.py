"""The formats of the rules files, each told once: the readers take the keys from here, and so does the JSON Schema.

A key's schema says what stands behind it. What depends on other files (a fact that exists, an answer of it, a quantity
of the right dimension, a source that is listed) only `diagnose rules check` can say.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, get_args

from diagnose import units
from diagnose.model.knowledge import Often, Source, Weight
from diagnose.model.verdict import Verdict
from diagnose.model.vocabulary import STAGES

Schema = Mapping[str, Any]
DRAFT = "https://json-schema.org/draft/2020-12/schema"


class Format(NamedTuple):
    """A mapping in a rules file: what may stand in it, and what must."""

    keys: Mapping[str, Schema]
    must: Sequence[str] = ()
    either: Sequence[str] = ()  # one of these must stand there as well

    def schema(self) -> Schema:
        """Return the JSON Schema of it."""
        found: dict[str, Any] = {"type": "object", "properties": dict(self.keys), "additionalProperties": False}
        if self.must:
            found["required"] = list(self.must)
        if self.either:
            found["oneOf"] = [{"required": [key]} for key in self.either]
        return found


def _told(description: str, **more: Any) -> Schema:
    return {"description": description, **more}


def _one_of(words: Sequence[str], description: str) -> Schema:
    return {"description": description, "enum": list(words)}


def _by_name(entry: Format, description: str) -> Schema:
    return {"description": description, "type": "object", "additionalProperties": entry.schema()}


def _listed(entry: Format, description: str) -> Schema:
    return {"description": description, "type": "array", "items": entry.schema()}


SCALAR: Mapping[str, Any] = {"type": ["string", "number", "boolean"]}  # every one is read as text
TEXT = _told("a text", **SCALAR)
TEXTS = _told("a text, or a list of texts", anyOf=[SCALAR, {"type": "array", "items": SCALAR}])
NAMES = _told("other names that people type for it; one that others have too is asked back", anyOf=TEXTS["anyOf"])
QUANTITY = _told("a number with a unit, such as 40 min", **SCALAR)
ENDS = _told("two quantities", type="array", items=SCALAR, minItems=2, maxItems=2)
SOURCE = _told(
    "common practice | <key>[, place] | from memory of <key>[, place] | computed from ...", type="string",
    pattern=r"^\s*(common practice|from memory of [a-z0-9-]+(,.+)?|computed from .+"
    r"|[a-z][a-z0-9-]*-\d{4}[a-z]?(,.+)?)\s*$",
)  # fmt: skip
FLAG = _one_of(["true", "false", True, False], "true or false")  # type: ignore[list-item]
WHEN: Schema = {"$ref": "#/$defs/condition"}
FACTS = _told("answers by fact", type="object", additionalProperties=TEXTS)
DIMENSION = _one_of((*units.dimensions(), "answer"), "what kind of quantity it is")
UNITS = Format({"us": TEXT, "metric": TEXT})

WINDOW = Format({"for": FACTS, "from": QUANTITY, "to": QUANTITY, "because": TEXT, "source": SOURCE}, ("source",))
ASSUMED = Format(
    {"value": QUANTITY, "from": QUANTITY, "to": QUANTITY, "source": SOURCE, "because": TEXT}, ("value", "source")
)
DERIVED = Format(
    {"says": TEXT, "dimension": DIMENSION, "units": UNITS.schema(), "about": TEXT, "answers": TEXTS},
    ("says", "dimension"),
)
SETTING = Format(
    {
        "ask": TEXT, "says": TEXT, "dimension": DIMENSION, "units": UNITS.schema(),
        "plausible": _told("a span such as 10 min to 2 h; outside of it one is asked back", **SCALAR),
        "usual step": QUANTITY, "about": TEXT, "safe": WINDOW.schema(), "windows": _listed(WINDOW, "by material"),
        "assume": ASSUMED.schema(), "many": FLAG, "effort": QUANTITY, "words": NAMES,
        "stands for": _told("words of the trade for a value", type="object", additionalProperties=SCALAR),
    },
    ("says", "dimension", "plausible"),
)  # fmt: skip
BENCH_TEST = Format({"do": TEXTS, "costs": TEXT, "caution": TEXT, "source": SOURCE}, ("do", "source"))
OBSERVATION = Format(
    {
        "ask": TEXT, "why": TEXT, "about": TEXT, "effort": QUANTITY,
        "answers": _told("each answer and what it looks like", type="object", additionalProperties=SCALAR,
                         minProperties=2, maxProperties=8),
        "usual": _told("how often each answer is met", type="object", additionalProperties=SCALAR), "words": NAMES,
        "bench test": BENCH_TEST.schema(),
    },
    ("ask", "answers"),
)  # fmt: skip
PROPERTY = Format({"says": TEXT, "dimension": DIMENSION, "units": UNITS.schema()}, ("says", "dimension"))
MATERIAL = Format(
    {"kind": TEXT, "words": NAMES, "says": TEXT, "properties": _by_name(ASSUMED, "values by property")}, ("kind",)
)
SLOT = Format(
    {
        "slot": TEXT, "ask": TEXT, "words": NAMES, "properties": _by_name(PROPERTY, "what its materials have"),
        "materials": _by_name(MATERIAL, "the materials"),
    },
    ("slot", "ask"),
)  # fmt: skip
MORE_OF_SLOT = Format({"more of": TEXT, "materials": _by_name(MATERIAL, "more materials")}, ("more of", "materials"))
SOURCE_ENTRY = Format(
    {
        "author": TEXT, "title": TEXT, "year": TEXT, "published": TEXT,
        "read": _one_of(get_args(Source.model_fields["read"].annotation), "how much of it was read"),
    },
    ("author", "title", "year"),
)  # fmt: skip
WORD = Format({"says": TEXT, "also": TEXTS, "source": SOURCE}, ("says", "source"))
HAZARD = Format(
    {"says": TEXT, "always": FLAG, "when": WHEN, "words": TEXTS, "source": SOURCE}, ("says", "source")
)  # fmt: skip
COST = Format({"time": QUANTITY, "material": _one_of(("none", "low", "medium", "high"), "how much of it")})
MOVE = Format(
    {
        "setting": TEXT, "to": TEXT, "by": QUANTITY, "into": _one_of(("window",), "its window"), "not below": TEXT,
        "not above": TEXT, "in steps of": QUANTITY,
    },
    ("setting",), ("to", "by", "into"),
)  # fmt: skip
CORRECTION = Format(
    {
        "do": TEXT, "moves": _listed(MOVE, "what it changes"), "cost": COST.schema(), "worsens": TEXTS,
        "worsens also": TEXT, "how to tell": TEXT, "cautions": TEXTS, "when": WHEN, "source": SOURCE,
    },
    ("do", "how to tell", "source"),
)  # fmt: skip
CAUSE = Format(
    {"name": TEXT, "how": TEXT, "corrections": _listed(CORRECTION, "what to do about it")},
    ("name", "how", "corrections"),
)
WEIGHT = _one_of(get_args(Weight), "how much it counts")
RULE = Format(
    {"for": WEIGHT, "against": WEIGHT, "when": WHEN, "because": TEXT, "source": SOURCE, "about": TEXT, "differs": TEXT},
    ("when", "because", "source"), ("for", "against"),
)  # fmt: skip
CANDIDATE = Format(
    {
        "cause": TEXT, "hand-over": TEXT, "often": _one_of(get_args(Often), "how often it is met"), "because": TEXT,
        "rules": _listed(RULE, "what speaks for and against it"),
    },
    ("often",), ("cause", "hand-over"),
)  # fmt: skip
LOOK_ALIKE = Format({"defect": TEXT, "tell": TEXT, "when": WHEN}, ("defect", "tell"))
EXPECTATION = Format(
    {"first": TEXT, "verdict": _one_of(get_args(Verdict), "the verdict"), "advise": TEXTS, "never": TEXTS}
)
EXAMPLE = Format(
    {"name": TEXT, "facts": FACTS, "expect": EXPECTATION.schema()}, ("name", "facts", "expect")
)  # fmt: skip
DEFECT = Format(
    {
        "defect": _told("its id, which is its path", type="string", pattern=rf"^({'|'.join(STAGES)})\.[a-z0-9-]+$"),
        "name": TEXT, "looks": TEXT, "words": TEXTS, "mistaken for": _listed(LOOK_ALIKE, "what it looks like too"),
        "causes": _listed(CANDIDATE, "its causes"), "examples": _listed(EXAMPLE, "worked examples"),
    },
    ("defect", "name", "looks", "words", "causes"),
)  # fmt: skip

GROUPS = ("all", "any", "none", "at least", "of")
TESTS = Format(
    {
        "below": QUANTITY, "above": QUANTITY, "between": ENDS,
        "window": _one_of(("below", "above", "outside", "inside"), "where against its window"), "less than": TEXT,
        "more than": TEXT, "by": QUANTITY,
    }
)  # fmt: skip

FILES: Mapping[str, tuple[str, Sequence[Format | Mapping[str, Format]]]] = {
    "defect-file": ("rules/STAGE/WORDS.yaml: a defect with its causes and rules", (DEFECT,)),
    "causes-file": ("rules/STAGE/_causes*.yaml: causes and what to do about them", ({"causes": CAUSE},)),
    "observations-file": ("rules/STAGE/_observations*.yaml: what can be looked at", ({"observations": OBSERVATION},)),
    "settings-file": (
        "rules/STAGE/_settings*.yaml: what is recorded, and what is computed",
        ({"settings": SETTING, "derived": DERIVED},),
    ),
    "hazards-file": ("rules/STAGE/_hazards*.yaml: cautions", ({"hazards": HAZARD},)),
    "glossary-file": ("rules/STAGE/_glossary.yaml: words of the trade", ({"glossary": WORD},)),
    "sources-file": ("rules/STAGE/_sources*.yaml: published works", ({"sources": SOURCE_ENTRY},)),
    "materials-file": ("rules/materials/WORDS.yaml: a slot with its materials, or more of them", (SLOT, MORE_OF_SLOT)),
}  # fmt: skip
"""Each kind of file: where it stands, and the one mapping or the sections of entries by name that it holds."""


def schema_of(kind: str) -> dict[str, Any]:
    """Return the JSON Schema of a kind of rules file, for the file as plain YAML without dates and such."""
    where, layouts = FILES[kind]
    tops = [_top(layout) for layout in layouts]
    return {
        "$schema": DRAFT, "title": where, **(tops[0] if len(tops) == 1 else {"oneOf": tops}),
        "$defs": {"condition": _condition()} if kind in ("defect-file", "causes-file", "hazards-file") else {},
    }  # fmt: skip


def _top(layout: Format | Mapping[str, Format]) -> dict[str, Any]:
    if isinstance(layout, Format):
        return dict(layout.schema())
    sections = {name: _by_name(entry, "by name") for name, entry in layout.items()}
    return {"type": "object", "properties": sections, "additionalProperties": False, "minProperties": 1}


def _condition() -> Schema:
    """Return the schema of a condition: a group of conditions, or tests by fact, which must all hold."""
    several = {"type": "array", "items": WHEN, "minItems": 1}
    groups = [word for word in GROUPS if word not in ("at least", "of")]
    group: dict[str, Any] = {
        "properties": {**dict.fromkeys((*groups, "of"), several), "at least": {**SCALAR, "pattern": r"^[1-9]\d*$"}},
        "additionalProperties": False,
        "oneOf": [*({"required": [word]} for word in groups), {"required": ["at least", "of"]}],
    }
    test = {
        "anyOf": [SCALAR, {"type": "array", "items": SCALAR, "minItems": 1}, {**TESTS.schema(), "minProperties": 1}]
    }
    return {
        "description": "a fact and its test, several that must all hold, or a group", "type": "object",
        "minProperties": 1, "if": {"anyOf": [{"required": [word]} for word in (*groups, "at least")]},
        "then": group, "else": {"additionalProperties": test},
    }  # fmt: skip
