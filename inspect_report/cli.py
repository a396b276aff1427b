"""Turns a command line into calls and their ends into exit codes a script can use."""

import argparse
import gc
import os
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from inspect_report.batch import (
    CHECK_FAILED,
    DONE,
    INPUT_AT_FAULT,
    OUR_FAULT,
    STOPPED,
    Outcome,
    all_cores,
    guarded,
    refuse_twins,
    report_many,
    report_one,
    reported_before,
)
from inspect_report.places import languages
from inspect_report.unchanged import Came, Job, remember
from inspect_report.version import __version__

if TYPE_CHECKING:
    from rich.progress import Progress

    from inspect_report.records.problem import Problem

KINDS = ("pre-purchase assessment", "rebuild quote", "condition history")
DEPTHS = ("in the frame", "top end off", "fully stripped", "after assembly")
FORMATS = ("html", "pdf", "json")

_CODES = """exit codes:
  0  done
  1  done, but a check of ours failed; the report says which
  2  a file or the command is at fault; what is printed says where and how to mend it
  3  a fault of this program, or a page could not be made or written
130  stopped by the keyboard
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; returns the exit code."""
    _take_any_letter()
    options = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], Outcome] = options.run
    try:
        return _told(guarded(partial(run, options)))
    except KeyboardInterrupt:
        print("stopped; files written before are whole, the others are not begun", file=sys.stderr)
        return STOPPED


def run() -> int:
    """
    The command as installed, in a process of its own.

    It makes much, drops little and ends soon: no search for garbage would find any, at its end least of all.
    """
    gc.disable()
    code = main()
    gc.freeze()
    return code


def _take_any_letter() -> None:
    """A terminal that cannot show a letter shows a stand-in for it, instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def _told(outcome: Outcome) -> int:
    """Print what there is to tell; returns the exit code, also where nobody listens any more."""
    try:
        if outcome.complaint:
            print(outcome.complaint, file=sys.stderr, flush=True)
        if outcome.said:
            print(outcome.said, flush=True)
    except BrokenPipeError:
        _stop_printing()
    except OSError as fault:
        _stop_printing()
        print(f"the output cannot be written: {fault.strerror}", file=sys.stderr)
        return max(outcome.code, OUR_FAULT)
    return outcome.code


def _stop_printing() -> None:
    """Let what is left to print go nowhere, so that the end of the program does not trip over it."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="inspect-report",
        description="Makes a graded, priced condition report from an engine inspection.",
        epilog=_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"inspect-report {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    making = (_add_new, _add_sheet, _add_check, _add_report, _add_history)
    for add in (*making, _add_why, _add_changes, _add_keep, _add_method):
        add(commands)
    return parser


Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _add_language(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--language",
        choices=languages(),
        default="",
        help="language of the report, when not the one of the inspection or the workshop file",
    )


def _add_engine(command: argparse.ArgumentParser, *, required: bool) -> None:
    command.add_argument(
        "--spec-sheet", type=Path, required=required, metavar="FILE", help="the engine's spec sheet"
    )
    command.add_argument(
        "--depth", choices=DEPTHS, required=required, help="how deep the engine will be opened"
    )
    command.add_argument(
        "--checklist",
        default="",
        metavar="ID|FILE",
        help="shipped checklist or file (default: by the engine's strokes)",
    )
    command.add_argument("--workshop", type=Path, metavar="FILE", help="workshop file")


def _add_new(commands: Commands) -> None:
    command = commands.add_parser("new", help="write an inspection file to fill in")
    _add_engine(command, required=True)
    command.add_argument(
        "--out", type=Path, required=True, metavar="FILE", help="file to write; never overwritten"
    )
    command.set_defaults(run=_new)


def _add_sheet(commands: Commands) -> None:
    command = commands.add_parser(
        "sheet",
        help="print the checklist as a PDF to fill in with a pencil, blank or with what was read so far",
        epilog="Blank: --spec-sheet and --depth. With what was read so far: the inspection FILE alone.",
    )
    command.add_argument(
        "file", nargs="?", type=Path, metavar="FILE", help="inspection; what it holds stands in its boxes"
    )
    _add_engine(command, required=False)
    _add_language(command)
    command.add_argument("--out", type=Path, required=True, metavar="FILE", help="PDF to write")
    command.set_defaults(run=_sheet)


def _add_check(commands: Commands) -> None:
    command = commands.add_parser(
        "check", help="name every mistake in inspection files, spec sheets and other books"
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.set_defaults(run=_check)


def _add_out(command: argparse.ArgumentParser) -> None:
    command.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder to write to")
    _add_language(command)
    command.add_argument(
        "--only",
        action="append",
        choices=FORMATS,
        metavar="FORMAT",
        help="html, pdf or json; all three when left out",
    )
    command.add_argument(
        "--templates",
        type=Path,
        metavar="DIR",
        help="folder of own templates and style sheets, used in place of shipped ones of the same name",
    )
    command.add_argument(
        "--anew", action="store_true", help="make everything anew, also where nothing has changed since"
    )


def _add_report(commands: Commands) -> None:
    command = commands.add_parser("report", help="make the report of each inspection: HTML, PDF and JSON")
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.add_argument(
        "--kind", choices=KINDS, help="kind of report, when not the one the inspection names"
    )
    _add_out(command)
    command.set_defaults(run=_report)


def _add_history(commands: Commands) -> None:
    command = commands.add_parser(
        "history", help="make one condition history of several inspections and engines"
    )
    command.add_argument("files", nargs="+", type=Path, metavar="FILE")
    command.add_argument("--title", default="", help="what the history is of")
    _add_out(command)
    command.set_defaults(run=_history)


def _add_why(commands: Commands) -> None:
    command = commands.add_parser("why", help="tell how a finding came about, from reading to work")
    command.add_argument("file", type=Path, metavar="FILE")
    command.add_argument(
        "finding",
        metavar="FINDING",
        help="for example valve-clearance.2.inlet-1; or an order: least, advised, complete or ordered",
    )
    _add_language(command)
    command.add_argument("--budget", action="store_true", help="add where its uncertainty comes from")
    command.add_argument("--json", action="store_true", help="as JSON, for another program")
    command.set_defaults(run=_why)


def _add_changes(commands: Commands) -> None:
    command = commands.add_parser(
        "changes", help="tell what a later assessment of an engine says otherwise, and by which cause"
    )
    command.add_argument("before", type=Path, metavar="BEFORE", help="inspection, or JSON of its report")
    command.add_argument("after", type=Path, metavar="AFTER", help="the same, later or by other books")
    command.add_argument("--json", action="store_true", help="as JSON, for another program")
    command.set_defaults(run=_changes)


def _add_keep(commands: Commands) -> None:
    command = commands.add_parser(
        "keep",
        help="copy an inspection with every file and book it rests on, to judge it again in later years",
    )
    command.add_argument("file", type=Path, metavar="FILE")
    command.add_argument("--out", type=Path, required=True, metavar="DIR", help="new folder to keep it in")
    command.add_argument(
        "--sent",
        type=Path,
        metavar="JSON",
        help="JSON report as sent out; nothing is kept unless the inspection still gives it, byte for byte",
    )
    command.set_defaults(run=_keep)


def _add_method(commands: Commands) -> None:
    command = commands.add_parser(
        "method", help="tell how a quantity is measured, by which formula, how surely and on what source"
    )
    command.add_argument("name", nargs="?", default="", metavar="NAME", help="left out: list them all")
    command.set_defaults(run=_method)


def _new(options: argparse.Namespace) -> Outcome:
    from inspect_report.knowledge.bench import new_inspection

    text = new_inspection(options.spec_sheet, options.depth, options.checklist, options.workshop, options.out)
    try:
        options.out.open("x").close()
    except FileExistsError:
        return Outcome(
            INPUT_AT_FAULT, complaint=f"{options.out} exists already; give another name, nothing was written"
        )
    except OSError as fault:
        return Outcome(
            INPUT_AT_FAULT, complaint=f"{options.out} cannot be written: {fault.strerror}; check the folder"
        )
    _fill(options.out, text)
    return Outcome(
        DONE,
        f"{options.out}: ready to fill in; 'inspect-report check {options.out}' says what is still missing",
    )


def _fill(place: Path, text: str) -> None:
    """Write a file whose place is taken already; it is there whole or not at all."""
    from inspect_report.report.writing import write_all

    try:
        write_all({place: text.encode()})
    except BaseException:
        place.unlink(missing_ok=True)
        raise


def _sheet(options: argparse.Namespace) -> Outcome:
    blank = (options.spec_sheet, options.depth, options.checklist, options.workshop)
    if options.file is None and not (options.spec_sheet and options.depth):
        return Outcome(
            INPUT_AT_FAULT, complaint="name an inspection, or --spec-sheet and --depth for a blank sheet"
        )
    if options.file is not None and any(blank):
        return Outcome(
            INPUT_AT_FAULT,
            complaint="an inspection names its books and depth itself; leave out the other options",
        )
    return _filled_sheet(options) if options.file is not None else _blank_sheet(options)


def _filled_sheet(options: argparse.Namespace) -> Outcome:
    from inspect_report.knowledge.shelf import load
    from inspect_report.report.sheets import write_filled_sheet

    write_filled_sheet(load(options.file), options.out, options.language)
    return Outcome(DONE, f"{options.out}")


def _blank_sheet(options: argparse.Namespace) -> Outcome:
    from inspect_report.knowledge.bench import bench_books
    from inspect_report.report.sheets import write_sheet

    books = bench_books(options.spec_sheet, options.checklist, options.workshop)
    write_sheet(books, options.depth, options.out, options.language)
    return Outcome(DONE, f"{options.out}")


def _check(options: argparse.Namespace) -> Outcome:
    return _joined([guarded(partial(_check_one, path)) for path in options.files])


def _check_one(path: Path) -> Outcome:
    from inspect_report.knowledge.shelf import check
    from inspect_report.records.problem import InvalidKnowledge, told

    found = check(path)
    failing = _failing_cases(path)
    if failing:
        raise InvalidKnowledge((*found, *failing))
    return Outcome(DONE, f"{path}: in order", "\n\n".join(told(p) for p in found))


def _failing_cases(path: Path) -> "tuple[Problem, ...]":
    """Cases of a rulebook that do not come out; only a rulebook has rules at its margin."""
    if b"\nrules:" not in path.read_bytes():
        return ()
    from inspect_report.advise.own_cases import case_problems

    return case_problems(path)


def _formats(options: argparse.Namespace) -> tuple[str, ...]:
    return tuple(f for f in FORMATS if not options.only or f in options.only)


def _report(options: argparse.Namespace) -> Outcome:
    if len(options.files) > 1:
        refuse_twins(options.files)
    jobs = [_job(options, (file,)) for file in options.files]
    outcomes = {i: before for i, job in enumerate(jobs) if (before := _before(options, job))}
    waiting = {i: job for i, job in enumerate(jobs) if i not in outcomes}
    if len(jobs) == 1 and waiting:
        return _one_report(jobs[0])
    outcomes.update(_all_reports(waiting))
    return _joined([outcomes[i] for i in sorted(outcomes)])


def _job(options: argparse.Namespace, files: tuple[Path, ...]) -> Job:
    kind, title = getattr(options, "kind", None), getattr(options, "title", "")
    return Job(files, options.out, _formats(options), kind, title, options.templates, options.language)


def _before(options: argparse.Namespace, job: Job) -> Outcome | None:
    return None if options.anew else reported_before(job)


def _one_report(job: Job) -> Outcome:
    """The report of one inspection, made by two processes where that is quicker."""
    from inspect_report.report.beside import second_process

    with second_process() as beside:
        return report_one(job, beside)


def _all_reports(waiting: Mapping[int, Job]) -> dict[int, Outcome]:
    """Outcomes of many jobs by their number, with a bar that shows how far it is."""
    if not waiting:
        return {}
    outcomes: dict[int, Outcome] = {}
    numbers = list(waiting)
    with all_cores(len(numbers)) as executor, _progress() as bar:
        task = bar.add_task("reports", total=len(numbers)) if bar else None
        for index, outcome in report_many(list(waiting.values()), executor):
            outcomes[numbers[index]] = outcome
            if bar and task is not None:
                bar.advance(task)
    return outcomes


def _progress() -> "AbstractContextManager[Progress | None]":
    """A progress bar on a terminal, and nothing where the output goes to a file or a script."""
    if not sys.stderr.isatty():
        return nullcontext()
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    return Progress(*columns, console=Console(stderr=True))


def _joined(outcomes: Sequence[Outcome]) -> Outcome:
    """One outcome of many: the gravest code, all that was said."""
    return Outcome(
        max((o.code for o in outcomes), default=DONE),
        "\n".join(o.said for o in outcomes if o.said),
        "\n\n".join(o.complaint for o in outcomes if o.complaint),
        tuple(f for o in outcomes for f in o.files),
    )


def _history(options: argparse.Namespace) -> Outcome:
    from inspect_report.records.letters import odd_letter

    odd = odd_letter(options.title)
    if odd:
        return Outcome(INPUT_AT_FAULT, complaint=f"--title: {odd.title}: {odd.found}; {odd.mend}")
    job, begun = _job(options, tuple(options.files)), time.time_ns()
    before = _before(options, job)
    if before:
        return before
    from inspect_report.report.beside import second_process

    with second_process() as beside:
        # Imported with the second process begun, which has to come before arrays.
        from inspect_report.knowledge.grounds import files_read
        from inspect_report.knowledge.shelf import load_all
        from inspect_report.pipeline import assess
        from inspect_report.report.render import render_history

        cases = load_all(options.files)
        read = [path for case in cases for path in files_read(case)]
        assessments = tuple(assess(case, options.language) for case in cases)
        files = render_history(
            assessments,
            options.out,
            title=options.title,
            formats=_formats(options),
            templates=options.templates,
            beside=beside,
        )
    code = max((1 for a in assessments if a.failed), default=DONE)
    remember(job, read, Came(code, "", tuple(map(str, files))), begun)
    return Outcome(code, "\n".join(str(f) for f in files), files=tuple(files))


def _why(options: argparse.Namespace) -> Outcome:
    from inspect_report.knowledge.shelf import load
    from inspect_report.pipeline import assess
    from inspect_report.report.explain import UnknownFinding, why, why_json

    assessment = assess(load(options.file), options.language)
    try:
        if options.json:
            return Outcome(DONE, why_json(assessment, options.finding))
        return Outcome(DONE, why(assessment, options.finding, budget=options.budget))
    except UnknownFinding as fault:
        return Outcome(INPUT_AT_FAULT, complaint=str(fault))


def _changes(options: argparse.Namespace) -> Outcome:
    from inspect_report.opening import told_changes

    text, failed = told_changes(options.before, options.after, as_json=options.json)
    return Outcome(CHECK_FAILED if failed else DONE, text)


def _keep(options: argparse.Namespace) -> Outcome:
    from inspect_report.keeping import CannotKeep, keep

    try:
        kept = keep(options.file, options.out, options.sent)
    except CannotKeep as fault:
        return Outcome(INPUT_AT_FAULT, complaint=str(fault))
    return Outcome(
        DONE, f"{kept}: kept with all it rests on, and judged again from there with the same bytes"
    )


def _method(options: argparse.Namespace) -> Outcome:
    from inspect_report.report.methods import UnknownMethod, method_list, method_page

    try:
        return Outcome(DONE, method_page(options.name) if options.name else method_list())
    except UnknownMethod as fault:
        return Outcome(INPUT_AT_FAULT, complaint=str(fault))
