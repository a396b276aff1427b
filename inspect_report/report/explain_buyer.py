"""Turns the buyer's view into the lines by which ``why`` tells where its sums come from."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from inspect_report.advise.buyer import Buyer, Chance, Hidden, Likely
from inspect_report.judge.finding import Finding
from inspect_report.report.chainlines import Line, Told
from inspect_report.report.explain_sums import classes_of
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.view_buyer import HIDDEN, KNOWN, LIKELY, chance_words, hidden_cost
from inspect_report.report.view_estimate import on_request
from inspect_report.report.words import capital
from inspect_report.telling.manner import lowered, message, say
from inspect_report.telling.positions import place_words

KINDS: Final = ("known", "likely", "hidden")


def of_finding(source: Source, finding: Finding) -> Iterator[Line]:
    """What a finding may cost a buyer: as a chance, or as something nobody looked at."""
    known = source.a.advice.buyer
    if known is None:
        return
    chance = known.chance(finding.id) or known.chance(finding.characteristic)
    hidden = known.hidden_at(finding.characteristic)
    if chance is not None:
        yield "likely", _chance(source, chance)
    if hidden is not None and finding.position in hidden.positions:
        yield "hidden", _hidden(source, hidden)


def _chance(source: Source, chance: Chance) -> str:
    added = _exact(source, chance.added)
    if chance.on_request:
        added += f", {on_request(chance.on_request)}"
    work = joined([lowered(w) for w in chance.work]) or say("no work")
    return say(
        "beyond its limit with a chance of {chance}; asks for: {work}; adds {sum}",
        chance=chance_words(source, chance),
        work=work,
        sum=added,
    )


def _named(name: str, some_id: str) -> str:
    """What it is, with the id by which more can be asked of it."""
    return f"{capital(name)} ({some_id})"


def _exact(source: Source, amount: Decimal) -> str:
    """An amount to the coin, and as the page tells it, without coins."""
    exact, about = source.figures.money(amount), source.figures.about(amount)
    return say("{exact}, told as {about}", exact=exact, about=about) if amount else exact


def _hidden(source: Source, hidden: Hidden) -> str:
    work = joined([lowered(w) for w in hidden.work])
    exact = source.figures.money_range(hidden.low, hidden.high)
    told = say("; to the coin {sum}", sum=exact) if hidden.high else ""
    price = hidden_cost(source, hidden) if hidden.high else say("what has no price yet")
    cost = say("a fault would cost {sum} on top of what is known ({work})", sum=price, work=work) + told
    if not work:
        cost = say("a fault would cost nothing on top of what is known, by the books")
    return say(
        message("{cost}; how likely one is, is told by the workshop")
        if hidden.share
        else message("{cost}; how likely one is, is not known"),
        cost=cost,
    )


def cost(source: Source, wanted: str) -> Told | None:
    """Head and lines of a kind of cost by its word; None where there is none of that word."""
    known = source.a.advice.buyer
    if known is None or wanted not in KINDS:
        return None
    title, told = {
        "known": (KNOWN, _known_lines(source, known)),
        "likely": (LIKELY, _likely_lines(source, known)),
        "hidden": (HIDDEN, _hidden_lines(source, known)),
    }[wanted]
    return f"{wanted}: {title}", tuple(told)


def cost_ids(source: Source) -> tuple[str, ...]:
    """The words of the kinds of cost; none in an assessment without a buyer's view."""
    return KINDS if source.a.advice.buyer else ()


def _known_lines(source: Source, known: Buyer) -> Iterator[Line]:
    yield "sum", source.figures.money_range(known.known_low, known.known_high)
    yield (
        "is",
        say("work asked for by what was shown beyond its limit, seen, answered or forecast, or read from it"),
    )
    yield from classes_of(source, known.known)


def _likely_lines(source: Source, known: Buyer) -> Iterator[Line]:
    likely = known.likely
    mean = _exact(source, likely.mean)
    if likely.draws:
        yield "mean", say("{sum}: all draws together, shared by their number", sum=mean)
    else:
        yield "mean", say("{sum}: what each outcome costs times its chance, together", sum=mean)
    for label, point in (("10 %", likely.p10), ("50 %", likely.p50), ("90 %", likely.p90)):
        yield label, say("{sum} or less", sum=_exact(source, point))
    share = source.figures.percent(likely.nothing, 1)
    yield "nothing", say("in {share} of the draws", share=share) if likely.draws else share
    if likely.draws:
        drawn = source.figures.number(likely.draws, 0)
        yield "draws", say("{draws}, from seed {seed}", draws=drawn, seed=likely.seed)
    for chance in likely.chances:
        place = place_words(chance.position)
        name = chance.name if place == "engine" else f"{chance.name}, {place}"
        yield "chance", f"{_named(name, chance.id)}: {_chance(source, chance)}"
    if likely.chances:
        yield "weighed", _weighed(source, likely)


def _weighed(source: Source, likely: Likely) -> str:
    """What the mean would be if no two of them shared any work or opening."""
    alone = sum((c.added * Decimal(str(c.chance)) for c in likely.chances), Decimal(0))
    pattern = (
        message(
            "each chance times its cost, together {sum}; draws differ from it by luck, "
            "and where two share work or opening it is paid once"
        )
        if likely.draws
        else message("each chance times its cost, together {sum}; what two share is paid once")
    )
    return say(pattern, sum=source.figures.money(alone))


def _hidden_lines(source: Source, known: Buyer) -> Iterator[Line]:
    yield (
        message("at most"),
        say("{sum}, if all of it were faulty: shared work once", sum=_exact(source, known.hidden_high)),
    )
    costly = [one for one in known.hidden if one.high or one.on_request]
    for one in costly:
        yield "hidden", f"{_named(one.name, one.characteristic)}: {_hidden(source, one)}"
    free = [_named(one.name, one.characteristic) for one in known.hidden if one not in costly]
    if free:
        yield (
            message("no cost"),
            say(
                "a fault costs nothing on top of what is known, by the books: {names}", names="; ".join(free)
            ),
        )
