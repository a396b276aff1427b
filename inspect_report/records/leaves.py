"""Turns what stands at one place of the readings into a reading, a rating or an answer."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from inspect_report.records.believable import believable_range, is_believable, probably_meant, range_text
from inspect_report.records.checklist import Kind
from inspect_report.records.choices import take_choice
from inspect_report.records.html import refuse_html
from inspect_report.records.inspection import Rating, Reading
from inspect_report.records.problem import nearest, some
from inspect_report.records.quantity import QuantityFault, read_amount, unit_named
from inspect_report.records.toolbox import instrument_for
from inspect_report.records.tray import Spot, Tray, listed, step

_RATING_KEYS: Final = ("damage", "amount", "size", "strength", "note", "by")


def take(spot: Spot, value: Any, tray: Tray) -> None:
    """Read the value at a spot by the kind of its item; what is empty was not filled in."""
    if not is_empty(value):
        _TAKERS[spot.item.kind](spot, value, tray)


def is_empty(value: Any) -> bool:
    """Whether nothing was filled in: nothing, or a form whose every line is still empty."""
    if isinstance(value, dict):
        return all(is_empty(v) for v in value.values())
    if isinstance(value, list):
        return bool(value) and all(is_empty(v) for v in value)
    return value is None


def _take_reading(spot: Spot, value: Any, tray: Tray) -> None:
    spots = listed(spot, value)
    values = [_amount(at, written, tray) for at, written in spots]
    instrument = instrument_for(spot.item, spot.instrument, spot.asked_at, tray.toolbox, tray.faults)
    good = tuple(v for v in values if v is not None)
    if instrument is None or not good or len(good) < len(values):
        return
    typed = tuple(tray.document.text(at.path) for at, _ in spots)
    dimension, place = unit_named(spot.item.unit).dimension, tray.document.place(spot.path)
    tray.readings.append(
        Reading(spot.item.id, spot.position, good, dimension, typed, instrument, place, spot.note)
    )


def _amount(spot: Spot, written: Any, tray: Tray) -> float | None:
    if isinstance(written, dict | list):
        kind = "several amounts" if isinstance(written, list) else "keys"
        tray.refuse(
            spot,
            "V305",
            f"{kind} where one amount belongs",
            written,
            f"an amount in {spot.item.unit}, or a list of repeats",
            f"write '{spot.path[-1]}: 1.23' or '{spot.path[-1]}: [1.23, 1.24]'",
        )
        return None
    try:
        value = read_amount(written, spot.item.unit)
    except QuantityFault as fault:
        tray.refuse(spot, "V201", fault.title, written, fault.allowed, fault.mend)
        return None
    if is_believable(value, spot.item):
        return value
    below_nothing = value < 0 <= believable_range(spot.item)[0]
    code, title = (
        ("V311", "amount below nothing") if below_nothing else ("V310", "amount that cannot be right")
    )
    tray.refuse(spot, code, title, written, range_text(spot.item), probably_meant(written, spot.item))
    return None


def _take_count(spot: Spot, value: Any, tray: Tray) -> None:
    low, high = spot.item.bounds() or (0.0, float("inf"))
    whole = isinstance(value, int) and not isinstance(value, bool)
    if whole and low <= value <= high:
        tray.answer(spot, (str(value),))
        return
    allowed = "a whole number, " + (f"{low:g} to {high:g}" if high < float("inf") else "0 or more")
    tray.refuse(spot, "V312", "not a count", value, allowed, "write figures only, without a unit")


def _take_tick(spot: Spot, value: Any, tray: Tray) -> None:
    word = tray.document.text(spot.path)
    if isinstance(value, dict | list) or word not in ("done", "no"):
        tray.refuse(
            spot,
            "V319",
            "neither done nor not done",
            value,
            "done, no",
            "write 'done' if that is meant"
            if word.casefold() in ("yes", "y", "true", "ok", "x")
            else "write 'done', 'no', or leave it empty where it was not looked at",
        )
        return
    tray.answer(spot, (word,))


def _take_text(spot: Spot, value: Any, tray: Tray) -> None:
    text = tray.document.text(spot.path)
    if isinstance(value, dict | list):
        tray.refuse(
            spot,
            "V320",
            "not text",
            value,
            "a word or sentence",
            "write text, between quotes where it holds a colon",
        )
        return
    refuse_html(text, spot.path, tray.faults)
    tray.answer(spot, (text,))


def _take_photo(spot: Spot, value: Any, tray: Tray) -> None:
    spots = listed(spot, value)
    if any(not isinstance(v, str) for _, v in spots):
        tray.refuse(
            spot,
            "V321",
            "not a picture's file name",
            value,
            "a file name, or a list of them",
            "write names like photos/crown-2.jpg",
        )
        return
    tray.answer(spot, tuple(v for _, v in spots))


def _take_rating(spot: Spot, value: Any, tray: Tray) -> None:
    spots = listed(spot, value)
    ratings = [_rating(at, v, tray) for at, v in spots]
    found = [r for r in ratings if r]
    clean = [r for r in found if not r.damage]
    if clean and len(ratings) > 1 and not _by_different_people(clean, found):
        tray.refuse(
            spot,
            "V318",
            "'none' beside damage",
            value,
            "'none', or a list of what was found; of two people each with 'by: NAME'",
            "leave 'none' out, or keep nothing else; for a second look write {damage: none, by: NAME}",
        )
        return
    tray.ratings.extend(found)


def _by_different_people(clean: Sequence[Rating], found: Sequence[Rating]) -> bool:
    """Whether whoever found nothing is named and is nobody who found something, or found nothing twice."""
    names = [r.by for r in clean]
    others = {r.by for r in found if r.damage}
    return all(names) and len({*names}) == len(names) and all(others) and not others.intersection(names)


def _rating(spot: Spot, value: Any, tray: Tray) -> Rating | None:
    place = tray.document.place(spot.path)
    if value == "none":
        return Rating(spot.item.id, spot.position, "", 0, None, None, spot.note, place)
    if not isinstance(value, dict):
        _no_rating(spot, value, tray)
        return None
    by = tray.document.text((*spot.path, "by"))
    if value.get("damage") == "none" and by and value.keys() <= {"damage", "by"}:
        return Rating(spot.item.id, spot.position, "", 0, None, None, spot.note, place, by)
    sound = _rating_keys(spot, value, tray) and _damage(spot, value.get("damage"), tray)
    steps = {
        k: step(spot.below(k), value[k], tray)
        for k in ("amount", "size", "strength")
        if value.get(k) is not None
    }
    if not sound or None in steps.values() or not _steps_fit(spot, value, steps, tray):
        return None
    note = tray.document.text((*spot.path, "note"))
    refuse_html(note, (*spot.path, "note"), tray.faults)
    refuse_html(by, (*spot.path, "by"), tray.faults)
    note = "; ".join(n for n in (spot.note, note) if n)
    return Rating(
        spot.item.id,
        spot.position,
        value["damage"],
        steps["amount"] or 0,
        steps.get("size"),
        steps.get("strength"),
        note,
        place,
        by,
    )


def _no_rating(spot: Spot, value: Any, tray: Tray) -> None:
    word = tray.document.text(spot.path)
    near = nearest(word, spot.item.damage) if word else None
    mend = f"write {{damage: {near or spot.item.damage[0]}, amount: 2, size: 2}} with what was seen, or none"
    tray.refuse(
        spot,
        "V315",
        "not a rating",
        value,
        "none, or {damage: …, amount: 0–5, size or strength: 0–5, note: …, by: …}, or a list of these",
        mend,
    )


def _rating_keys(spot: Spot, value: dict[str, Any], tray: Tray) -> bool:
    unknown = [k for k in value if k not in _RATING_KEYS]
    for key in unknown:
        near = nearest(key, _RATING_KEYS)
        tray.faults.add(
            "V206",
            "key that is not known here",
            (*spot.path, key),
            f"key {key!r}",
            some(_RATING_KEYS),
            f"write {near!r} if that is meant" if near else "delete the key",
            at_key=True,
        )
    missing = [k for k in ("damage", "amount") if value.get(k) is None]
    if missing and not unknown:
        tray.refuse(
            spot,
            "V315",
            f"rating without {missing[0]!r}",
            value,
            f"a value for {missing[0]!r}",
            "add it; write none where nothing was found",
        )
    return not missing and not unknown


def _damage(spot: Spot, word: Any, tray: Tray) -> bool:
    if word in spot.item.damage:
        return True
    near = nearest(str(word), spot.item.damage)
    mend = f"write {near!r} if that is meant" if near else "take the nearest kind and say more in 'note'"
    tray.refuse(
        spot.below("damage"),
        "V316",
        "kind of damage that is not looked for here",
        word,
        some(spot.item.damage, 20),
        mend,
    )
    return False


def _steps_fit(spot: Spot, value: dict[str, Any], steps: dict[str, int | None], tray: Tray) -> bool:
    """An even change has a strength, other damage a size; nothing found is 'none', not 0."""
    even = tray.vocabulary.damage.get(value["damage"], "strength" in steps and "size" not in steps)
    wrong, right = ("size", "strength") if even else ("strength", "size")
    if wrong in steps:
        tray.faults.add(
            "V318",
            f"{value['damage']} is rated by {right}, not by {wrong}",
            (*spot.path, wrong),
            f"key {wrong!r}",
            f"amount and {right}",
            f"write '{right}:' instead of '{wrong}:'",
            at_key=True,
        )
        return False
    if not steps.get("amount"):
        tray.refuse(
            spot.below("amount"),
            "V318",
            "damage of amount 0",
            value["amount"],
            "1 to 5",
            "write none instead of the whole rating, or the amount seen",
        )
        return False
    return True


_TAKERS: Final[dict[Kind, Callable[[Spot, Any, Tray], None]]] = {
    "reading": _take_reading,
    "rating": _take_rating,
    "choice": take_choice,
    "count": _take_count,
    "text": _take_text,
    "tick": _take_tick,
    "photo": _take_photo,
}
