"""Turns what is written for a choice into the answers chosen, and into how much of each was found."""

from typing import Any

from inspect_report.records.problem import nearest, some
from inspect_report.records.tray import Spot, Tray, listed, step


def take_choice(spot: Spot, value: Any, tray: Tray) -> None:
    """Read an answer, a list of them, or ``{kind: amount}`` where the item takes amounts."""
    if isinstance(value, dict) and spot.item.amounts:
        _take_amounts(spot, value, tray)
        return
    if isinstance(value, list) and not spot.item.several:
        tray.refuse(
            spot,
            "V314",
            "several answers where one is asked for",
            value,
            some(spot.item.options),
            "keep the one that holds, without brackets",
        )
        return
    if isinstance(value, list) and not value:
        tray.refuse(
            spot,
            "V313",
            "no answer in the list",
            "an empty list",
            some(spot.item.options),
            "leave it empty where it was not looked at",
        )
        return
    spots = listed(spot, value)
    chosen = tuple(_option(at, v, tray) for at, v in spots)
    if all(chosen):
        tray.answer(spot, tuple(dict.fromkeys(c for c in chosen if c)))


def _option(spot: Spot, value: Any, tray: Tray) -> str | None:
    word = tray.document.text(spot.path)
    options = tuple(spot.item.options)
    if not isinstance(value, dict | list) and word in options:
        return word
    near = nearest(word, options)
    mend = (
        f"write {near!r} if that is meant"
        if near
        else "take one of the answers; what else there is to say goes into 'notes'"
    )
    tray.refuse(spot, "V313", "answer that is not known here", value, some(options, 20), mend)
    return None


def _take_amounts(spot: Spot, value: dict[str, Any], tray: Tray) -> None:
    """Kinds with how much of each was found, 1 to 5; a kind that was not found is left out."""
    given = {kind: amount for kind, amount in value.items() if amount is not None}
    chosen = tuple(_kind(spot, kind, tray) for kind in given)
    amounts = tuple(_amount(spot.below(kind), amount, tray) for kind, amount in given.items())
    if all(chosen) and all(amounts):
        tray.answer(spot, tuple(c for c in chosen if c), tuple(a for a in amounts if a))


def _amount(spot: Spot, written: Any, tray: Tray) -> int | None:
    amount = step(spot, written, tray)
    if amount == 0:
        tray.refuse(
            spot,
            "V318",
            "kind of amount 0",
            written,
            "1 to 5",
            "leave the kind out; where nothing at all was found write 'nothing' without an amount",
        )
    return amount


def _kind(spot: Spot, word: str, tray: Tray) -> str | None:
    options = tuple(spot.item.options)
    if word in options:
        return word
    near = nearest(word, options)
    tray.faults.add(
        "V313",
        "answer that is not known here",
        (*spot.path, word),
        word,
        some(options, 20),
        f"write {near!r} if that is meant" if near else "take one of the answers",
        at_key=True,
    )
    return None
