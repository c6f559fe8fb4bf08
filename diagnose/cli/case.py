"""`diagnose case FILE...`: recorded cases, no questions asked."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from diagnose.consult import Consultant
    from diagnose.model.case import Case
    from diagnose.model.diagnosis import Diagnosis


@click.command()
@click.argument("files", nargs=-1, required=True, type=click.Path())
@click.option("--json", "as_json", is_flag=True, help="Write the diagnosis as JSON, one object a case.")
@click.option("--explain", is_flag=True, help="Show why: every cause, every number, what would settle it.")
@click.option("--what-if", multiple=True, metavar="'NAME=VALUE'", help="Change a setting and compare; can be repeated.")
@click.option("--without-shop", is_flag=True, help="Leave out what this shop's confirmed cases taught.")
@click.option("--side-by-side", is_flag=True, help="Show what differs between two cases.")
@click.option("--html", "page", type=click.Path(), metavar="OUT", help="Write the whole report of one case as a page.")
@click.option("--good", type=click.Path(), metavar="FILE", help="A run that came out well, as evidence.")
@click.pass_obj
def case_command(
    given: dict[str, str], files: tuple[str, ...], as_json: bool, explain: bool, what_if: tuple[str, ...],
    without_shop: bool, side_by_side: bool, page: str | None, good: str | None,
) -> int:  # fmt: skip
    """Diagnose recorded cases. Exit code 0 when a diagnosis was made, 2 when the input cannot be used."""
    from diagnose.cli.taught import taught
    from diagnose.consult.worded import worded
    from diagnose.errors import BadInput
    from diagnose.model.clean import clean
    from diagnose.rulebase.cases import read_case

    of = taught({**given, "--without-shop": "yes"} if without_shop else given).of
    if side_by_side:
        return _side_by_side(of, files, as_json)
    sound = read_case(Path(good), of.base, good=True) if good else None
    if page:
        return _page(of, files, sound, Path(page))
    code = 0
    for file in files:
        try:
            case = read_case(Path(file), of.base)
            of.show.follow(case)
            if what_if:
                _compare(of, case, what_if, as_json)
                continue
            found = _diagnosis(of, case, sound, explain)
        except BadInput as error:
            sys.stderr.write(clean(error.message(), keep_lines=True) + "\n")
            code = 2
            continue
        if as_json:
            sys.stdout.write(found.model_dump_json(by_alias=True) + "\n")
        else:
            _show(worded(found, of.show.system), case.part)
    return code


def _diagnosis(of: Consultant, case: Case, good: Case | None, explain: bool) -> Diagnosis:
    from diagnose.consult.explain import explained
    from diagnose.consult.good_run import compared

    if explain:
        return explained(of, case, good)
    return compared(of, case, good)[1] if good else of.diagnose(case)


def _show(found: Diagnosis, part: str) -> None:
    from diagnose.cli.screen import put
    from diagnose.model.explanation import ExplainedDiagnosis
    from diagnose.report.screen_lines import Line
    from diagnose.report.side_by_side import good_run_lines
    from diagnose.report.text import diagnosis_lines
    from diagnose.report.why import explained_lines

    run = getattr(found, "good_run", None)
    if run is not None:
        put(lambda width: [*good_run_lines(run, width), Line("")])
    if isinstance(found, ExplainedDiagnosis):
        put(lambda width: explained_lines(found, width, part))
    else:
        put(lambda width: diagnosis_lines(found, width, part))


def _page(of: Consultant, files: tuple[str, ...], good: Case | None, out: Path) -> int:
    from diagnose.consult.explain import explained
    from diagnose.consult.good_run import AgainstGoodRun
    from diagnose.errors import BadInput
    from diagnose.model.clean import clean
    from diagnose.report.case_page import case_page
    from diagnose.report.page import check_place, write_page
    from diagnose.rulebase.cases import read_case

    if len(files) != 1:
        raise BadInput(f"{len(files)} cases do not go on one page.", where="--html", next_step="Name one.")
    check_place(out)  # before any work is done
    case = read_case(Path(files[0]), of.base)
    of.show.follow(case)
    found = explained(of, case, good)
    by = AgainstGoodRun(of, case, good) if good else of
    write_page(case_page(by, case, found), out)
    click.echo(clean(f"{out}: written"))
    return 0


def _side_by_side(of: Consultant, files: tuple[str, ...], as_json: bool) -> int:
    from diagnose.cli.screen import put
    from diagnose.consult.side_by_side import side_by_side
    from diagnose.consult.worded import worded
    from diagnose.errors import BadInput
    from diagnose.report.side_by_side import side_by_side_lines
    from diagnose.rulebase.cases import read_case

    if len(files) != 2:
        raise BadInput(
            f"{len(files)} case files cannot stand side by side.", where="--side-by-side", next_step="Name two."
        )
    one, other = (read_case(Path(file), of.base) for file in files)
    of.show.follow(one)
    found = side_by_side(of, one, other)
    if as_json:
        sys.stdout.write(found.model_dump_json(by_alias=True) + "\n")
    else:
        put(lambda width: side_by_side_lines(worded(found, of.show.system), width))
    return 0


def _compare(of: Consultant, case: Case, changes: tuple[str, ...], as_json: bool) -> None:
    from diagnose.cli.screen import put
    from diagnose.consult.what_if import what_if
    from diagnose.consult.worded import worded
    from diagnose.report.compare import comparison_lines

    found = what_if(of, case, changes)
    if as_json:
        sys.stdout.write(found.model_dump_json(by_alias=True) + "\n")
    else:
        put(lambda width: comparison_lines(worded(found, of.show.system), width))
