"""
Turns causes that may come true into the work that any set of them asks for, thousands of sets at once.

A set is settled as planned work is: a job that two causes ask for is done once, a step that two jobs need is
opened once, and what another job, or closing a step, does anyway is left out. Arrays hold one row for each
thing and one column for each set.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from inspect_report.advise.advice import WorkItem
from inspect_report.advise.counting import holds
from inspect_report.advise.covering import all_covered
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.catalogue import URGENCIES, Urgency
from inspect_report.knowledge.workbook import AccessStep
from inspect_report.records.position import Position

Sets = NDArray[np.bool_]
"""Whether a cause, or a thing, belongs to each of several sets: one row a cause, one column a set."""
Ranks = NDArray[np.int8]
"""How urgent jobs are, 0 most: one row a job, one column a set."""
WATCH: Final = URGENCIES.index("watch")


@dataclass(frozen=True, slots=True)
class Ask:
    """A cause asks for a job at a place."""

    cause: int
    job: str
    position: Position
    urgency: Urgency


@dataclass(frozen=True, slots=True)
class Unit:
    """A job at one of its places."""

    job: str
    position: Position


@dataclass(frozen=True, slots=True)
class Done:
    """What each of several sets has done and opened: one row a unit, job and step, one column a set."""

    units: Sets
    jobs: Sets
    steps: Sets


@dataclass(frozen=True)
class Bundles:
    """
    The work that some causes may ask for, ready to be settled for many sets of them at once.

    ``items`` tells of each job what it needs open; ``left_open`` are steps that are open whatever is done.
    """

    books: Books
    items: Mapping[str, WorkItem]
    asks: tuple[Ask, ...]
    causes: int
    left_open: tuple[AccessStep, ...] = ()

    @cached_property
    def jobs(self) -> tuple[str, ...]:
        """Jobs in the order of the workbook."""
        asked = {a.job for a in self.asks}
        return tuple(j.id for j in self.books.workbook.jobs if j.id in asked)

    @cached_property
    def units(self) -> tuple[Unit, ...]:
        """Jobs at their places, those of one job together."""
        asked = dict.fromkeys(Unit(a.job, a.position) for a in self.asks)
        return tuple(sorted(asked, key=lambda u: self._job[u.job]))

    @cached_property
    def steps(self) -> tuple[AccessStep, ...]:
        """Steps that any of the jobs needs, and those left open, in the order of the workbook."""
        needed = {s for j in self.jobs for s in self.items[j].access} | {s.id for s in self.left_open}
        return tuple(s for s in self.books.workbook.access if s.id in needed)

    @cached_property
    def _job(self) -> dict[str, int]:
        return {job: n for n, job in enumerate(self.jobs)}

    @cached_property
    def _of_job(self) -> dict[str, list[int]]:
        """Rows of the units of each job."""
        rows: dict[str, list[int]] = {job: [] for job in self.jobs}
        for n, unit in enumerate(self.units):
            rows[unit.job].append(n)
        return rows

    def by_place(self, job: str) -> bool:
        """Whether hours or parts of a job are counted by place, so that the finest places count."""
        known = self.books.workbook.job(job)
        return known is not None and "place" in (known.per, *(use.per for use in known.parts))

    def done(self, sets: Sets) -> Done:
        """
        What each set does, without what is needless.

        Args:
            sets: Causes that come true: one row a cause, one column a set.
        """
        ranks = self._ranks(sets)
        kept = self._distinct(self._asked(sets) & (ranks[self._row_of_job] < WATCH))
        kept = self._without_closed_over(self._without_covered(kept, ranks), ranks)
        jobs = self._any(kept)
        return Done(kept, jobs, self._opened(jobs))

    @cached_property
    def _row_of_job(self) -> list[int]:
        return [self._job[u.job] for u in self.units]

    def _asked(self, sets: Sets) -> Sets:
        """Units that any cause asks for."""
        causes: dict[Unit, dict[int, None]] = {unit: {} for unit in self.units}
        for ask in self.asks:
            causes[Unit(ask.job, ask.position)][ask.cause] = None
        asked = np.empty((len(self.units), sets.shape[1]), np.bool_)
        for n, asking in enumerate(causes.values()):
            asked[n] = _any(sets, list(asking))
        return asked

    def _ranks(self, sets: Sets) -> Ranks:
        """How urgent each job is in each set, 0 most; ``WATCH`` also where nothing asks for it."""
        causes: dict[tuple[int, str], dict[int, None]] = {}
        for ask in self.asks:
            causes.setdefault((URGENCIES.index(ask.urgency), ask.job), {})[ask.cause] = None
        ranks = np.full((len(self.jobs), sets.shape[1]), WATCH, np.int8)
        for (rank, job), asking in sorted(causes.items(), reverse=True, key=lambda c: c[0]):
            ranks[self._job[job], _any(sets, list(asking))] = rank
        return ranks

    def _distinct(self, asked: Sets) -> Sets:
        """
        Without places that others of the same job tell as well.

        Where something is counted by place the finest are kept, else the widest.
        """
        kept = asked.copy()
        for job, rows in self._of_job.items():
            if len({self.units[n].position.axes for n in rows}) > 1:
                finest = self.by_place(job)
                for wide, narrow in self._within(rows, rows):
                    if wide != narrow:
                        kept[wide if finest else narrow] &= ~asked[narrow if finest else wide]
        return kept

    def _within(self, wides: Sequence[int], narrows: Sequence[int]) -> Iterator[tuple[int, int]]:
        """Rows of units of which the first lies around the second."""
        places = [u.position for u in self.units]
        return ((w, n) for w in wides for n in narrows if holds(places[w], places[n]))

    def _without_covered(self, kept: Sets, ranks: Ranks) -> Sets:
        """
        Without units that another job, done no later and itself not needless, does anyway.

        Jobs that cover more are settled first, as in planning.
        """
        still = kept.copy()
        for other, needless in self._covering:
            no_later = ranks[self._job[other]] <= ranks[self._job[needless]]
            rows = self._of_job[needless]
            if self._throughout(other):
                still[rows] &= ~(no_later & _any(still, self._of_job[other]))
                continue
            for wide, narrow in self._within(self._of_job[other], rows):
                still[narrow] &= ~(no_later & still[wide])
        return still

    @cached_property
    def _covering(self) -> tuple[tuple[str, str], ...]:
        """Which job covers which, by what is settled first."""
        covers = all_covered(self.books.workbook)
        ordered = sorted(self.jobs, key=lambda j: -len(covers[j]))
        return tuple((o, n) for n in ordered for o in self.jobs if n in covers[o])

    def _throughout(self, job: str) -> bool:
        known = self.books.workbook.job(job)
        return known is not None and known.per != "place"

    def _without_closed_over(self, kept: Sets, ranks: Ranks) -> Sets:
        """
        Without jobs that closing a step does anyway, which is open for other work no later than they are.

        One job after the other, so that no two make each other needless.
        """
        still, done = kept.copy(), self._any(kept)
        for n, job in enumerate(self.jobs):
            for step in (s for s in self.steps if job in s.covers):
                closed = self._is_needed(step, ranks[n], done, ranks)
                still[self._of_job[job]] &= ~closed
                done[n] &= ~closed
        return still

    def _is_needed(self, step: AccessStep, rank: Ranks, done: Sets, ranks: Ranks) -> Sets:
        """Where a step is open anyway, or for work no later that it does not itself make needless."""
        if step in self.left_open:
            return np.ones(len(rank), np.bool_)
        others = [self._job[j] for j in self._needing(step) if j not in step.covers]
        return _any(done[others] & (ranks[others] <= rank), range(len(others)))

    def _needing(self, step: AccessStep) -> tuple[str, ...]:
        return tuple(j for j in self.jobs if step.id in self.items[j].access)

    def _any(self, units: Sets) -> Sets:
        """Jobs with any of their units."""
        jobs = np.zeros((len(self.jobs), units.shape[1]), np.bool_)
        for job, rows in self._of_job.items():
            jobs[self._job[job]] = _any(units, rows)
        return jobs

    def _opened(self, jobs: Sets) -> Sets:
        is_open = {s.id for s in self.left_open}
        opened = np.zeros((len(self.steps), jobs.shape[1]), np.bool_)
        for n, step in enumerate(self.steps):
            needing = [self._job[j] for j in self._needing(step)]
            opened[n] = _any(jobs, needing) | (step.id in is_open)
        return opened


def _any(sets: Sets, rows: Sequence[int]) -> Sets:
    """Where any of some rows is true."""
    found: Sets = np.logical_or.reduce(sets[list(rows)], axis=0)
    return found
