"""Turns the buyer's view into words a buyer understands: known now, likely on top, could be hidden."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Final

from inspect_report.advise.buyer import Buyer, Chance, Hidden, Likely, Looked
from inspect_report.report.buyerparts import BuyerChance, BuyerItem, BuyerPart, BuyerSum, BuyerView
from inspect_report.report.figures import NBSP, joined
from inspect_report.report.reportparts import Bar
from inspect_report.report.source import Source
from inspect_report.report.view_estimate import on_request, tax_name
from inspect_report.report.view_missing import COVERAGE
from inspect_report.report.words import capital
from inspect_report.telling.manner import lowered, message, say, say_count
from inspect_report.telling.positions import place_words

KNOWN: Final = message("Known now")
LIKELY: Final = message("Likely on top")
HIDDEN: Final = message("Could be hidden")
MOST_CHANCES: Final = 6
MOST_ON_REQUEST: Final = 2
_NEARLY_SURE: Final = 0.99
_KNOWN_SAYS: Final = message(
    "What was found asks for this work. It is the work under “Work and prices”, as far as that does "
    "not rest on a value that is undecided."
)
_LIKELY_SAYS: Final = message(
    "Values so near their limits that the uncertainty of the reading leaves a doubt. Each is "
    "taken to be beyond its limit as often as that uncertainty says"
)
_SHARES_SAY: Final = message(
    ", and what nobody looked at as often as this workshop has found it so in such engines, where it knows"
)
_HIDDEN_SAYS: Final = message(
    "What nobody looked at. How likely a fault is there is not known, unless a share above says it. "
    "This is what one fault would cost on top of what is known"
)
_PARTS_NOTE: Final = message(
    "Looked at counts by weight: what a fault would mean for the engine, as the books weigh it. "
    "A part that was looked at in full can still fail; one not looked at is neither good nor bad."
)
_DRAWN_ALONE: Final = message("Each counts on its own, whatever the others turn out to be.")


def buyer(source: Source) -> BuyerView | None:
    """The buyer's view; None in an assessment without one."""
    known = source.a.advice.buyer
    if known is None:
        return None
    chances = _telling(known.likely.chances)
    more = len(chances) - MOST_CHANCES if len(chances) > MOST_CHANCES + 1 else 0
    return BuyerView(
        intro=_intro(source),
        sums=(_known(source, known), _likely(source, known.likely), _hidden(source, known)),
        coverage=_coverage(source, known.engine),
        coverage_chain=COVERAGE,
        parts=tuple(_part(source, part, known.hidden) for part in known.looked if _is_open(part)),
        parts_note=say(_PARTS_NOTE),
        chances=tuple(_chance(source, c) for c in chances[: len(chances) - more]),
        chances_more=say_count("and {count} further chance", "and {count} further chances", more)
        if more > 0
        else "",
        items=_items(source, known.hidden),
        unpriced=joined([lowered(h.name) for h in known.hidden if not _has_cost(h)]),
    )


def _intro(source: Source) -> str:
    name = tax_name(source)
    tax = say("Sums include {tax}.", tax=name) if name else say("Sums are without tax.")
    return say("Three kinds of cost, told apart because they are not equally sure. {tax}", tax=tax)


def _known(source: Source, known: Buyer) -> BuyerSum:
    amount = source.figures.money_range(known.known_low, known.known_high)
    return BuyerSum(say(KNOWN), _with_requests(amount, known.known_on_request), say(_KNOWN_SAYS), "known")


def _with_requests(amount: str, count: int) -> str:
    more = on_request(count)
    return f"{amount}, {more}" if more else amount


def _likely(source: Source, likely: Likely) -> BuyerSum:
    if not any(c.added or c.on_request for c in likely.chances):
        says = say("No measured value leaves a doubt that would cost anything more.")
        return BuyerSum(say(LIKELY), say("nothing"), says, "likely")
    shares = say(_SHARES_SAY) if any(c.ground != "measured" for c in likely.chances) else ""
    says = f"{say(_LIKELY_SAYS)}{shares}: {_points(source, likely)}"
    return BuyerSum(say(LIKELY), likely_amount(source, likely), says, "likely")


def likely_amount(source: Source, likely: Likely) -> str:
    """The likely cost in a few words: what most draws come to, and the mean of all."""
    about = source.figures.about
    mean = (
        say("on average {sum}", sum=about(likely.mean))
        if likely.mean >= 1
        else say("on average next to nothing")
    )
    if likely.p10 == likely.p90:
        return say("most likely {sum}; {mean}", sum=_sum(source, likely.p50), mean=mean)
    return say("nine in ten: {sum} or less; {mean}", sum=about(likely.p90), mean=mean)


def _sum(source: Source, amount: Decimal) -> str:
    return source.figures.about(amount) if amount else say("nothing")


def _points(source: Source, likely: Likely) -> str:
    points = (
        (likely.p10, message("one in ten to {sum} or less")),
        (likely.p50, message("one in two to {sum} or less")),
        (likely.p90, message("nine in ten to {sum} or less")),
    )
    told = joined([say(share, sum=source.figures.about(p)) for p, share in points if p])
    return say(
        "nothing comes on top with a chance of about {share}{points}. {alone}",
        share=source.figures.percent(likely.nothing, 1 if likely.nothing > _NEARLY_SURE else 0),
        points=f", {told}" if told else "",
        alone=say(_DRAWN_ALONE),
    )


def _hidden(source: Source, known: Buyer) -> BuyerSum:
    costly = [h for h in known.hidden if _has_cost(h)]
    if not costly:
        says = say("Everything that has a price was looked at.")
        return BuyerSum(say(HIDDEN), say("nothing"), says, "hidden")
    amount = say("{sum} a fault", sum=fault_words(source, costly)) + _some_on_request(costly)
    whole = source.figures.about(known.hidden_high)
    besides = say(", besides what is priced on request") if any(h.on_request for h in costly) else ""
    says = say(
        "{what}; all of it at once would come to {sum}{besides}.",
        what=say(_HIDDEN_SAYS),
        sum=whole,
        besides=besides,
    )
    return BuyerSum(say(HIDDEN), amount, says, "hidden")


def _has_cost(hidden: Hidden) -> bool:
    return bool(hidden.high or hidden.on_request)


def fault_words(source: Source, hidden: Sequence[Hidden]) -> str:
    """What one fault among some costs, from the smallest to the dearest."""
    priced = [h for h in hidden if h.high]
    if not priced:
        return say("on request") if hidden else "–"
    low, high = min(h.low for h in priced), max(h.high for h in priced)
    return source.figures.about_range(low, high)


def _coverage(source: Source, engine: Looked) -> str:
    graded = source.a.judged.engine
    if engine.share is None:
        return say("Nothing was looked at that the books give a weight.")
    share = source.figures.percent(engine.share)
    return say_count(
        "{share} of the engine was looked at, counted by what a fault in each part would mean; by "
        "mere count, {seen} of {count} check.",
        "{share} of the engine was looked at, counted by what a fault in each part would mean; by "
        "mere count, {seen} of {count} checks.",
        graded.planned + graded.beyond_depth,
        share=share,
        seen=graded.used,
    )


def _is_open(part: Looked) -> bool:
    return part.share is not None and part.share < 1.0


def _part(source: Source, part: Looked, hidden: Iterable[Hidden]) -> BuyerPart:
    here = [h for h in hidden if h.assembly == part.assembly and _has_cost(h)]
    share = part.share or 0.0
    return BuyerPart(
        name=part.name,
        looked=source.figures.percent(share),
        bar=Bar(f"{100 * share:.1f}", "serviceable", "", False) if share else None,
        fault=fault_words(source, here) + _some_on_request(here),
        dearest=_dearest(here),
    )


def _some_on_request(hidden: Sequence[Hidden]) -> str:
    """Said where some faults ask for what has a price, and some for what has none."""
    some = any(h.high for h in hidden) and any(h.on_request for h in hidden)
    return say(", or more where priced on request") if some else ""


def _dearest(hidden: Sequence[Hidden]) -> str:
    """The dearest work with a known price, and work that has none and may be dearer."""
    known = max((h for h in hidden if h.high and not h.on_request), key=lambda h: h.high, default=None)
    ordered = sorted((h for h in hidden if h.on_request), key=lambda h: -h.high)
    names = list(dict.fromkeys(joined([lowered(n) for n in h.work]) for h in ordered))
    asked = joined(names[:MOST_ON_REQUEST], "or")
    if known is None:
        return capital(say("priced on request: {work}", work=asked)) if asked else "–"
    return (
        say("{work}; priced on request: {others}", work=_work(known.work), others=asked)
        if asked
        else _work(known.work)
    )


def _work(names: Sequence[str]) -> str:
    return capital(joined([lowered(n) for n in names])) or "–"


def _telling(chances: Iterable[Chance]) -> list[Chance]:
    """Chances that cost something, the weightiest first."""
    told = [c for c in chances if c.added or c.on_request]
    return sorted(told, key=lambda c: (-float(c.added) * c.chance, c.id))


def _chance(source: Source, chance: Chance) -> BuyerChance:
    place = place_words(chance.position)
    name = chance.name if place == "engine" else f"{chance.name}, {place}"
    return BuyerChance(
        name=capital(name),
        chance=chance_words(source, chance),
        work=_work(chance.work),
        added=_money(source, chance.added, chance.on_request),
    )


def chance_words(source: Source, chance: Chance) -> str:
    """How likely something is beyond its limit, and on what that rests."""
    percent = 100.0 * chance.chance
    text = (
        say("less than 0.1") if percent < 0.1 else source.figures.number(percent, 0 if percent >= 10 else 1)
    )
    ground = "" if chance.ground == "measured" else say(", this workshop's share of such engines")
    return f"{text}{NBSP}%{ground}"


def _money(source: Source, amount: Decimal, requests: int) -> str:
    if not amount and requests:
        return say("on request")
    return _with_requests(source.figures.about(amount), requests)


def _items(source: Source, hidden: Iterable[Hidden]) -> tuple[BuyerItem, ...]:
    """What nobody looked at, things with the same work and cost together, the dearest first."""
    alike: dict[tuple[tuple[str, ...], Decimal, Decimal, int, float | None], list[Hidden]] = {}
    for one in hidden:
        if _has_cost(one):
            alike.setdefault((one.jobs, one.low, one.high, one.on_request, one.share), []).append(one)
    ordered = sorted(alike.values(), key=lambda same: (-same[0].high, -same[0].low))
    return tuple(_item(source, same) for same in ordered)


def _item(source: Source, same: Sequence[Hidden]) -> BuyerItem:
    first = same[0]
    names = list(dict.fromkeys(_named(h) for h in same))
    share = "" if first.share is None else f" ({_share(source, first.share)})"
    return BuyerItem(
        names=capital(joined([lowered(n) for n in names])) + share,
        work=_work(first.work),
        cost=hidden_cost(source, first),
    )


def _share(source: Source, share: float) -> str:
    return say(
        "beyond its limit in {share} of the engines this workshop measured",
        share=source.figures.percent(share),
    )


def _named(hidden: Hidden) -> str:
    places = [place_words(p) for p in hidden.positions]
    return hidden.name if places == ["engine"] else f"{hidden.name} ({joined(places)})"


def hidden_cost(source: Source, hidden: Hidden) -> str:
    """What a fault would cost on top of what is known: at one place to all places."""
    if not hidden.high:
        return say("on request") if hidden.on_request else say("nothing")
    return _with_requests(source.figures.about_range(hidden.low, hidden.high), hidden.on_request)
