"""
Turns a rulebook into pattern rules made of typed clauses.

A clause looks at one kind of fact and answers true, false, or unknown where the fact was not inspected.
A rule for ``cylinder`` (or another axis) is tried for every label of that axis; a clause then sees only
the places that share the label, or with ``near: neighbour`` those of the cylinders beside it.
"""

from collections.abc import Iterable
from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from inspect_report.knowledge.catalogue import Urgency
from inspect_report.records.checklist import Applies
from inspect_report.records.shape import Id, Record, Text, refusal

Near = Literal["same", "neighbour", "anywhere"]
VerdictWord = Literal[
    "as new", "serviceable", "marginal", "undecided", "beyond limit", "not inspected",
    "not applicable", "no limit known", "check failed",
]  # fmt: skip


class Sees(Record):
    """Which places a clause looks at, and whether one of them is enough."""

    where: dict[Text, Text] = {}
    """Narrowed to a group of labels, ``{valve: exhaust}``."""
    near: Near = "same"
    every: bool = False
    """True: every place seen must meet it; false: one is enough."""


class QuantityClause(Sees):
    """A characteristic has one of some verdicts, or a value on one side of an amount."""

    quantity: Id
    verdict: tuple[VerdictWord, ...] = ()
    at_least: Text | float | None = None
    at_most: Text | float | None = None
    side: Literal["above", "below", ""] = ""
    """Which side of its standard range the value lies on."""


class RatingClause(Sees):
    """The eye found one of some kinds of damage at a grade or more; ``damage`` empty: any kind."""

    rating: Id
    damage: tuple[Text, ...] = ()
    at_least: Annotated[int, Field(ge=0, le=5)] = 1
    at_most: Annotated[int, Field(ge=0, le=5)] = 5


class ChoiceClause(Sees):
    """A question was answered with one of some answers."""

    choice: Id
    answer: tuple[Text, ...]


class ChangeClause(Sees):
    """A characteristic moved since the inspection before, by an amount or more, up or down."""

    change: Id
    direction: Literal["up", "down"]
    by_at_least: Text | float
    others: Literal["any", "steady"] = "any"
    """``steady``: no other place of it moved that far."""


class AllClause(Record):
    """Every clause holds."""

    all: tuple["Clause", ...] = Field(min_length=1)


class AnyClause(Record):
    """One clause holds."""

    any: tuple["Clause", ...] = Field(min_length=1)


class NotClause(Record):
    """The clause does not hold; unknown stays unknown."""

    not_: "Clause"


def _clause_kind(value: Any) -> str | None:
    keys = value if isinstance(value, dict) else {type(value).__name__.removesuffix("Clause").lower()}
    return next(
        (k for k in ("quantity", "rating", "choice", "change", "all", "any", "not") if k in keys), None
    )


Clause = Annotated[
    Annotated[QuantityClause, Tag("quantity")]
    | Annotated[RatingClause, Tag("rating")]
    | Annotated[ChoiceClause, Tag("choice")]
    | Annotated[ChangeClause, Tag("change")]
    | Annotated[AllClause, Tag("all")]
    | Annotated[AnyClause, Tag("any")]
    | Annotated[NotClause, Tag("not")],
    Discriminator(_clause_kind),
]


class RuleCase(Record):
    """A test of a rule inside the book: what is given, by characteristic or item, and where it fires."""

    given: dict[Text, Any]
    fires: tuple[Text | int, ...]
    """Labels it fires for; ``[engine]`` for a rule of the whole engine; empty: it must not fire."""


class Rule(Record):
    """A pattern with its meaning, its doubts and the work it asks for."""

    id: Id
    finding: Text
    """In a customer's words; ``{cylinder}`` or another axis stands for the label it fires for."""
    why: Text
    applies: Applies = {}
    for_: Text = "engine"
    """Axis it is tried along, or ``engine``."""
    when: Clause
    could_also_be: tuple[Text, ...] = ()
    tells_them_apart: Text = ""
    work: tuple[Id, ...] = ()
    urgency: Urgency
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
    rules: tuple[Rule, ...]

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        each_id_once((r.id for r in self.rules), "rules")
        return self


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
