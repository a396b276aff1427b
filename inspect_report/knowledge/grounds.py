"""Turns a case into every file its assessment rests on, each with name, bytes and digest."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import Final

from inspect_report.knowledge.as_used import FOLDER, LIST, books_in, digest_list
from inspect_report.knowledge.case import Case
from inspect_report.places import knowledge_dir
from inspect_report.records.own_books import OwnBooks
from inspect_report.records.problem import InvalidInspection, Problem
from inspect_report.records.shape import raw_file, read_file
from inspect_report.records.yaml import Path as KeyPath

INSPECTION: Final = "inspection"
PICTURE: Final = "picture"
CHANGED: Final = "V391"
"""Code of the problem that a file was changed while it was used."""
SHIPPED: Final = "book of the release"


@dataclass(frozen=True)
class Ground:
    """
    A file that an assessment rests on.

    ``name`` says where it lies in a folder that holds all of them: relative, with slashes, never with ``..``.
    Laid out so, the inspection finds every file it names, and is judged by the books it was judged by.
    """

    kind: str
    """``inspection``, ``spec sheet`` …, ``picture``, ``earlier inspection``, ``issue replaced``,
    ``book of the release``."""
    name: str
    data: bytes

    @cached_property
    def digest(self) -> str:
        """SHA-256 of the bytes."""
        return sha256(self.data).hexdigest()


def grounds(case: Case) -> tuple[Ground, ...]:
    """
    Every file that an assessment rests on, the inspection first.

    Own files are as they were written and lie to each other as they did; beside the inspection lie all books
    of the release that judged it, so that a later release judges it by them (``as_used``).

    Args:
        case: An inspection as loaded from its file.

    Raises:
        InvalidInput: a file is named by where it lies on this computer, was changed since it was read, or can
            no longer be read.
    """
    _refuse_fixed(case)
    own = _own_files(case)
    top = Path(os.path.commonpath([path.parent for path in own]))
    first, *others = own
    beside = first.parent.relative_to(top)
    listed = (first, *sorted(others))
    return (
        *(Ground(own[path], path.relative_to(top).as_posix(), _bytes(path)) for path in listed),
        *(
            Ground(SHIPPED, (beside / FOLDER / name).as_posix(), data)
            for name, data in _library(case).items()
        ),
    )


def files_read(case: Case) -> tuple[Path, ...]:
    """
    Every file read for a case but the books of the release; and the folders in which such books are kept.

    Args:
        case: An inspection as loaded from its file.

    Raises:
        InvalidInput: a file was changed since it was read.
    """
    folders = (Path(one.folder) / FOLDER for one in (case, *case.earlier, *_replaced(case)))
    return (*_own_files(case), *folders)


def _bytes(path: Path) -> bytes:
    """The whole of a file, however long; one that cannot be read is told as any file that people write."""
    try:
        return path.read_bytes()
    except OSError:
        return raw_file(path)


def _library(case: Case) -> dict[str, bytes]:
    """All books of the release by their place in its folder, and the list of their digests."""
    home = Path(case.library) if case.library else knowledge_dir()
    books = {name: raw_file(path) for name, path in books_in(home).items()}
    return {**books, LIST: digest_list(books)}


def _own_files(case: Case) -> dict[Path, str]:
    """Kind of every file that does not come with the program, by where it lies; the inspection first."""
    found = {_inspection_of(case): INSPECTION}
    for one in (case, *case.earlier, *_replaced(case)):
        found.setdefault(_inspection_of(one), "earlier inspection")
        for path, kind in (*_own_books(one), *((p, PICTURE) for p in _pictures(one))):
            found.setdefault(path, kind)
        if one.issued:
            found.setdefault(_plain(Path(one.issued.file)), "issue replaced")
    return found


def _replaced(case: Case) -> tuple[Case, ...]:
    return (case.replaced,) if case.replaced else ()


def _inspection_of(case: Case) -> Path:
    return _plain(Path(case.folder) / Path(case.inspection.file).name)


def _own_books(case: Case) -> Iterator[tuple[Path, str]]:
    """The workshop's own books with their kind, each still as it was read."""
    home = Path(case.library) if case.library else knowledge_dir()
    for file, written in zip(case.files, case.paths, strict=True):
        path = Path(written)
        if sha256(raw_file(path)).hexdigest() != file.digest:
            raise InvalidInspection([_changed(path)])
        if not path.is_relative_to(home):
            yield _plain(path), file.kind


def _pictures(case: Case) -> Iterator[Path]:
    head, shop = case.inspection.head, case.books.workshop
    home = Path(case.folder)
    yield from (_plain(home / photo.file) for photo in head.photos)
    yield from (_plain(home / photo.before.file) for photo in head.photos if photo.before)
    if head.inspector.signature:
        yield _plain(home / head.inspector.signature)
    beside = (home / head.workshop).parent
    names = (shop.logo, *(p.file for p in shop.reference_pictures))
    yield from (_plain(beside / name) for name in names if name)


def _plain(path: Path) -> Path:
    """A path without ``..``, from the root."""
    return Path(os.path.abspath(path))


def _changed(path: Path) -> Problem:
    title, mend = "file that was changed while it was used", "save it, then begin again"
    return read_file(path).problem(CHANGED, title, (), path.name, "the file as it was read before", mend)


def _refuse_fixed(case: Case) -> None:
    """A file named from the root, or through a linked folder, would not be found in another folder."""
    told = [problem for one in (case, *case.earlier, *_replaced(case)) for problem in _fixed(one)]
    if told:
        raise InvalidInspection(told)


def _fixed(case: Case) -> Iterator[Problem]:
    inspection = Path(case.folder) / Path(case.inspection.file).name
    workshop = Path(case.folder) / case.inspection.head.workshop
    named = ((inspection, _named(case)), (workshop, _named_below(case.books.workshop.books)))
    for file, names in named:
        for path, written in names:
            if _stays(file.parent, written):
                yield read_file(file).problem(
                    "V392",
                    "file named so that it is found on this computer only",
                    path,
                    written,
                    "a name from the folder of this file, '../books/sheet.yaml', without linked folders",
                    "name it from this folder, or copy it here",
                )


def _stays(folder: Path, written: str) -> bool:
    there = folder / written
    return Path(written).is_absolute() or os.path.realpath(there) != os.path.realpath(_plain(there))


def _named(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Every file but pictures that an inspection names, with its place; pictures lie beside it or below."""
    head = case.inspection.head
    yield from ((("checklist",), head.checklist), (("rulebook",), head.rulebook))
    yield from ((("spec-sheet",), head.spec_sheet), (("workshop",), head.workshop))
    yield from ((("follows", n), name) for n, name in enumerate(head.follows))
    if head.replaces and head.replaces.file:
        yield ("replaces", "file"), head.replaces.file
    yield from _named_below(head.books)


def _named_below(books: OwnBooks) -> Iterator[tuple[KeyPath, str]]:
    named = books.model_dump(by_alias=True).items()
    yield from ((("books", key), written) for key, written in named if written)
