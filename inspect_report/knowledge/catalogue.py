"""Turns the characteristics book into what each judged characteristic is called, belongs to and weighs."""

from decimal import Decimal
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from inspect_report.records.checklist import CYLINDER, Applies, Item
from inspect_report.records.shape import Id, Record, Text, refusal

Urgency = Literal["before running", "at this opening", "next opening", "watch"]
URGENCIES: tuple[Urgency, ...] = ("before running", "at this opening", "next opening", "watch")


class DefaultWork(Record):
    """What a verdict asks for when no rule knows better."""

    job: Id
    urgency: Urgency
    verdicts: tuple[Literal["beyond limit", "undecided", "marginal"], ...] = ("beyond limit",)
    side: Literal["above", "below", ""] = ""
    """Only where the value lies on this side of its standard range; empty: on either."""
    always: bool = False
    """Asked for whatever other work a rule asks for on the same finding."""


class Known(Record):
    """
    A characteristic the program can judge: a reading, a rating, an answer, or a quantity made from readings.

    ``needs`` lists the checklist items a computed quantity is made from; empty for an item judged as it is.
    """

    id: Id
    name: Text
    unit: Text = ""
    decimals: Annotated[int, Field(ge=0, le=6)] = 2
    axes: tuple[Text, ...] = ()
    needs: tuple[Id, ...] = ()
    assembly: Id
    weight: Annotated[int, Field(ge=0, le=10)] = 1
    matters_for_function: bool = True
    """Whether its verdict can set the grade word of its assembly."""
    part: Text = ""
    """Part whose running time counts in a trend."""
    trend: bool = False
    wears: Literal["up", "down", "either", ""] = ""
    plain: Text
    """What it is, in a sentence for a customer."""
    if_beyond: Text = ""
    """What it means for a customer when it is beyond its limit."""
    applies: Applies = {}
    work: tuple[DefaultWork, ...] = ()


def judged_along(known: Known, item: Item | None) -> tuple[str, ...]:
    """
    The axes a characteristic is judged along on the engine of a checklist.

    Those of the book; what is judged as it is read has the cylinder before them where the checklist asks it
    of each cylinder, such as the faces of heads and barrels that stand alone.
    """
    by_cylinder = item is not None and CYLINDER in item.axes and CYLINDER not in known.axes
    return (CYLINDER, *known.axes) if by_cylinder and not known.needs else known.axes


class Assembly(Record):
    """A part of the engine that gets a grade of its own."""

    id: Id
    name: Text
    weight: Annotated[int, Field(ge=0, le=10)] = 1
    plain: Text


class Catalogue(Record):
    """The characteristics book."""

    characteristics_book: Id
    version: Annotated[int, Field(ge=1)]
    assemblies: tuple[Assembly, ...]
    characteristics: tuple[Known, ...]

    @model_validator(mode="after")
    def _hangs_together(self) -> Self:
        assemblies = {a.id for a in self.assemblies}
        seen: set[str] = set()
        for known in self.characteristics:
            if known.assembly not in assemblies:
                raise refusal(
                    "K330",
                    f"{known.id}: assembly {known.assembly!r} is not known",
                    ", ".join(sorted(assemblies)),
                    "take one of these, or add it",
                )
            if known.id in seen:
                raise refusal(
                    "K331", f"two characteristics with one id {known.id!r}", "each id once", "rename one"
                )
            seen.add(known.id)
        return self

    def known(self, characteristic: str) -> Known | None:
        """The entry of a characteristic."""
        return next((k for k in self.characteristics if k.id == characteristic), None)


class DamageWord(Record):
    """A kind of damage a rating may name, with the open standard its word comes from."""

    damage: Text
    even: bool = False
    """Rated by strength instead of size: an even change such as colour or carbon."""
    standard: Text
    sure: Literal["seen", "common practice", "from memory"] = "common practice"
    plain: Text
    verdicts: Annotated[tuple[Text, ...], Field(min_length=6, max_length=6)]
    """Verdict of each grade 0 to 5."""


class Scales(Record):
    """The book of words and steps for what the eye finds."""

    scales: Id
    version: Annotated[int, Field(ge=1)]
    steps: Annotated[tuple[Text, ...], Field(min_length=6, max_length=6)]
    words: tuple[DamageWord, ...]

    def word(self, damage: str) -> DamageWord | None:
        """The entry of a kind of damage."""
        return next((w for w in self.words if w.damage == damage), None)


class Caution(Record):
    """A caution for whoever reads a report, or, with neither mark, for the bench: it stands on sheets."""

    id: Id
    text: Text
    general: bool = False
    """Whether it stands on every report."""
    unfit: bool = False
    """Whether it stands on the report of an engine that is not serviceable as it stands."""


class Cautions(Record):
    """The book of cautions."""

    cautions: Id
    version: Annotated[int, Field(ge=1)]
    list: tuple[Caution, ...]

    def caution(self, caution_id: str) -> Caution | None:
        """The entry of an id."""
        return next((c for c in self.list if c.id == caution_id), None)


class Cap(Record):
    """A named rule that keeps a grade from being better than what was found allows."""

    id: Id
    name: Text
    characteristics: tuple[Id, ...] = ()
    damage: tuple[Text, ...] = ()
    """Kinds of damage at ``grade`` or more, wherever they are found."""
    grade: Annotated[int, Field(ge=1, le=5)] = 1
    verdicts: tuple[Text, ...] = ("beyond limit",)
    at_most: Literal["unserviceable", "marginal", "serviceable"]
    score_at_most: Annotated[int, Field(ge=0, le=100)]
    do_not_run: bool = False
    why: Text


class Scoring(Record):
    """The scoring rules: which word a verdict gives, what it leaves of the score, which caps hold."""

    scoring: Id
    version: Annotated[int, Field(ge=1)]
    grade_of: dict[Text, Literal["as new", "serviceable", "marginal", "unserviceable"]]
    left_of: dict[Text, Annotated[Decimal, Field(ge=0, le=1)]]
    """Share of wear allowance left that a verdict counts for where none can be computed."""
    caps: tuple[Cap, ...]
