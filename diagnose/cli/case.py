"""`diagnose case FILE...`: recorded cases, no questions asked."""

from __future__ import annotations

import sys
from pathlib import Path

import click


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="Write the diagnosis as JSON, one object a case.")
@click.option("--explain", is_flag=True, help="Show why: every cause, every number, what would settle it.")
@click.option("--what-if", multiple=True, metavar="'NAME=VALUE'", help="Change a setting and compare; can be repeated.")
@click.option("--without-shop", is_flag=True, help="Leave out what this shop's confirmed cases taught.")
@click.pass_obj
def case_command(
    given: dict[str, str], files: tuple[str, ...], as_json: bool, explain: bool, what_if: tuple[str, ...],
    without_shop: bool,
) -> int:  # fmt: skip
    """Diagnose recorded cases. Exit code 0 when a diagnosis was made, 2 when the input cannot be used."""
    from diagnose.cli.screen import put
    from diagnose.cli.taught import taught
    from diagnose.consult.explain import explained
    from diagnose.errors import BadInput
    from diagnose.model.clean import clean
    from diagnose.model.explanation import ExplainedDiagnosis
    from diagnose.report.text import diagnosis_lines
    from diagnose.report.why import explained_lines
    from diagnose.rulebase.cases import read_case

    of = taught({**given, "--without-shop": "yes"} if without_shop else given).of
    code = 0
    for file in files:
        try:
            case = read_case(Path(file), of.base)
            if what_if:
                _compare(of, case, what_if)
                continue
            diagnosis = explained(of, case) if explain else of.diagnose(case)
        except BadInput as error:
            sys.stderr.write(clean(error.message(), keep_lines=True) + "\n")
            code = 2
            continue
        if as_json:
            sys.stdout.write(diagnosis.model_dump_json(by_alias=True) + "\n")
        elif isinstance(diagnosis, ExplainedDiagnosis):
            put(lambda width: explained_lines(diagnosis, width, case.part))  # noqa: B023 - used at once
        else:
            put(lambda width: diagnosis_lines(diagnosis, width, case.part))  # noqa: B023 - used at once
    return code


def _compare(of: object, case: object, changes: tuple[str, ...]) -> None:
    from diagnose.cli.screen import put
    from diagnose.consult.what_if import what_if
    from diagnose.report.compare import comparison_lines

    put(lambda width: comparison_lines(what_if(of, case, changes), width))  # type: ignore[arg-type]
