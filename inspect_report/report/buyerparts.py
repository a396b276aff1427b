"""Defines the parts of a buyer's view that a page template may use, as text ready to print."""
# ruff: noqa: RUF009 - shown() only builds a field()

from dataclasses import dataclass

from inspect_report.report.reportparts import Bar
from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class BuyerSum:
    """One of the three kinds of cost."""

    title: str = shown("'Known now', 'Likely on top' or 'Could be hidden'")
    amount: str = shown("the sum, or from what to what it may come, in words")
    says: str = shown("what it holds, and how surely")
    chain: str = shown("id of the chain behind it, in 'chains'")


@dataclass(frozen=True, slots=True)
class BuyerChance:
    """Something that may be beyond its limit."""

    name: str = shown("what, and where")
    chance: str = shown("how likely it is beyond its limit, and on what that rests")
    work: str = shown("work it would ask for")
    added: str = shown("what that costs on top of what is known")


@dataclass(frozen=True, slots=True)
class BuyerPart:
    """One part of the engine: how much of it was looked at, and what a fault in the rest would cost."""

    name: str = shown("assembly")
    looked: str = shown("share looked at, by weight, or a dash")
    bar: Bar | None = shown("the same as a bar, or nothing")
    fault: str = shown("what one fault nobody saw would cost, from the smallest to the dearest")
    dearest: str = shown("what the dearest of them would be, or a dash")


@dataclass(frozen=True, slots=True)
class BuyerItem:
    """Things nobody looked at where a fault would ask for the same work."""

    names: str = shown("what nobody looked at")
    work: str = shown("work a fault would ask for")
    cost: str = shown("what that costs on top of what is known")


@dataclass(frozen=True, slots=True)
class BuyerView:
    """What an engine may cost its buyer."""

    intro: str = shown("what the sums hold, in a sentence or two")
    sums: tuple[BuyerSum, ...] = shown("the three kinds of cost")
    coverage_chain: str = shown("id of the chain behind how much was looked at, in 'chains'")
    coverage: str = shown("how much of the engine was looked at, by weight and by count")
    parts: tuple[BuyerPart, ...] = shown("parts of the engine of which something was not looked at")
    parts_note: str = shown("how the weights are meant, and that no chance is made up")
    chances: tuple[BuyerChance, ...] = shown("what the likely cost is made of, weightiest first")
    chances_more: str = shown("how many more there are, or nothing")
    items: tuple[BuyerItem, ...] = shown("everything not looked at that has a price, dearest first")
    unpriced: str = shown("what was not looked at and has no work of its own in the books, or nothing")
