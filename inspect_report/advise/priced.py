"""Defines priced lines and their sums: money at least and at most, exact decimal, in one currency."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final


@dataclass(frozen=True, slots=True)
class Sum:
    """Net, tax and both together."""

    net: Decimal
    tax: Decimal
    gross: Decimal


@dataclass(frozen=True, slots=True)
class Span:
    """
    An amount of money or of hours: at least and at most, alike where it is known.

    Of one class of an estimate, and of a line in it, the ends are those of the cheapest and of the dearest
    outcome of all work up to it. So ends add up; and the high one is less where the dearest outcome has
    fitted a part earlier.
    """

    low: Decimal
    high: Decimal

    def __add__(self, other: "Span") -> "Span":
        return Span(self.low + other.low, self.high + other.high)

    def __sub__(self, other: "Span") -> "Span":
        """How much more this is than another, end by end."""
        return Span(self.low - other.low, self.high - other.high)


NOTHING: Final = Span(Decimal(0), Decimal(0))


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """
    A priced line. ``kind``: work, strip-down, access, part, machine shop. ``price`` None: on request.

    Strip-down is what was done already and is owed whatever is ordered; access is opening and closing, or
    closing alone after it. ``quantity`` times ``unit_price`` is ``price``; for these and for work the
    quantity is hours. Where the price is a range these are its low end, and ``quantity_high`` times
    ``unit_high`` is ``price_high``.
    """

    kind: str
    id: str
    name: str
    quantity: Decimal
    unit_price: Decimal | None
    price: Decimal | None
    for_jobs: tuple[str, ...]
    quantity_high: Decimal | None = None
    """The most it can come to; None where that is known."""
    unit_high: Decimal | None = None
    price_high: Decimal | None = None
    depends_on: tuple[str, ...] = ()
    """Characteristics nobody has looked at that decide the quantity."""

    @property
    def quantities(self) -> Span:
        return Span(self.quantity, self.quantity if self.quantity_high is None else self.quantity_high)

    @property
    def prices(self) -> Span:
        """What it adds to the sums: nothing where it is on request."""
        low = self.price or Decimal(0)
        return Span(low, low if self.price_high is None else self.price_high)


@dataclass(frozen=True, slots=True)
class Total:
    """Lines of one urgency class and their sums; each cost stands in one class only."""

    id: str
    title: str
    lines: tuple[EstimateLine, ...]
    net: Decimal
    tax: Decimal
    gross: Decimal
    on_request: int
    """How many lines have no price."""
    high: Sum | None = None
    """The sums at most, where a price is a range; ``net``, ``tax`` and ``gross`` are then those at least."""

    @property
    def sums(self) -> tuple[Span, Span, Span]:
        """Net, tax and gross, each at least and at most."""
        high = self.high or Sum(self.net, self.tax, self.gross)
        return Span(self.net, high.net), Span(self.tax, high.tax), Span(self.gross, high.gross)
