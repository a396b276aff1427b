"""Turns many inspection files into reports at once, each file with an outcome of its own."""

import gc
import os
import signal
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from threading import current_thread, main_thread
from typing import TYPE_CHECKING

from inspect_report.records.problem import (
    CannotRender,
    InspectReportError,
    InvalidInput,
    InvalidInspection,
    Problem,
    told,
)
from inspect_report.unchanged import Came, Job, came_of, remember

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from inspect_report.knowledge.case import Case
    from inspect_report.knowledge.evidence import Evidence
    from inspect_report.records.yaml import Document
    from inspect_report.report.signing import Signing

DONE, CHECK_FAILED, INPUT_AT_FAULT, OUR_FAULT = 0, 1, 2, 3
STOPPED = 130
"""128 and the number of the interrupt signal, as shells count."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one piece of work: exit code, what to print and to which stream, files written."""

    code: int
    said: str = ""
    complaint: str = ""
    files: tuple[Path, ...] = ()


def _collect_seldom() -> None:
    """Let the garbage collector run seldom: a report makes much and drops it all at once."""
    gc.set_threshold(100_000, 50, 50)


def guarded(action: Callable[[], Outcome]) -> Outcome:
    """
    An outcome for every end an action can come to; a fault of ours is told in one line, never as a traceback.

    With the environment variable ``INSPECT_REPORT_RAISE`` set, faults of ours are raised for developers.
    """
    try:
        return action()
    except InvalidInput as fault:
        return Outcome(INPUT_AT_FAULT, complaint="\n\n".join(told(p) for p in fault.problems))
    except CannotRender as fault:
        return Outcome(OUR_FAULT, complaint=str(fault))
    except InspectReportError as fault:
        return Outcome(INPUT_AT_FAULT, complaint=str(fault))
    except Exception as fault:
        if os.environ.get("INSPECT_REPORT_RAISE"):
            raise
        what = f"{type(fault).__name__}: {fault}".splitlines()[0]
        return Outcome(
            OUR_FAULT,
            complaint=f"a fault of this program, not of your file: {what}\n"
            "Please report it with the file; INSPECT_REPORT_RAISE=1 before the command shows where it arose.",
        )


def report_one(job: Job, beside: "Executor | None" = None) -> Outcome:
    """Read, judge, draw and sign the one inspection of a job."""
    from inspect_report.knowledge.shelf import load
    from inspect_report.pipeline import assess
    from inspect_report.report.render import render
    from inspect_report.succession import successor_of

    (path,), begun = job.files, time.time_ns()
    case = load(path)
    certificate = _certificate(case)
    signing = None if job.unsigned or "pdf" not in job.formats else _signing(certificate)
    assessment = assess(case, job.language, job.units)
    proof, complaints = _proof(case, job.templates)
    later = successor_of(case.inspection.head, job.replaced_by, job.templates) if job.replaced_by else None
    files = render(
        assessment,
        job.out,
        kind=job.kind,
        formats=job.formats,
        templates=job.templates,
        beside=beside,
        evidence=proof,
        carry=job.carry,
        signing=signing,
        replaced_by=later,
    )
    complaint = [*(told(w) for w in case.warnings), *complaints]
    if proof and "pdf" in job.formats:
        complaint += _left_out(path, job, proof)
    if assessment.failed:
        failed = ", ".join(f"{f.characteristic} ({f.message})" for f in assessment.failures)
        complaint.append(f"{path}: a check of ours failed: {failed}; the report says so on its first page")
    came = Came(CHECK_FAILED if assessment.failed else DONE, "\n\n".join(complaint), tuple(map(str, files)))
    if proof and not later:
        # Without it nobody knows what a later run would read, nor what a later issue rests on.
        remember(job, (*proof.read, *((certificate,) if certificate else ())), came, begun)
    return Outcome(came.code, f"{path}: {', '.join(f.name for f in files)}", came.complaint, tuple(files))


def _certificate(case: "Case") -> Path | None:
    """The file of the workshop's certificate, where it names one."""
    shop = (Path(case.folder) / case.inspection.head.workshop).parent
    return case.books.workshop.certificate_file(shop)


def _signing(certificate: Path | None) -> "Signing | None":
    if certificate is None:
        return None
    from inspect_report.report.signing import passphrase, signing_with

    return signing_with(certificate, passphrase)


def _proof(case: "Case", templates: Path | None) -> "tuple[Evidence | None, list[str]]":
    """The evidence, or why a report has none: files that nobody else would find, a history with a gap."""
    from inspect_report.knowledge.evidence import evidence
    from inspect_report.knowledge.grounds import CHANGED

    try:
        return evidence(case, templates), []
    except InvalidInput as fault:
        if any(p.code == CHANGED for p in fault.problems):
            raise
        without = "the report is made all the same, but without a digest, and carries its inspection alone"
        return None, [*(told(p) for p in fault.problems), f"{case.inspection.file}: {without}"]


def _left_out(path: Path, job: Job, proof: "Evidence") -> list[str]:
    """What is said where pictures do not travel along, though nobody asked for that."""
    from inspect_report.report.carrying import MOST_OF_PICTURES, carried_of, left_out

    without = left_out(proof, carried_of(job.carry, proof))
    size = sum(len(picture.data) for picture in without) / 1e6
    if not size or job.carry in ("files", "list"):
        return []
    if job.carry == "all":
        return [f"{path}: pictures of {size:.1f} MB are not carried: what the camera noted cannot be removed"]
    most = MOST_OF_PICTURES / 1e6
    return [
        f"{path}: the pictures, {size:.1f} MB, are listed in the PDF but not carried, being more than "
        f"{most:.0f} MB; --carry all carries them, and 'unpack' takes them with --missing-from"
    ]


def reported_before(job: Job) -> Outcome | None:
    """What came of a job where nothing has changed since; None where it is to be done."""
    came = came_of(job)
    if came is None:
        return None
    files = tuple(map(Path, came.written))
    told_of = ", ".join(map(str, job.files))
    said = f"{told_of}: nothing has changed since these were made: {', '.join(f.name for f in files)}"
    return Outcome(came.code, said, came.complaint, files)


def report_guarded(job: Job) -> Outcome:
    """``report_one`` with every end it can come to."""
    _collect_seldom()
    return guarded(partial(report_one, job))


def report_many(jobs: Sequence[Job], executor: "Executor") -> Iterator[tuple[int, Outcome]]:
    """Outcomes with the index of their job, as they come."""
    from concurrent.futures import as_completed

    with _interrupts_kept_from_workers():
        waiting = {executor.submit(report_guarded, job): i for i, job in enumerate(jobs)}
    for done in as_completed(waiting):
        yield waiting[done], done.result()


@contextmanager
def all_cores(jobs: int) -> "Iterator[Executor]":
    """An executor with a process for each core, no more than there are jobs; at its end nothing is begun."""
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    workers = max(1, min(jobs, os.cpu_count() or 1))
    executor = ProcessPoolExecutor(max_workers=workers, mp_context=get_context("spawn"))
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


@contextmanager
def _interrupts_kept_from_workers() -> Iterator[None]:
    """Processes begun here inherit that an interrupt is ignored: they end what they write, and we tell."""
    if current_thread() is not main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def refuse_twins(paths: Iterable[Path]) -> None:
    """
    Refuse two files with one number and issue before either is written: they would share their names.

    Raises:
        InvalidInspection: one problem for each file that repeats another.
    """
    first: dict[tuple[str, str], Path] = {}
    problems = []
    for path in paths:
        document = _readable(path)
        key = _number_and_issue(document) if document else None
        if document is None or key is None:
            continue
        if key in first:
            problems.append(_twin(document, first[key], key))
        first.setdefault(key, path)
    if problems:
        raise InvalidInspection(problems)


def _readable(path: Path) -> "Document | None":
    """The document, or None where the fault is told when the file is reported."""
    from inspect_report.records.shape import read_file

    try:
        return read_file(path)
    except InvalidInput:
        return None


def _number_and_issue(document: "Document") -> tuple[str, str] | None:
    data = document.data
    if not isinstance(data, dict) or "inspection" not in data:
        return None
    return str(data["inspection"]), str(data.get("issue", 1))


def _twin(document: "Document", first: Path, key: tuple[str, str]) -> Problem:
    return document.problem(
        "V360",
        "two files with one number and issue",
        ("inspection",),
        f"{key[0]}, issue {key[1]}, also in {first}",
        "a number and issue of its own for every file",
        "name each file once, or raise 'issue' in the later one",
    )
