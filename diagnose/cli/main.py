"""Where the command starts: the interview at once, everything else through click. Nothing heavy is imported here."""

from __future__ import annotations

import errno
import os
import sys


def main() -> None:
    """Run the command and turn every error into one message and an exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        code = _run(sys.argv[1:])
        sys.stdout.flush()
    except KeyboardInterrupt:
        code = 130
    except BrokenPipeError:
        # The reader went away; leave quietly.
        _write_no_more()
        code = 0
    except OSError as error:
        code = _no_room(error) if error.errno in (errno.ENOSPC, errno.EDQUOT) else _report(error)
    except Exception as error:
        code = _report(error)
    sys.exit(code)


def _run(arguments: list[str]) -> int:
    if not arguments or (arguments[0] in ("--units", "--rules", "--library") and len(arguments) == 2):
        from diagnose.cli.talk import talk

        return talk({arguments[0]: arguments[1]} if arguments else {})
    from diagnose.cli.commands import run

    return run(arguments)


def _write_no_more() -> None:
    """Keep Python from writing to standard output once more at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _no_room(error: OSError) -> int:
    """Say that what the output goes to is full."""
    _write_no_more()
    where = f"{error.filename}: " if error.filename else ""
    sys.stderr.write(f"{where}there is no room left to write to. Free some space, or write to another place.\n")
    return 1


def _report(error: Exception) -> int:
    from diagnose.cli.wrap import tell
    from diagnose.errors import DiagnoseError, RulesError

    if isinstance(error, DiagnoseError):
        tell(error.message())
        if isinstance(error, RulesError):
            sys.stderr.writelines(f"  {issue}\n" for issue in error.issues[:20])
        return error.exit_code
    from diagnose.cli.trouble import keep_log

    sys.stderr.write(f"Something broke that should not have. Your answers are safe.\nDetails: {keep_log(error)}\n")
    return 1
