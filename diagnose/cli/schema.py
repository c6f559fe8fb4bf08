"""`diagnose schema NAME`: the JSON Schema of a result."""

from __future__ import annotations

import json

import click


@click.command("schema")
@click.argument("name", type=click.Choice(["diagnosis", "case"]))
def schema_command(name: str) -> int:
    """Print the JSON Schema of a diagnosis or a case."""
    from diagnose.model.case import Case
    from diagnose.model.diagnosis import Diagnosis

    model = Diagnosis if name == "diagnosis" else Case
    click.echo(json.dumps(model.model_json_schema(by_alias=True), indent=1))
    return 0
