"""Turns the buyer's view into the lines by which ``why`` tells where its sums come from."""

from collections.abc import Iterator

from inspect_report.advise.buyer import Buyer, Chance, Hidden
from inspect_report.judge.finding import Finding
from inspect_report.report.figures import joined
from inspect_report.report.source import Source
from inspect_report.report.view_buyer import HIDDEN, KNOWN, LIKELY, chance_words, hidden_cost
from inspect_report.telling.manner import lowered, message, say

Line = tuple[str, str]


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
    added = source.figures.money(chance.added)
    work = joined([lowered(w) for w in chance.work]) or say("no work")
    return say(
        "beyond its limit with a chance of {chance}; asks for: {work}; adds {sum}",
        chance=chance_words(source, chance),
        work=work,
        sum=added,
    )


def _hidden(source: Source, hidden: Hidden) -> str:
    work = joined([lowered(w) for w in hidden.work])
    cost = say(
        "a fault would cost {sum} on top of what is known ({work})",
        sum=hidden_cost(source, hidden),
        work=work,
    )
    if not work:
        cost = say("a fault would cost nothing on top of what is known, by the books")
    return say(
        message("{cost}; how likely one is, is told by the workshop")
        if hidden.share
        else message("{cost}; how likely one is, is not known"),
        cost=cost,
    )


def cost(source: Source, wanted: str) -> tuple[str, tuple[Line, ...]] | None:
    """Head and lines of a kind of cost by its word; None where there is none of that word."""
    known = source.a.advice.buyer
    if known is None or wanted not in ("known", "likely", "hidden"):
        return None
    title, told = {
        "known": (KNOWN, _known_lines(source, known)),
        "likely": (LIKELY, _likely_lines(source, known)),
        "hidden": (HIDDEN, _hidden_lines(source, known)),
    }[wanted]
    return f"{wanted}: {title}", tuple(told)


def _known_lines(source: Source, known: Buyer) -> Iterator[Line]:
    yield "sum", source.figures.money_range(known.known_low, known.known_high)
    yield (
        "is",
        say("work asked for by what was shown beyond its limit, seen, answered or forecast, or read from it"),
    )
    yield "jobs", say("'least', 'advised' and 'complete' tell them")


def _likely_lines(source: Source, known: Buyer) -> Iterator[Line]:
    money, likely = source.figures.money, known.likely
    yield "mean", money(likely.mean)
    for label, point in (("10 %", likely.p10), ("50 %", likely.p50), ("90 %", likely.p90)):
        yield label, say("{sum} or less", sum=money(point))
    yield "nothing", say("in {share} of the draws", share=source.figures.percent(likely.nothing, 1))
    yield (
        "draws",
        say("{draws}, from seed {seed}", draws=source.figures.number(likely.draws, 0), seed=likely.seed),
    )
    for chance in likely.chances:
        yield "chance", f"{chance.id}: {_chance(source, chance)}"


def _hidden_lines(source: Source, known: Buyer) -> Iterator[Line]:
    yield (
        message("at most"),
        say("{sum}, if all of it were faulty", sum=source.figures.money(known.hidden_high)),
    )
    for one in known.hidden:
        yield "hidden", f"{one.characteristic}: {_hidden(source, one)}"
