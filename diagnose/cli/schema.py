"""`diagnose schema NAME`: the JSON Schema of a result, of a case, or of a kind of rules file."""

from __future__ import annotations

import importlib
import json

import click

SCHEMAS = {
    "case": "case.Case",
    "diagnosis": "diagnosis.Diagnosis",
    "good-run": "comparison.ComparedDiagnosis",
    "side-by-side": "comparison.SideBySide",
    "what-if": "what_if.WhatIf",
    "similar": "likeness.Likes",
    "summary": "shop_picture.ShopPicture",
    "explanation": "explanation.ExplainedDiagnosis",
    "simulation": "simulation.Simulation",
    "coverage": "coverage.Coverage",
}
"""Every record that a command writes as JSON, by the name under which its schema is printed."""
RULES_FILES = (
    "defect-file", "causes-file", "observations-file", "settings-file", "hazards-file", "glossary-file",
    "sources-file", "materials-file",
)  # fmt: skip


@click.command("schema")
@click.argument("name", type=click.Choice([*SCHEMAS, *RULES_FILES]))
def schema_command(name: str) -> int:
    """Print the JSON Schema of a result, of a case, or of a kind of rules file."""
    if name in SCHEMAS:
        module, record = SCHEMAS[name].split(".")
        model = getattr(importlib.import_module(f"diagnose.model.{module}"), record)
        schema = model.model_json_schema(by_alias=True)
    else:
        from diagnose.rulebase.formats import schema_of

        schema = schema_of(name)
    click.echo(json.dumps(schema, indent=1))
    return 0
