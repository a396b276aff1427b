"""
Turns a rulebook into pattern rules, the causes they point to, and how strongly each sign speaks for a cause.

A rule for ``cylinder`` (or another axis) is tried for every label of that axis; its clauses then see the
places as ``clause`` says. A cause is weighed by the signs it lists: how often each is seen where the cause is
at work, and how often where it is not.
"""

from collections.abc import Iterable
from typing import Annotated, Any, Final, Self

from pydantic import Field, model_validator

from inspect_report.knowledge.catalogue import Urgency
from inspect_report.knowledge.clause import Clause
from inspect_report.records.checklist import Applies
from inspect_report.records.shape import Id, Record, Text, refusal

LEAST_SHARE: Final = 0.01
"""No sign is seen never, and none always: the trade's memory carries no more than 99 to 1."""

Share = Annotated[float, Field(ge=LEAST_SHARE, le=1.0 - LEAST_SHARE)]


class RuleCase(Record):
    """A test of a rule inside the book: what is given, by characteristic or item, and where it fires."""

    given: dict[Text, Any]
    fires: tuple[Text | int, ...]
    """Labels it fires for; ``[engine]`` for a rule of the whole engine; empty: it must not fire."""


class Sign(Record):
    """Something that is seen more often with one cause than with another."""

    id: Id
    see: Clause
    check: Text
    """What one does to see it, as an order: ``Pour a little oil in and take compression again``."""


class Cause(Record):
    """
    What may be at work behind a pattern.

    ``signs`` gives for each sign how often it is seen with the cause, and how often without it among engines
    that are opened; ``before`` how often the cause is met among them before anything is looked at. A sign
    whose share without the cause is the least there is is the fault itself: once it is seen, signs that are
    missing do not count against the cause.
    """

    id: Id
    name: Text
    """In a customer's words, without an article's capital: ``rings or bore that no longer seal``."""
    applies: Applies = {}
    before: Text
    signs: dict[Id, tuple[Text, Text]] = {}


class Rule(Record):
    """A pattern with its meaning, its doubts and the work it asks for."""

    id: Id
    finding: Text
    """In a customer's words; ``{cylinder}`` or another axis stands for the label it fires for."""
    seen: Text = ""
    """The same without the cause: what was read, seen or heard; told where the cause is not the likeliest."""
    why: Text
    applies: Applies = {}
    for_: Text = "engine"
    """Axis it is tried along, or ``engine``."""
    when: Clause
    cause: Annotated[Text, Field(pattern=r"^([a-z0-9]+(-[a-z0-9]+)*)?$")] = ""
    """The cause it points to; rules that point to one cause at one place are told as one diagnosis."""
    other_causes: tuple[Id, ...] = ()
    """Causes that could explain the same, weighed beside it."""
    could_also_be: tuple[Text, ...] = ()
    """Further explanations, in words; told, and not weighed."""
    tells_them_apart: Text = ""
    work: tuple[Id, ...] = ()
    urgency: Urgency
    normal: bool = False
    """``true`` where sound engines show it too and it asks for nothing; it is told in one line."""
    if_left: Text
    source: Text = "common practice"
    cases: tuple[RuleCase, ...]

    @model_validator(mode="after")
    def _has_cases(self) -> Self:
        if not any(c.fires for c in self.cases) or all(c.fires for c in self.cases):
            raise refusal(
                "K340",
                f"rule {self.id!r} without cases both ways",
                "a case in which it fires and one in which it does not",
                "add the missing case below 'cases'",
            )
        return self


class Rulebook(Record):
    """Rules in the order their findings are told."""

    rulebook: Id
    version: Annotated[int, Field(ge=1)]
    shares: dict[Text, Share] = {}
    """Words for how often a thing is seen, and the share each stands for."""
    signs: tuple[Sign, ...] = ()
    causes: tuple[Cause, ...] = ()
    rules: tuple[Rule, ...]

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        for things, key in ((self.rules, "rules"), (self.signs, "signs"), (self.causes, "causes")):
            each_id_once((thing.id for thing in things), key)
        return self

    def cause(self, cause_id: str) -> Cause | None:
        """The cause of an id."""
        return next((c for c in self.causes if c.id == cause_id), None)

    def sign(self, sign_id: str) -> Sign | None:
        """The sign of an id."""
        return next((s for s in self.signs if s.id == sign_id), None)

    def share(self, word: Text) -> float:
        """
        The share a word stands for.

        Raises:
            KeyError: a word the book does not explain; never in a book that agrees with itself.
        """
        return self.shares[word]


def each_id_once(ids: Iterable[str], key: str) -> None:
    """
    Refuse two things of one id, of which only the first would ever be found.

    Raises:
        PydanticCustomError: K343, at the key that holds them.
    """
    listed = tuple(ids)
    twice = next((i for i in listed if listed.count(i) > 1), None)
    if twice is not None:
        raise refusal("K343", f"two with the id {twice!r}", "each id once", "rename one of them", key=key)
