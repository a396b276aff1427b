"""Turns a word of one book that no other book knows into a problem that offers the nearest one."""

from collections.abc import Callable, Iterable, Iterator

from inspect_report.records.problem import Problem, nearest, some
from inspect_report.records.yaml import Document, Path

Known = Callable[[], Iterable[str]]


def unknown(
    document: Document, code: str, what: str, word: str, path: Path, known: Iterable[str]
) -> Iterator[Problem]:
    """A problem where a word is not among those known, nothing where it is."""
    listed = tuple(dict.fromkeys(known))
    if word in listed:
        return
    near = nearest(word, listed)
    mend = f"write {near!r} if that is meant" if near else "take one of those listed, or add it to its book"
    yield document.problem(
        code, f"{what} that is not known", path, word, some(listed, 24) or "none here", mend
    )


def unknown_each(
    document: Document, code: str, what: str, words: Iterable[str], path: Path, known: Iterable[str]
) -> Iterator[Problem]:
    """A problem for each word of a list that is not among those known."""
    listed = tuple(known)
    known_words = frozenset(listed)
    for i, word in enumerate(words):
        if word not in known_words:
            below: Path = (*path, i)
            place = below if below in document.starts else path
            yield from unknown(document, code, what, word, place, listed)
