"""Turns books that do not agree with each other into problems: a rule that names a job no workbook has."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import chain
from pathlib import Path as FilePath
from typing import Any

from inspect_report.knowledge.bookread import Book, shipped_book, shipped_ids
from inspect_report.knowledge.bookset import BookSet
from inspect_report.knowledge.circles import circles
from inspect_report.knowledge.counted import counting_words
from inspect_report.knowledge.own_agreement import is_own, own_disagreements
from inspect_report.knowledge.rule_agreement import rule_disagreements, rules_by_themselves
from inspect_report.knowledge.rulebook import Rulebook
from inspect_report.knowledge.sheet_agreement import rows_by_themselves, sheet_disagreements
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.knowledge.workbook import AccessStep, Job, PartUse, Workbook
from inspect_report.records.checklist import LAYOUT_AXES, Checklist, Item, Section, applies_to
from inspect_report.records.faults import Faults
from inspect_report.records.html import refuse_html
from inspect_report.records.photos import check_photo
from inspect_report.records.problem import Problem, in_file_order
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop
from inspect_report.records.yaml import Document, Path

OPTION_VERDICTS = ("as new", "serviceable", "marginal", "beyond limit", "-")


_WHAT = {"prices": "part", "hours": "access step or job"}


def disagreements(books: BookSet, naming: Document | None = None) -> tuple[Problem, ...]:
    """
    Everything one book says that another does not know.

    Args:
        books: The books of one inspection.
        naming: The inspection that chose them; a checklist for another kind of engine is told there.
    """
    misfit = tuple(_checklist_fits(books, naming))
    found = chain(
        misfit,
        () if _are_shipped(books) else between_books_of_rules(books, misfit=bool(misfit)),
        _prices(books.workshop, books.workbook.record, books.library),
        _shares(books),
        _shown(books.workshop),
        _pictured(books),
        own_disagreements(books),
        sheet_disagreements(books),
    )
    return in_file_order(found)


def between_books_of_rules(books: BookSet, *, misfit: bool = False) -> Iterator[Problem]:
    """
    What checklist, workbook and rulebook say that another does not know.

    Shipped ones are held to agree by the tests, not again in every run.
    """
    yield from _checklist_words(books)
    yield from _workbook_words(books.workbook.document, books.workbook.record, books)
    if not misfit:
        yield from rule_disagreements(books, shipped_checklists(books.library))


def _are_shipped(books: BookSet) -> bool:
    """Whether all that `between_books_of_rules` holds against each other comes with the package."""
    known = (books.checklist, books.workbook, books.rulebook, books.catalogue, books.scales, books.cautions)
    return not any(is_own(books, book) for book in known)


def alone(book: Book[Any]) -> tuple[Problem, ...]:
    """
    What can be told of a book without an inspection, beyond its own form.

    Args:
        book: A spec sheet, workshop file, rulebook or workbook; of other books nothing is told.
    """
    if isinstance(book.record, SpecSheet):
        return in_file_order(rows_by_themselves(book.document, book.record))
    if isinstance(book.record, Workshop):
        return in_file_order((*_prices(book), *_shown(book)))
    if isinstance(book.record, Rulebook):
        return in_file_order(rules_by_themselves(book))
    if isinstance(book.record, Workbook):
        counted = counting_words(book.document, book.record, (*LAYOUT_AXES, *_shipped_axes()))
        return in_file_order((*counted, *circles(book.document, book.record)))
    return ()


def _shown(workshop: Book[Workshop]) -> tuple[Problem, ...]:
    """Faults of what a workshop file brings to the page: HTML in its terms, a logo that cannot be shown."""
    document, record, faults = workshop.document, workshop.record, Faults(workshop.document)
    refuse_html(record.terms, ("terms",), faults)
    if record.logo:
        check_photo(record.logo, FilePath(document.file).parent, document.place(("logo",)), faults)
    for i, picture in enumerate(record.reference_pictures):
        place = document.place(("reference-pictures", i, "file"))
        check_photo(picture.file, FilePath(document.file).parent, place, faults)
    return faults.problems


def _pictured(books: BookSet) -> Iterator[Problem]:
    """Pictures of damage that the book of scales does not know."""
    words = [word.damage for word in books.scales.record.words]
    for i, picture in enumerate(books.workshop.record.reference_pictures):
        path = ("reference-pictures", i, "damage")
        yield from unknown(books.workshop.document, "K390", "kind of damage", picture.damage, path, words)


@lru_cache(maxsize=8)
def shipped_checklists(library: FilePath | None = None) -> tuple[Checklist, ...]:
    """Every shipped checklist: a shared rulebook speaks of items of all of them."""
    names = shipped_ids("checklists", library)
    reads = (shipped_book(Checklist, f"checklists/{name}", library) for name in names)
    return tuple(read.value.record for read in reads if read.value)


@lru_cache(maxsize=8)
def shipped_workbooks(library: FilePath | None = None) -> tuple[Workbook, ...]:
    """Every shipped workbook: one workshop file prices the parts of all of them."""
    names = shipped_ids("workbooks", library)
    reads = (shipped_book(Workbook, f"workbooks/{name}", library) for name in names)
    return tuple(read.value.record for read in reads if read.value)


def _checklist_fits(books: BookSet, naming: Document | None) -> Iterator[Problem]:
    checklist, layout = books.checklist.record, books.sheet.record.layout
    if applies_to(checklist.applies, layout):
        return
    document, path = (naming, ("checklist",)) if naming else (books.checklist.document, ("applies",))
    facts = layout.model_dump(by_alias=True)
    has = "; ".join(f"{key}: {facts.get(key)}" for key in checklist.applies)
    allowed = "; ".join(f"{key}: {value}" for key, value in checklist.applies.items())
    yield document.problem(
        "K350",
        "checklist for another kind of engine",
        path,
        f"{checklist.checklist}, with a spec sheet of {has}",
        f"a spec sheet of {allowed}",
        "name the checklist for this engine, or correct the layout in its spec sheet",
    )


def _checklist_words(books: BookSet) -> Iterator[Problem]:
    document, checklist = books.checklist.document, books.checklist.record
    steps = tuple(s.id for s in books.workbook.record.access)
    for depth, opened in checklist.opened.items():
        yield from unknown_each(document, "K352", "access step", opened, ("opened", depth), steps)
    for i, section in enumerate(checklist.sections):
        path: Path = ("sections", i)
        yield from _section_words(section, path, books)
        for j, item in enumerate(section.items):
            yield from _item_words(item, (*path, "items", j), books)


def _section_words(section: Section, path: Path, books: BookSet) -> Iterator[Problem]:
    document = books.checklist.document
    assemblies = (a.id for a in books.catalogue.record.assemblies)
    if section.assembly:
        yield from unknown(document, "K365", "assembly", section.assembly, (*path, "assembly"), assemblies)
    yield from _access_and_caution(document, section, path, books)


def _access_and_caution(
    document: Document, thing: Section | Item, path: Path, books: BookSet
) -> Iterator[Problem]:
    steps = (s.id for s in books.workbook.record.access)
    cautions = (c.id for c in books.cautions.record.list)
    if thing.access:
        yield from unknown(document, "K352", "access step", thing.access, (*path, "access"), steps)
    yield from unknown_each(document, "K353", "caution", thing.caution, (*path, "caution"), cautions)


def _item_words(item: Item, path: Path, books: BookSet) -> Iterator[Problem]:
    document = books.checklist.document
    damage = (w.damage for w in books.scales.record.words)
    yield from _access_and_caution(document, item, path, books)
    yield from unknown_each(document, "K354", "kind of damage", item.damage, (*path, "damage"), damage)
    yield from unknown_each(document, "K359", "axis", item.axes, (*path, "axes"), _axes(books))
    for answer, verdict in item.options.items():
        yield from unknown(document, "K355", "verdict", verdict, (*path, "options", answer), OPTION_VERDICTS)


def _axes(books: BookSet) -> Iterator[str]:
    """Axes of the layout and the checklist, and those of things that another engine may have."""
    yield from LAYOUT_AXES
    yield from (*books.checklist.record.axes, *books.sheet.record.layout.counts)
    yield from _shipped_axes(books.library)


def _shipped_axes(library: FilePath | None = None) -> Iterator[str]:
    """Every axis that a shipped checklist names."""
    for checklist in shipped_checklists(library):
        yield from checklist.axes
        yield from (a for s in checklist.sections for i in s.items for a in i.axes)


def _workbook_words(document: Document, workbook: Workbook, books: BookSet) -> Iterator[Problem]:
    steps, jobs = [s.id for s in workbook.access], [j.id for j in workbook.jobs]
    cautions = [c.id for c in books.cautions.record.list]
    for i, step in enumerate(workbook.access):
        path: Path = ("access", i)
        yield from unknown_each(document, "K352", "access step", step.behind, (*path, "behind"), steps)
        yield from unknown_each(document, "K357", "job", step.covers, (*path, "covers"), jobs)
        yield from unknown_each(document, "K353", "caution", step.caution, (*path, "caution"), cautions)
    for i, job in enumerate(workbook.jobs):
        path = ("jobs", i)
        yield from unknown_each(document, "K352", "access step", job.access, (*path, "access"), steps)
        yield from unknown_each(document, "K357", "job", job.covers, (*path, "covers"), jobs)
        yield from unknown(document, "K357", "job", job.otherwise, (*path, "otherwise"), ("", *jobs))
        yield from unknown_each(document, "K353", "caution", job.caution, (*path, "caution"), cautions)
        yield from _deciding(document, job, path, books)
        yield from _altering(document, job, path, books)
    yield from counting_words(document, workbook, _axes(books))
    yield from circles(document, workbook)


def _deciding(document: Document, job: Job, path: Path, books: BookSet) -> Iterator[Problem]:
    """What a further need depends on and nobody can judge would leave its price open for ever."""
    known = _characteristics(books) if job.may_need else ()
    for i, need in enumerate(job.may_need):
        at: Path = (*path, "may-need", i, "depends-on")
        yield from unknown_each(document, "K358", "characteristic", need.depends_on, at, known)


def _altering(document: Document, job: Job, path: Path, books: BookSet) -> Iterator[Problem]:
    """A job that is to alter what nobody measures would leave a table standing that it makes void."""
    known = _characteristics(books) if job.alters else ()
    yield from unknown_each(document, "K358", "characteristic", job.alters, (*path, "alters"), known)


def _characteristics(books: BookSet) -> tuple[str, ...]:
    rows = books.sheet.record.characteristics
    return (*(k.id for k in books.catalogue.record.characteristics), *(row.id for row in rows))


def _shares(books: BookSet) -> Iterator[Problem]:
    """A share of what nobody can judge would never be counted with."""
    document, shares = books.workshop.document, books.workshop.record.shares_beyond
    known = _characteristics(books) if shares else ()
    for name in shares:
        yield from unknown(document, "K358", "characteristic", name, ("shares-beyond", name), known)


def _prices(
    workshop: Book[Workshop], own: Workbook | None = None, library: FilePath | None = None
) -> Iterator[Problem]:
    """Prices and hours of things no workbook has: a slip of the pen would leave a part 'on request'."""
    document, record = workshop.document, workshop.record
    own_works = _works(own) if own else ()
    for key, written in (("prices", record.prices), ("hours", record.hours)):
        known = _priced(own_works, key)
        for word in written:
            if word not in known:
                priced = _all_priced(own_works, key, library)
                yield from unknown(document, "K364", _WHAT[key], word, (key, word), priced)


def _priced(works: Iterable[AccessStep | Job], key: str) -> frozenset[str]:
    """Ids of parts, or of steps and jobs that take hours."""
    if key == "hours":
        return frozenset(work.id for work in works)
    return frozenset(use.part for work in works for use in _uses(work))


def _uses(work: AccessStep | Job) -> tuple[PartUse, ...]:
    """Everything priced that a step or job may use."""
    further = () if isinstance(work, AccessStep) else (use for n in work.may_need for use in n.parts)
    return (*work.parts, *further)


def _all_priced(own: Iterable[AccessStep | Job], key: str, library: FilePath | None) -> list[str]:
    """The same of every shipped workbook too: one workshop file serves several kinds of engine."""
    shipped = (work for workbook in shipped_workbooks(library) for work in _works(workbook))
    return sorted(_priced(own, key) | _priced(shipped, key))


def _works(workbook: Workbook) -> tuple[AccessStep | Job, ...]:
    return (*workbook.access, *workbook.jobs)
