"""
Defines the typed clauses of a rulebook: what they look at, and where.

A clause looks at one kind of fact and answers true, false, or unknown where the fact was not inspected.
Seen from a label of a rule's axis it looks at the places that share the label, at those beside it, at those
of all the others, or at all of them, as ``near`` says.
"""

from collections.abc import Iterator
from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from inspect_report.records.shape import Id, Record, Text, refusal

Near = Literal["same", "neighbour", "others", "anywhere"]
"""Places of the same label, of the labels beside it, of every other label, or of all of them."""
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
    """True: every place seen must meet it; false: ``in-places`` of them."""
    in_places: Annotated[int, Field(ge=1)] = 1
    """How many places must meet it at the least: 2 for a fault that is not one place's alone."""


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

    @model_validator(mode="after")
    def _right_way_up(self) -> Self:
        if self.at_least > self.at_most:
            raise refusal(
                "K344",
                f"at least {self.at_least} and at most {self.at_most}: nothing is both",
                "the smaller grade as 'at-least'",
                "exchange the two, or delete one",
                key="at-most",
            )
        return self


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


class StandsOutClause(Sees):
    """A characteristic lies apart from that of its like, such as the other cylinders, by the outlier test."""

    stands_out: Id
    direction: Literal["above", "below"]


class UnreadClause(Sees):
    """A thing this engine has was not read, looked at or answered at any place seen."""

    unread: Id


class AllClause(Record):
    """Every clause holds."""

    all: tuple["Clause", ...] = Field(min_length=1)


class AnyClause(Record):
    """One clause holds."""

    any: tuple["Clause", ...] = Field(min_length=1)


class NotClause(Record):
    """The clause does not hold; unknown stays unknown."""

    not_: "Clause"


_KINDS = ("quantity", "rating", "choice", "change", "stands-out", "unread", "all", "any", "not")


def _clause_kind(value: Any) -> str | None:
    name = type(value).__name__.removesuffix("Clause")
    keys = value if isinstance(value, dict) else {"stands-out" if name == "StandsOut" else name.lower()}
    return next((k for k in _KINDS if k in keys), None)


Clause = Annotated[
    Annotated[QuantityClause, Tag("quantity")]
    | Annotated[RatingClause, Tag("rating")]
    | Annotated[ChoiceClause, Tag("choice")]
    | Annotated[ChangeClause, Tag("change")]
    | Annotated[StandsOutClause, Tag("stands-out")]
    | Annotated[UnreadClause, Tag("unread")]
    | Annotated[AllClause, Tag("all")]
    | Annotated[AnyClause, Tag("any")]
    | Annotated[NotClause, Tag("not")],
    Discriminator(_clause_kind),
]

Leaf = QuantityClause | RatingClause | ChoiceClause | ChangeClause | StandsOutClause | UnreadClause
"""A clause that looks at facts itself."""


def subject_of(clause: Leaf) -> str:
    """Id of the characteristic or item a clause looks at."""
    match clause:
        case QuantityClause():
            return clause.quantity
        case RatingClause():
            return clause.rating
        case ChoiceClause():
            return clause.choice
        case ChangeClause():
            return clause.change
        case StandsOutClause():
            return clause.stands_out
        case UnreadClause():
            return clause.unread


def parts_of(clause: Clause) -> tuple[Clause, ...]:
    """The clauses right inside one; none in a clause that looks at facts itself."""
    match clause:
        case AllClause():
            return clause.all
        case AnyClause():
            return clause.any
        case NotClause():
            return (clause.not_,)
        case _:
            return ()


def leaves(clause: Clause) -> Iterator[Leaf]:
    """The clauses that look at facts themselves, in the order they are written."""
    if isinstance(clause, AllClause | AnyClause | NotClause):
        for part in parts_of(clause):
            yield from leaves(part)
    else:
        yield clause
