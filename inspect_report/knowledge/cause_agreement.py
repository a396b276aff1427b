"""Turns causes that name unknown signs or shares, or count one reading twice, into problems."""

from collections import defaultdict
from collections.abc import Iterator

from inspect_report.knowledge.bookread import Book
from inspect_report.knowledge.clause import ChoiceClause, Leaf, RatingClause, leaves, subject_of
from inspect_report.knowledge.rulebook import Cause, Rulebook
from inspect_report.knowledge.words import unknown, unknown_each
from inspect_report.records.problem import Problem
from inspect_report.records.yaml import Document, Path


def cause_disagreements(book: Book[Rulebook]) -> Iterator[Problem]:
    """What the rules, causes, signs and shares of one rulebook say that another of them does not know."""
    document, rulebook = book.document, book.record
    causes = tuple(c.id for c in rulebook.causes)
    for i, rule in enumerate(rulebook.rules):
        path: Path = ("rules", i)
        if rule.cause:
            yield from unknown(document, "K376", "cause", rule.cause, (*path, "cause"), causes)
        others: Path = (*path, "other-causes")
        yield from unknown_each(document, "K376", "cause", rule.other_causes, others, causes)
        yield from _itself(document, rule.cause, rule.other_causes, others)
    for i, cause in enumerate(rulebook.causes):
        yield from _cause(document, cause, ("causes", i), rulebook)


def _itself(document: Document, cause: str, others: tuple[str, ...], path: Path) -> Iterator[Problem]:
    if cause and cause in others:
        mend = "delete it there"
        yield document.problem("K376", "cause named beside itself", path, cause, "causes other than it", mend)


def _cause(document: Document, cause: Cause, path: Path, rulebook: Rulebook) -> Iterator[Problem]:
    words, signs = tuple(rulebook.shares), tuple(s.id for s in rulebook.signs)
    yield from unknown(document, "K376", "word for a share", cause.before, (*path, "before"), words)
    for sign, shares in cause.signs.items():
        at: Path = (*path, "signs", sign)
        yield from unknown(document, "K376", "sign", sign, at, signs)
        told = tuple(unknown_each(document, "K376", "word for a share", shares, at, words))
        yield from told
        if not told and rulebook.share(shares[0]) == rulebook.share(shares[1]):
            title, mend = "sign that tells nothing", "correct a share, or take the sign out"
            allowed = "one share with the cause, another without it"
            yield document.problem("K377", title, at, f"{shares[0]} with it and without it", allowed, mend)
    yield from _counted_twice(document, cause, path, rulebook)


def _counted_twice(document: Document, cause: Cause, path: Path, rulebook: Rulebook) -> Iterator[Problem]:
    """Two signs that rest on one reading would weigh it twice."""
    resting: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for sign in (s for s in rulebook.signs if s.id in cause.signs):
        for reading in dict.fromkeys(r for leaf in leaves(sign.see) for r in _readings(leaf)):
            resting[reading].append(sign.id)
    for (subject, *_), signs in resting.items():
        if len(signs) > 1:
            yield document.problem(
                "K378",
                f"{subject} counted twice for one cause",
                (*path, "signs", signs[1]),
                " and ".join(signs),
                "signs that each look at something of their own",
                "keep the one that tells more, or make one sign of them by 'any'",
            )


def _readings(leaf: Leaf) -> Iterator[tuple[str, str, str]]:
    """What is looked at and where; each kind of damage and each answer is something of its own."""
    kinds: tuple[str, ...] = ("",)
    if isinstance(leaf, RatingClause | ChoiceClause):
        kinds = (leaf.damage if isinstance(leaf, RatingClause) else leaf.answer) or ("",)
    for kind in kinds:
        yield subject_of(leaf), f"{leaf.near} {sorted(leaf.where.items())}", kind
