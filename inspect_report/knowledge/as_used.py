"""Turns shipped books kept beside an inspection into the library it is judged by, if unchanged."""

import re
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Final

from inspect_report.records.problem import InvalidInput, Place, Problem
from inspect_report.records.shape import raw_file

FOLDER: Final = "books-as-used"
"""Where the shipped books lie that an inspection was judged by; an inspection beside it is judged by them."""
LIST: Final = "digests.txt"
"""The SHA-256 of every book of that folder, in the form that ``sha256sum --check`` reads."""
_LINE: Final = re.compile(r"([0-9a-f]{64})  (\S.*)")


def library_beside(folder: Path) -> Path | None:
    """The books kept beside an inspection; None where none are, and those of this release hold."""
    kept = folder / FOLDER
    try:
        return kept if kept.is_dir() else None
    except PermissionError:
        return None  # told when the inspection itself is opened


def books_in(library: Path) -> dict[str, Path]:
    """Every book of a folder of shipped books by its place in it, in order of these."""
    return {path.relative_to(library).as_posix(): path for path in sorted(library.rglob("*.yaml"))}


def digest_list(books: Mapping[str, bytes]) -> bytes:
    """The list of digests of some books by their place."""
    return "".join(f"{sha256(data).hexdigest()}  {name}\n" for name, data in books.items()).encode()


def changed_since(library: Path) -> tuple[Problem, ...]:
    """What is no longer as it was when the books were kept: a book changed, missing or added."""
    try:
        listed = raw_file(library / LIST).decode("utf-8", errors="replace").splitlines()
    except InvalidInput:
        return (_problem(library, 1, "list of digests that cannot be read", f"no readable {LIST}"),)
    return tuple(_changes(library, listed))


def _changes(library: Path, listed: list[str]) -> Iterator[Problem]:
    there = books_in(library)
    for number, line in enumerate(listed, 1):
        match = _LINE.fullmatch(line)
        if match is None:
            yield _problem(library, number, "line that is no digest and name", line)
            continue
        path = there.pop(match[2], None)
        if path is None:
            yield _problem(library, number, "book that is missing", match[2], line)
        elif sha256(raw_file(path)).hexdigest() != match[1]:
            yield _problem(library, number, "book that was changed since it was kept", match[2], line)
    for name in there:
        yield _problem(library, max(1, len(listed)), "book that was not kept with the others", name)


def _problem(library: Path, line: int, title: str, found: str, excerpt: str = "") -> Problem:
    return Problem(
        "K391",
        "error",
        title,
        Place(str(library / LIST), line, 1),
        found,
        f"the books as they were when the folder {FOLDER} was made",
        "put the folder back as it was; or take it away, and the books of this release hold; "
        "a book of your own is named under 'books:' in the inspection",
        excerpt,
    )
