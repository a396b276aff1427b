"""Turns a judged inspection into what is needed already, and into prices of whatever else may be needed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.awaiting import with_awaited
from inspect_report.advise.bundle_prices import MILLIONTHS, BundlePrices
from inspect_report.advise.bundles import Ask, Bundles, Done
from inspect_report.advise.causes import Joint, Sighted, in_one_way, joints
from inspect_report.advise.desk import Desk, rounded
from inspect_report.advise.estimate import tax_rate
from inspect_report.knowledge.case import Books, Case
from inspect_report.measure.derived import ShimChoice

KNOWN: Final = 0
"""Row of what is needed already; it is true in every set."""


@dataclass(frozen=True)
class Prospect:
    """Everything the buyer's view is made of."""

    case: Case
    sighted: Sighted
    shims: tuple[ShimChoice, ...]

    @property
    def books(self) -> Books:
        """The books of the inspection."""
        return self.case.books

    @cached_property
    def patterns(self) -> tuple[Joint, ...]:
        """Patterns that stand only if undecided findings come true."""
        return joints(self.sighted.diagnoses, self.sighted.undecided)

    @cached_property
    def needed(self) -> tuple[WorkItem, ...]:
        """Work that is needed already, whatever another job makes needless."""
        loose = {joint.diagnosis.id for joint in self.patterns}
        standing = [d for d in self.sighted.diagnoses if d.id not in loose]
        return self.sighted.asked(self.sighted.standing, standing)

    def prices(self, asks: Sequence[Ask], items: Iterable[WorkItem], causes: int) -> BundlePrices:
        """Prices of any set of some causes."""
        awaited = with_awaited(items, self.books.workbook, self.sighted.findings)
        asked, still_open = in_one_way(asks, self.books), self.sighted.left_open
        bundles = Bundles(self.books, {i.job: i for i in awaited}, asked, causes, still_open)
        is_open = frozenset(s.id for s in self.sighted.left_open)
        there = frozenset(s.position for s in self.shims if s.is_there)
        return BundlePrices(bundles, Desk(self.books, is_open, (), there))

    def names(self, jobs: Iterable[str]) -> tuple[str, ...]:
        """What some jobs are called, wherever they are done."""
        known = (self.books.workbook.job(job) for job in jobs)
        return tuple(job.name for job in known if job)

    def gross(self, net: float) -> Decimal:
        """An amount in millionths before tax as money with tax."""
        exact = Decimal(int(net)) / MILLIONTHS * (1 + tax_rate(self.books.workshop))
        return rounded(exact, self.books.workshop.currency)


def jobs_done(bundles: Bundles, done: Done, cause: int, column: int) -> tuple[str, ...]:
    """Jobs that a cause asks for and that are really done in a set."""
    asked = {a.job for a in bundles.asks if a.cause == cause}
    return tuple(j for n, j in enumerate(bundles.jobs) if j in asked and done.jobs[n, column])
