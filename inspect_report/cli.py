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
from typing import TYPE_CHECKING, Final

from inspect_report.arguments import FORMATS, parser
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
from inspect_report.records.problem import printable_lines
from inspect_report.unchanged import Came, Job, remember

if TYPE_CHECKING:
    from rich.progress import Progress

    from inspect_report.records.problem import Problem


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; returns the exit code."""
    _take_any_letter()
    options = parser().parse_args(arguments)
    run = _RUNS[options.run]
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

    write_filled_sheet(load(options.file), options.out, options.language, options.units)
    return Outcome(DONE, f"{options.out}")


def _blank_sheet(options: argparse.Namespace) -> Outcome:
    from inspect_report.knowledge.bench import bench_books
    from inspect_report.report.sheets import write_sheet

    books = bench_books(options.spec_sheet, options.checklist, options.workshop)
    write_sheet(books, options.depth, options.out, options.language, options.units)
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
        if options.replaced_by:
            return Outcome(
                INPUT_AT_FAULT, complaint="--replaced-by goes with one file: name the replaced issue"
            )
        refuse_twins(options.files)
    jobs = [_job(options, (file,)) for file in options.files]
    outcomes = {i: before for i, job in enumerate(jobs) if (before := _before(options, job))}
    waiting = {i: job for i, job in enumerate(jobs) if i not in outcomes}
    if len(jobs) == 1 and waiting:
        return _one_report(jobs[0])
    outcomes.update(_all_reports(waiting))
    return _joined([outcomes[i] for i in sorted(outcomes)])


def _job(options: argparse.Namespace, files: tuple[Path, ...]) -> Job:
    asked = vars(options)
    own = {
        name: asked[name]
        for name in ("kind", "title", "language", "units", "carry", "unsigned", "replaced_by")
        if name in asked
    }
    return Job(files, options.out, _formats(options), templates=options.templates, **own)


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
        assessments = tuple(assess(case, options.language, options.units) for case in cases)
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
    from inspect_report.report.explain_list import all_ids, all_ids_json

    assessment = assess(load(options.file), options.language, options.units)
    if not options.id:
        return Outcome(DONE, all_ids_json(assessment) if options.json else all_ids(assessment))
    try:
        if options.json:
            return Outcome(DONE, why_json(assessment, options.id))
        return Outcome(DONE, why(assessment, options.id, budget=options.budget))
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


def _unpack(options: argparse.Namespace) -> Outcome:
    from inspect_report.report.beside import second_process

    with second_process() as beside:
        from inspect_report.unpacking import CannotUnpack, make_again, told_again, told_unpacking, unpack

        outcomes: list[Outcome] = []
        try:
            unpacked = unpack(options.file, options.out, options.missing_from)
            outcomes.append(_found(*told_unpacking(unpacked, options.file)))
            if options.again:
                again = make_again(unpacked, options.file, beside)
                outcomes.append(_found(*told_again(unpacked, options.file, again)))
        except CannotUnpack as fault:
            outcomes.append(_found("", str(fault)))
        return _joined(outcomes)


def _found(said: str, complaint: str) -> Outcome:
    code = INPUT_AT_FAULT if complaint else DONE
    return Outcome(code, printable_lines(said), printable_lines(complaint))


def _method(options: argparse.Namespace) -> Outcome:
    from inspect_report.report.methods import UnknownMethod, method_list, method_page

    try:
        return Outcome(DONE, method_page(options.name) if options.name else method_list())
    except UnknownMethod as fault:
        return Outcome(INPUT_AT_FAULT, complaint=str(fault))


def _certificate(options: argparse.Namespace) -> Outcome:
    from inspect_report.report.signing import grouped, new_passphrase
    from inspect_report.vouching.selfmade import write_self_made

    files, fingerprint = write_self_made(options.name, options.out, new_passphrase, options.years)
    key, public = files
    return Outcome(
        DONE,
        f"{key}: key and certificate; keep it, and name it behind 'certificate' in the workshop file\n"
        f"{public}: the certificate without the key; give it to whoever is to check your reports\n"
        f"SHA-256 {grouped(fingerprint)}: its fingerprint; print it on your letters\n"
        "You made this certificate yourself: it shows that reports come from whoever has the key, and nobody "
        "but you vouches for the name in it.",
        files=files,
    )


def _verify(options: argparse.Namespace) -> Outcome:
    from inspect_report.report.signing import passphrase
    from inspect_report.vouching.checking import reader_of, verify_all
    from inspect_report.vouching.verdict_text import as_json, as_text

    reader = reader_of(options.trust, options.digest, passphrase, options.workshop)
    verdicts = verify_all(options.files, reader, options.against)
    told = as_json(verdicts) if options.json else "\n\n".join(map(as_text, verdicts))
    return Outcome(max(one.code for one in verdicts), told)


_RUNS: Final[Mapping[str, Callable[[argparse.Namespace], Outcome]]] = {
    "new": _new,
    "sheet": _sheet,
    "check": _check,
    "report": _report,
    "history": _history,
    "why": _why,
    "changes": _changes,
    "keep": _keep,
    "certificate": _certificate,
    "verify": _verify,
    "unpack": _unpack,
    "method": _method,
}
