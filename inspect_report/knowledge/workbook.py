"""Turns a workbook into the access tree and the jobs of one kind of engine."""

from decimal import Decimal
from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from inspect_report.knowledge.rulebook import each_id_once
from inspect_report.records.checklist import Applies
from inspect_report.records.shape import Id, Record, Text

Hours = Annotated[Decimal, Field(ge=0)]
SHIM_TO_BUY: Final = "shim-to-buy"
"""How a shim is counted: only where it is neither in the workshop's box nor freed by another valve."""


class PartUse(Record):
    """A part or consumable, or machine-shop work, that a step or job uses; priced in the workshop file."""

    part: Id
    name: Text
    quantity: Annotated[Decimal, Field(gt=0)] = Decimal(1)
    per: Text = "place"
    """``job``: once; ``place``: for every place of the job; ``shim-to-buy``: for every place whose
    shim the plan says to buy; or an axis: for every label of it."""
    machine_shop: bool = False


class AccessStep(Record):
    """A stage of the strip-down: what must be open before, hours to open and close, one-use parts."""

    id: Id
    name: Text
    behind: tuple[Id, ...] = ()
    """Steps that must be open before this one."""
    opening: Hours
    closing: Hours
    per: Text = "job"
    """What the hours are for: ``job``, the whole engine, or an axis, such as each ``cylinder``."""
    parts: tuple[PartUse, ...] = ()
    covers: tuple[Id, ...] = ()
    """Jobs that closing it does anyway, such as seals that are fitted new."""
    applies: Applies = {}
    caution: tuple[Text, ...] = ()


class MayNeed(Record):
    """
    What a job needs besides if a finding that nobody has made yet turns out beyond its limit.

    Once the finding is made, it asks for work of its own where it has to, and this no longer counts.
    """

    depends_on: Annotated[tuple[Id, ...], Field(min_length=1)]
    """Characteristics that decide; one of them not inspected at a place of the job leaves it open."""
    hours: Hours = Decimal(0)
    """Counted as those of the job."""
    parts: tuple[PartUse, ...] = ()


class Job(Record):
    """A piece of work: the access it needs, hours, parts, and the jobs it makes needless."""

    id: Id
    name: Text
    plain: Text
    """What is done and why, for a customer."""
    plain_open: Text = ""
    """Told in its place where the inspection leaves the engine open further than the job's own access."""
    if_left: Text = ""
    """What follows if it is not done; empty: what the rule or characteristic that asks for it says."""
    throughout: Text = ""
    """What it is always done to, such as ``all cylinders``, whichever place asks for it."""
    access: tuple[Id, ...] = ()
    hours: Hours
    per: Text = "job"
    """What ``hours`` are for: ``job`` once, ``place`` for every place."""
    where_noted: bool = False
    """Whether its place is what was noted with the finding that asks for it: which joint leaks."""
    places: tuple[Text, ...] = ()
    """Axes of its places; a rule that asks for it more widely means where its evidence lies along them."""
    parts: tuple[PartUse, ...] = ()
    may_need: tuple[MayNeed, ...] = ()
    covers: tuple[Id, ...] = ()
    applies: Applies = {}
    oversize: bool = False
    """Whether it takes bores to a larger size, and so needs one on sale that is not worn away already."""
    otherwise: Annotated[Text, Field(pattern=r"^([a-z0-9]+(-[a-z0-9]+)*)?$")] = ""
    """Job done in its place where ``applies`` or ``oversize`` rule it out."""
    caution: tuple[Text, ...] = ()
    alters: tuple[Id, ...] = ()
    """Characteristics that are others once it is done: what was chosen by their readings is chosen again."""
    check: bool = False
    """Whether it only tests, and so comes after the work it tests or can wait for."""
    priced: bool = True
    """False where only an offer after a further finding can say the price."""


class Workbook(Record):
    """Access steps and jobs."""

    workbook: Id
    version: Annotated[int, Field(ge=1)]
    title: Text
    access: tuple[AccessStep, ...]
    jobs: tuple[Job, ...]

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        each_id_once((s.id for s in self.access), "access")
        each_id_once((j.id for j in self.jobs), "jobs")
        return self

    def step(self, step_id: str) -> AccessStep | None:
        """The access step of an id."""
        return next((s for s in self.access if s.id == step_id), None)

    def job(self, job_id: str) -> Job | None:
        """The job of an id."""
        return next((j for j in self.jobs if j.id == job_id), None)
