"""Turns the choices a customer made into faults where they name no job, one job twice, or a day to come."""

from inspect_report.records.faults import Faults
from inspect_report.records.inspection import CustomerChoice, InspectionHead
from inspect_report.records.problem import nearest, some
from inspect_report.records.vocabulary import Vocabulary
from inspect_report.records.yaml import Path


def check_customer_choices(head: InspectionHead, vocabulary: Vocabulary, faults: Faults) -> None:
    """Note choices about unknown jobs, two about one job on one day, and those made after this issue."""
    seen: set[tuple[str, object]] = set()
    for i, choice in enumerate(head.choices):
        path: Path = ("choices", i)
        if choice.job not in vocabulary.jobs:
            _unknown_job(choice, vocabulary, path, faults)
        if choice.date > head.dates.issued:
            _after_issue(choice, head, path, faults)
        if (choice.job, choice.date) in seen:
            _twice(choice, path, faults)
        seen.add((choice.job, choice.date))


def _unknown_job(choice: CustomerChoice, vocabulary: Vocabulary, path: Path, faults: Faults) -> None:
    listed = sorted(vocabulary.jobs)
    near = nearest(choice.job, listed)
    mend = f"write {near!r} if that is meant" if near else "take one of those listed, or delete the entry"
    title, at = "job that the workbook does not have", (*path, "job")
    faults.add("V380", title, at, choice.job, some(listed, 24) or "nothing of the kind", mend)


def _after_issue(choice: CustomerChoice, head: InspectionHead, path: Path, faults: Faults) -> None:
    title, allowed = "choice made after this issue", f"{head.dates.issued}, the day of issue, or before"
    mend = "raise 'issue', date it anew under 'issued', and name the issue it 'replaces'"
    faults.add("V381", title, (*path, "date"), str(choice.date), allowed, mend)


def _twice(choice: CustomerChoice, path: Path, faults: Faults) -> None:
    title, found = "two choices about one job on one day", f"{choice.job} on {choice.date}"
    faults.add("V382", title, (*path, "job"), found, "one a day", "keep the one that holds")
