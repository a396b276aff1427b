"""Defines the buyer's view: what is needed already, what may come on top, and what nobody has looked at."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from inspect_report.advise.priced import Total
from inspect_report.records.position import Position

Ground = Literal["measured", "share of the workshop"]
"""Where a chance comes from: a value with its uncertainty, or what a workshop found in such engines."""


@dataclass(frozen=True, slots=True)
class Chance:
    """
    Something that may be beyond its limit, with how likely that is and what it would ask for.

    ``added``: what its work costs on top of what is known, tax included, if nothing else comes true.
    """

    id: str
    """Finding, or the characteristic where nobody has looked."""
    name: str
    position: Position
    ground: Ground
    chance: float
    """Probability that it is beyond its limit."""
    jobs: tuple[str, ...]
    """Jobs it would ask for, by id."""
    work: tuple[str, ...]
    """The same by name."""
    added: Decimal
    on_request: int
    """How many things it would ask for have no price."""


@dataclass(frozen=True, slots=True)
class Likely:
    """
    What may come on top of what is known, by all outcomes and their chances or by draws, tax included.

    ``p10``: with a chance of one in ten it is no more than this; ``p50`` one in two; ``p90`` nine in ten.
    """

    chances: tuple[Chance, ...]
    mean: Decimal
    p10: Decimal
    p50: Decimal
    p90: Decimal
    nothing: float
    """Chance that nothing comes on top."""
    draws: int
    """How many draws it rests on; 0 where every outcome was reckoned with its exact chance."""
    seed: int


@dataclass(frozen=True, slots=True)
class Hidden:
    """
    Something nobody has looked at, and what a fault there would cost on top of what is known, tax included.

    ``low``: at one place; ``high``: at every place not looked at, with every price at its high end. How
    likely a fault is, is not known, unless a workshop gives a share of such engines.
    """

    characteristic: str
    name: str
    assembly: str
    positions: tuple[Position, ...]
    """Places nobody has looked at; the engine for all of it."""
    reason: str
    outside_depth: bool
    jobs: tuple[str, ...]
    """Jobs a fault would ask for, by id; none where the books know of none, or other work does it anyway."""
    work: tuple[str, ...]
    """The same by name."""
    low: Decimal
    high: Decimal
    on_request: int
    """How many things it would ask for have no price."""
    share: float | None = None
    """Share of such engines in which the workshop found it beyond its limit; then it is a chance as well."""


@dataclass(frozen=True, slots=True)
class Looked:
    """
    How much of an assembly, or of the engine (``assembly`` empty), was looked at.

    ``weight`` is what all its characteristics weigh by the books, ``seen`` what those weigh that were looked
    at; of one looked at in part the share of its places counts. For the engine each assembly counts by its
    own weight.
    """

    assembly: str
    name: str
    seen: float
    weight: float

    @property
    def share(self) -> float | None:
        """Share looked at; None where nothing weighs anything."""
        return self.seen / self.weight if self.weight else None


@dataclass(frozen=True, slots=True)
class Buyer:
    """The cost of an engine to whoever buys it, tax included."""

    known_low: Decimal
    known_high: Decimal
    """What findings, sights and patterns ask for already; alike where no price is a range."""
    known_on_request: int
    likely: Likely
    hidden: tuple[Hidden, ...]
    """In the order of the findings."""
    hidden_high: Decimal
    """What it would cost on top of what is known if everything nobody has looked at were faulty."""
    looked: tuple[Looked, ...]
    """Assemblies in the order of the catalogue."""
    engine: Looked
    known: tuple[Total, ...] = ()
    """The lines of what is known; empty in assessments made before they were kept."""

    def chance(self, some_id: str) -> Chance | None:
        """The chance of a finding or characteristic, where it has one."""
        return next((c for c in self.likely.chances if c.id == some_id), None)

    def hidden_at(self, characteristic: str) -> Hidden | None:
        """What is hidden of a characteristic, where something is."""
        return next((h for h in self.hidden if h.characteristic == characteristic), None)
