"""Turns a job that is always done throughout into a name that says so, and which place asked for it."""

from collections.abc import Sequence

from inspect_report.advise.saying import listed
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import Job
from inspect_report.records.checklist import axis_labels
from inspect_report.records.position import Position
from inspect_report.telling.manner import say
from inspect_report.telling.positions import at_words, plural, runs


def named(job: Job, places: Sequence[Position], books: Books) -> str:
    """
    A job by its name; one done throughout for the sake of some places names both.

    ``Hone the bores (all cylinders, because of cylinder 3)``; the name alone where all of them asked for it.
    """
    if not job.throughout or any(_is_all(p.axes, places, books) for p in places):
        return job.name
    return say(
        "{name} ({throughout}, because of {places})",
        name=job.name,
        throughout=job.throughout,
        places=_places(places),
    )


def _places(places: Sequence[Position]) -> str:
    """Places in words, those of one axis together: ``friction plates 4 to 6``, ``the left side``."""
    first, *others = places
    labels = [p.labels[0] for p in places]
    alike = len(first.axes) == 1 and all(p.axes == first.axes for p in others)
    if others and alike and all(label.isdigit() for label in labels):
        return say("{things} {labels}", things=plural(first.axes[0]), labels=runs(labels))
    start = at_words(first) if first.labels[0].isdigit() else say("the {place}", place=at_words(first))
    return listed([start, *map(at_words, others)])


def _is_all(axes: tuple[str, ...], places: Sequence[Position], books: Books) -> bool:
    """Whether the places take in every label along their first axis, as the engine itself does."""
    if not axes:
        return True
    labels = {p.label(axes[0]) for p in places}
    try:
        return labels.issuperset(axis_labels(axes[0], books.sheet, books.checklist))
    except KeyError:
        return False
