"""Turns a value that cannot be right into what it was probably meant to be: another unit, a slipped point."""

from typing import Final

from inspect_report.records.checklist import Item
from inspect_report.records.quantity import from_si, meant_units, number_and_unit, si, unit_named

NEVER_NEGATIVE: Final = frozenset(
    {
        "length",
        "area",
        "volume",
        "pressure",
        "time",
        "mass",
        "force",
        "torque",
        "flow",
        "speed",
        "count",
    }
)
"""Dimensions without values below nothing, unless an item's own range says so."""
_SHIFTS: Final = (-1, 1, -2, 2, -3, 3)


def believable_range(item: Item) -> tuple[float, float]:
    """Smallest and largest value an item takes, in SI; without a range, what its dimension allows."""
    own = item.bounds()
    if own is not None:
        return own
    never = unit_named(item.unit).dimension in NEVER_NEGATIVE
    return (0.0 if never else float("-inf")), float("inf")


def is_believable(value: float, item: Item) -> bool:
    """Whether an SI value lies in the range of its item."""
    low, high = believable_range(item)
    return low <= value <= high


def range_text(item: Item) -> str:
    """The range of an item in its unit, for a message."""
    low, high = believable_range(item)
    if high == float("inf"):
        return "0 or more" if low == 0 else "any value"
    return f"{plain(from_si(low, item.unit))} {item.unit} to {plain(from_si(high, item.unit))} {item.unit}"


def probably_meant(written: object, item: Item) -> str:
    """
    What was probably meant by an amount outside its item's range, as a mend.

    Args:
        written: What stands in the file; it is an amount of the item's dimension.
        item: What was asked for.
    """
    number, unit = number_and_unit(written, item.unit)
    guesses = meant_units(number, unit, *believable_range(item), item.unit)
    if number < 0 and is_believable(si(-number, unit), item):
        guesses.append(f"without the minus sign: {plain(-number)} {unit}")
    slipped = _slipped(number, unit, item)
    if slipped is not None:
        guesses.append(f"did the decimal point slip: {plain(slipped)} {unit}?")
    return (
        "; ".join(guesses) or "look at reading, unit and place again; the checklist says what is believable"
    )


def _slipped(number: float, unit: str, item: Item) -> float | None:
    moved = (number * 10.0**shift for shift in _SHIFTS)
    return next((m for m in moved if is_believable(si(m, unit), item)), None) if number else None


def plain(number: float) -> str:
    """A number without float noise, for a message."""
    return f"{number:.10g}"
