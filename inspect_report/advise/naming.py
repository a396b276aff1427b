"""Turns a job that is always done throughout into a name that says so, and which place asked for it."""

from collections.abc import Sequence

from inspect_report.advise.saying import listed
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.workbook import Job
from inspect_report.records.checklist import axis_labels
from inspect_report.records.position import Position
from inspect_report.telling.manner import say
from inspect_report.telling.positions import at_words


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
    """Places in words, those of one axis together: ``friction plate 4, 5 and 6``, ``the left side``."""
    first, *others = places
    numbered = first.labels[-1].isdigit()
    start = at_words(first) if first.labels[0].isdigit() else say("the {place}", place=at_words(first))
    together = numbered and len(first.axes) == 1 and all(p.axes == first.axes for p in others)
    return listed([start, *(p.labels[-1] if together else at_words(p) for p in others)])


def _is_all(axes: tuple[str, ...], places: Sequence[Position], books: Books) -> bool:
    """Whether the places take in every label along their first axis, as the engine itself does."""
    if not axes:
        return True
    labels = {p.label(axes[0]) for p in places}
    try:
        return labels.issuperset(axis_labels(axes[0], books.sheet, books.checklist))
    except KeyError:
        return False
