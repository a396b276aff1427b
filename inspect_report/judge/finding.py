"""Defines findings, grades and trends: what judging gives."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final

from inspect_report.knowledge.case import Origin
from inspect_report.knowledge.catalogue import Known
from inspect_report.measure.derived import Failed
from inspect_report.records.position import Position, finding_id
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity

SIGNIFICANCE: Final = 0.05
"""Chance at which an outlier test calls a good set bad."""


class Verdict(StrEnum):
    """What is said of one finding; nine words that never share a meaning."""

    AS_NEW = "as new"
    SERVICEABLE = "serviceable"
    MARGINAL = "marginal"
    UNDECIDED = "undecided"
    BEYOND_LIMIT = "beyond limit"
    NOT_INSPECTED = "not inspected"
    NOT_APPLICABLE = "not applicable"
    NO_LIMIT = "no limit known"
    CHECK_FAILED = "check failed"


@dataclass(frozen=True, slots=True)
class Limit:
    """The row a finding was held against, in SI; an end that is not printed is None."""

    standard_low: float | None
    standard_high: float | None
    low: float | None
    high: float | None
    wears: str
    watch: float
    unit: str
    source: str
    sure: str
    origin: Origin
    condition: str = ""
    disputed: str = ""


@dataclass(frozen=True, slots=True)
class Seen:
    """What the eye found at a place."""

    damage: str
    amount: int
    size: int | None
    strength: int | None
    note: str
    by: str = ""
    """Who saw it, where several looked."""


@dataclass(frozen=True, slots=True)
class Finding:
    """
    One characteristic at one place with its verdict and all that led to it.

    ``used`` is the share of wear allowance used, 0 inside the standard range, above 1 beyond the limit, None
    without a limit. ``inside`` is the probability that the true value keeps the limit. ``side`` is ``above``
    or ``below`` the standard range, or the limits where no range is printed, else empty.
    """

    id: str
    characteristic: str
    name: str
    position: Position
    assembly: str
    verdict: Verdict
    reason: str
    unit: str = ""
    decimals: int = 2
    quantity: Quantity | None = None
    limit: Limit | None = None
    used: float | None = None
    inside: float | None = None
    side: str = ""
    formula: str = ""
    readings: tuple[str, ...] = ()
    inputs: tuple[Place, ...] = ()
    instruments: tuple[str, ...] = ()
    seen: tuple[Seen, ...] = ()
    chosen: tuple[str, ...] = ()
    outside_depth: bool = False
    note: str = ""
    engine: str = ""
    """State of the engine at the test, cold, warm or hot, where that bears on the value."""
    basis: str = ""
    """What else it must share with a value it is held against: the tester's orifice."""
    apart: str = ""
    """How two people's ratings of the place differ, in words."""
    sold: bool = False
    """Whether it is a size by which a part is sold, which is told in its own unit whatever is chosen."""
    doubt: str = ""
    """Why it should be measured again before anything rests on it, in words."""


def finding_of(known: Known, position: Position, verdict: Verdict, reason: str) -> Finding:
    """The bare finding of a characteristic at a place."""
    return Finding(
        id=finding_id(known.id, position),
        characteristic=known.id,
        name=known.name,
        position=position,
        assembly=known.assembly,
        verdict=verdict,
        reason=reason,
        unit=known.unit,
        decimals=known.decimals,
    )


@dataclass(frozen=True, slots=True)
class Counted:
    """
    What one characteristic adds to the grade of its assembly, or one assembly to that of the engine.

    ``word``: the worst grade word at its places; empty where none was graded. ``left``: the wear allowance
    left, 0 to 100, as the mean over the places graded; of an assembly its score. ``used``, ``planned`` and
    ``beyond_depth`` count its checks as those of the grade are counted.
    """

    id: str
    name: str
    weight: int
    matters: bool
    """Whether it matters for function, so that it can set the word."""
    word: str
    left: float | None
    used: int
    planned: int
    beyond_depth: int


@dataclass(frozen=True, slots=True)
class HeldCap:
    """A rule of the scoring book that holds, with the findings that call for it."""

    id: str
    name: str
    why: str
    at_most: str
    """The best grade word it allows."""
    score_at_most: int
    do_not_run: bool
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grade:
    """
    The grade of an assembly, or of the engine (``assembly`` empty).

    ``word``: as new, serviceable, marginal, unserviceable or not graded. ``score``: 0 to 100, None when not
    graded. ``planned``: checks of this depth; ``beyond_depth``: checks that need a deeper strip-down.
    """

    assembly: str
    name: str
    word: str
    score: float | None
    used: int
    planned: int
    beyond_depth: int
    worst: tuple[str, ...] = ()
    """Ids of the findings that set the word."""
    caps: tuple[str, ...] = ()
    """Names of the caps that hold, with why."""
    do_not_run: bool = False
    counted: tuple[Counted, ...] = ()
    """What word, score and counts are reckoned from; empty in assessments made before it was kept."""
    held: tuple[HeldCap, ...] = ()
    """The caps with what they allow and what calls for them; empty in such assessments, too."""


@dataclass(frozen=True, slots=True)
class PastReading:
    """One quantity of an earlier inspection; running times (s) of the engine and the part."""

    inspection: str
    day: date
    engine: str
    characteristic: str
    position: Position
    part: str
    """Serial of the fitted part, else the engine's."""
    engine_time: float | None
    part_time: float | None
    quantity: Quantity
    state: str = ""
    """State of the engine at the test, where that bears on the value."""
    basis: str = ""
    """What else it must share with a value it is held against: the tester's orifice."""

    def compares(self, state: str, basis: str) -> bool:
        """Whether the engine was as cold, or as warm, and the tester alike, as far as that is noted."""
        as_warm = not (self.state and state) or (self.state == "cold") == (state == "cold")
        return as_warm and (not (self.basis and basis) or self.basis == basis)


@dataclass(frozen=True, slots=True)
class Outlying:
    """A place that stands out from its like by Grubbs' test at a significance, both sides."""

    characteristic: str
    position: Position
    statistic: float
    critical: float
    count: int
    note: str = ""
    significance: float = SIGNIFICANCE


@dataclass(frozen=True, slots=True)
class Compared:
    """
    Like places that were held against each other, whether one stood out or none.

    ``statistic`` and ``critical`` are None where there are two values, too few for a test; ``note`` says what
    so few can tell.
    """

    characteristic: str
    axes: tuple[str, ...]
    count: int
    statistic: float | None
    critical: float | None
    stands_out: bool
    note: str = ""
    significance: float = SIGNIFICANCE


@dataclass(frozen=True, slots=True)
class Trend:
    """
    A characteristic at one place over running time (s), SI values.

    With three points or more of one part: the line, its prediction band and the time at which the limit is
    met with an early and a late bound (None: not within reach; the early one is the present time where a
    reading taken now could be at the limit already). With fewer: only points and ``note``.
    """

    characteristic: str
    name: str
    position: Position
    part: str
    unit: str
    decimals: int
    times: tuple[float, ...]
    values: tuple[float, ...]
    us: tuple[float, ...]
    inspections: tuple[str, ...]
    starts: tuple[int, ...] = ()
    """Indexes above 0 at which a new part starts a new line; ``times`` are running times of the part."""
    intercept: float | None = None
    slope: float | None = None
    band_times: tuple[float, ...] = ()
    band_low: tuple[float, ...] = ()
    band_high: tuple[float, ...] = ()
    limit: float | None = None
    meets_limit: float | None = None
    meets_early: float | None = None
    meets_late: float | None = None
    note: str = ""

    @property
    def is_open(self) -> bool:
        """Whether a reading may meet the limit at any time from now on, so that no forecast can be told."""
        if self.limit is None or self.meets_late is not None:
            return False
        if self.meets_early is not None:
            return self.meets_early <= self.times[-1] and not self.is_met
        return self.meets_limit is not None and not self.is_met

    @property
    def is_met(self) -> bool:
        """Whether the line has met the limit by now."""
        return self.meets_limit is not None and self.meets_limit <= self.times[-1]


@dataclass(frozen=True, slots=True)
class Judged:
    """Everything judging gives for one inspection."""

    findings: tuple[Finding, ...]
    grades: tuple[Grade, ...]
    """Assemblies in the order of the catalogue."""
    engine: Grade
    outliers: tuple[Outlying, ...] = ()
    trends: tuple[Trend, ...] = ()
    failed: tuple[Failed, ...] = ()
    """Judgements of ours that went wrong."""
    compared: tuple[Compared, ...] = ()
    """Every set of like places that was tested for one that stands out, or was too small for a test."""
