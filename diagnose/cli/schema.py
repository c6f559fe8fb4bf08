"""`diagnose schema NAME`: the JSON Schema of a result."""

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
}
"""Every record that a command writes as JSON, by the name under which its schema is printed."""


@click.command("schema")
@click.argument("name", type=click.Choice(list(SCHEMAS)))
def schema_command(name: str) -> int:
    """Print the JSON Schema of a result or a case."""
    module, record = SCHEMAS[name].split(".")
    model = getattr(importlib.import_module(f"diagnose.model.{module}"), record)
    click.echo(json.dumps(model.model_json_schema(by_alias=True), indent=1))
    return 0
