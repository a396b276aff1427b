"""Defines what measuring gives: quantities, what could not be measured and why, and tables of choices."""

from dataclasses import dataclass
from typing import Literal

from inspect_report.records.position import Position, finding_id
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity

Cause = Literal["resolution", "repeats", "scatter", "permissible error"]


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """
    One line of an uncertainty budget: a cause of doubt, independent of all others, and what it adds.

    Attributes:
        name: The reading it belongs to, or the gauge whose error moves all that was read with it. [word]
        cause: Step of the scale, repeats of one reading, scatter over places, or the gauge's error. [word]
        value: The reading's value, None for an error, whose best estimate is 0. [x]
        u: Standard uncertainty. [x]
        dimension: Dimension of the reading. [word]
        sensitivity: How much the result moves with it. [y/x]
        contribution: Sensitivity times standard uncertainty, sign kept. [y]
        dof: Degrees of freedom, None where it rests on no repeats. [count]
    """

    name: str
    cause: Cause
    value: float | None
    u: float
    dimension: str
    sensitivity: float
    contribution: float
    dof: float | None


@dataclass(frozen=True, slots=True)
class Derived:
    """A quantity at a place, with the readings (``bore-diameter.1.top.along``) and lines it came from."""

    characteristic: str
    position: Position
    quantity: Quantity
    formula: str
    """Name of the formula in ``mechanics``, or ``reading`` for a value read as it is."""
    readings: tuple[str, ...]
    inputs: tuple[Place, ...]
    instruments: tuple[str, ...] = ()
    note: str = ""
    doubt: str = ""
    """Why it should be measured again before anything rests on it, in words."""
    budget: tuple[BudgetLine, ...] = ()
    """Where its uncertainty comes from; the root sum of squares of the contributions is ``quantity.u``."""
    engine: str = ""
    """State of the engine at the test, cold, warm or hot, where that bears on the value."""
    basis: str = ""
    """What else it must share with a value it is held against: the tester's orifice."""
    sold_in: str = ""
    """The unit it is sold in, where it is a size of a part on sale."""

    @property
    def id(self) -> str:
        return finding_id(self.characteristic, self.position)


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """A quantity that was planned and has no value: ``why`` in words for the report."""

    characteristic: str
    position: Position
    why: str
    outside_depth: bool = False
    applies: bool = True


@dataclass(frozen=True, slots=True)
class Failed:
    """A piece of work that went wrong through a fault of ours: a quantity, finding, trend or rule."""

    characteristic: str
    """Characteristic, item or rule it was for."""
    position: Position
    message: str


ShimSource = Literal["", "box", "moved", "buy"]


@dataclass(frozen=True, slots=True)
class ShimChoice:
    """The shim to fit at one valve; lengths in m. ``size`` None: no shim there is gives a gap in range."""

    position: Position
    measured: float
    fitted: float
    aim: float
    low: float
    high: float
    exact: float
    size: float | None
    predicted: float | None
    change: bool
    """False where the fitted shim stays."""
    note: str = ""
    source: ShimSource = ""
    """Where a shim to fit comes from: the workshop's box, another valve, or a shop."""
    exact_u: float = 0.0
    """Standard uncertainty of ``exact``."""
    predicted_u: float | None = None
    """Standard uncertainty of ``predicted``: of the gap read, both shims, and what they share."""
    inside: float | None = None
    """Probability that the gap will lie in its range."""
    formula: str = ""
    """Name of the formula ``predicted`` comes from."""
    readings: tuple[str, ...] = ()
    """Readings it was made from."""

    @property
    def is_there(self) -> bool:
        """Whether it need not be bought: it stays, lies in the box, or comes from another valve."""
        return not self.change or self.source in ("box", "moved")


@dataclass(frozen=True, slots=True)
class GasketChoice:
    """A head gasket grade on sale: the squish gap (m) and ratio it would give, worst cylinder each."""

    grade: str
    thickness: float
    squish: float
    ratio: float | None
    squish_floor: float | None
    ratio_ceiling: float | None
    squish_ok: bool
    ratio_ok: bool
    fitted: bool
    chosen: bool
    squish_u: float = 0.0
    """Standard uncertainty of ``squish``."""
    ratio_u: float | None = None
    """Standard uncertainty of ``ratio``."""
    tightest: Position | None = None
    """Cylinder that has the least squish gap."""
    highest: Position | None = None
    """Cylinder that has the greatest ratio."""


Told = Literal["size", "mark"]


@dataclass(frozen=True, slots=True)
class ShellChoice:
    """The bearing shells to fit at one place by the maker's table; lengths in m, grade empty for none."""

    bearing: Literal["main", "big-end"]
    position: Position
    housing: str
    """Class of the housing."""
    housing_by: Told
    """Whether the class was told by size or by mark."""
    journal: str
    """Class of the journal."""
    journal_by: Told
    grade: str
    fitted: str
    """Grade found in it, as written."""
    thickness: float | None = None
    clearance: float | None = None
    """Oil clearance to expect with these shells, where housing and journal were measured."""
    clearance_u: float | None = None
    """Standard uncertainty of ``clearance``."""
    readings: tuple[str, ...] = ()
    """Readings it was made from."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Measured:
    """Everything measuring gives for one inspection."""

    quantities: tuple[Derived, ...]
    unmeasured: tuple[Unmeasured, ...] = ()
    failed: tuple[Failed, ...] = ()
    shims: tuple[ShimChoice, ...] = ()
    gaskets: tuple[GasketChoice, ...] = ()
    shells: tuple[ShellChoice, ...] = ()
