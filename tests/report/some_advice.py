"""Gives diagnoses, work and estimate for the inline four, made by hand."""

from decimal import Decimal

from inspect_report.advise.advice import Diagnosis, Estimate, Evidence, WorkItem
from inspect_report.advise.priced import EstimateLine, Total
from inspect_report.records.position import Position
from tests.report.an_inspection import at


def diagnoses() -> tuple[Diagnosis, ...]:
    """What the worn cylinder means."""
    return (
        Diagnosis(
            "worn-bore.3",
            "worn-bore",
            at(cylinder=3),
            "Air passes the rings of cylinder 3 because bore and piston are worn",
            "A leak that is heard in the crankcase goes past the rings; a bore beyond its limit lets it.",
            (
                Evidence("leak-down beyond its limit", ("leak-down.3",)),
                Evidence("air heard in the crankcase", ()),
                Evidence("bore wear beyond its limit", ("bore-wear.3",)),
            ),
            ("a broken ring", "a stuck ring"),
            "the rings, once they are off and cleaned",
            ("rebore",),
            "before running",
            "the piston can seize and take the rod with it; oil use grows",
            "common practice",
        ),
    )


def work() -> tuple[WorkItem, ...]:
    """Jobs of every urgency, one of them covered by another."""
    return (
        WorkItem(
            "rebore",
            "Rebore and fit oversize pistons",
            "The bores are machined to the next size and new pistons are fitted.",
            (at(cylinder=3), at(cylinder=4)),
            ("worn-bore.3", "bore-wear.3"),
            "before running",
            ("head-off", "barrels-off"),
            Decimal("4.5"),
            "oil use grows until a piston seizes",
        ),
        WorkItem(
            "set-valve-gaps",
            "Set valve clearances",
            "Shims are changed so that every valve closes fully and opens at its time.",
            (at(cylinder=3, valve="exhaust-1"),),
            ("valve-clearance.3.exhaust-1",),
            "before running",
            ("cam-cover-off", "camshafts-out"),
            Decimal("1.2"),
            "the valve burns",
        ),
        WorkItem(
            "hone",
            "Hone bores and fit rings",
            "",
            (at(cylinder=3),),
            ("leak-down.3",),
            "before running",
            (),
            Decimal(0),
            covered_by="rebore",
        ),
        WorkItem(
            "new-chain",
            "Fit a new timing chain",
            "The chain is replaced with its guides.",
            (Position(),),
            ("bore-wear.4",),
            "at this opening",
            (),
            Decimal("0.8"),
        ),
        WorkItem(
            "watch-mains",
            "Measure the main bearings again",
            "",
            (Position(),),
            ("main-clearance.5",),
            "next opening",
            (),
            Decimal(0),
        ),
    )


def estimate() -> Estimate:
    """Three totals; one part without a price."""
    rate = Decimal(72)

    def work(kind: str, id_: str, name: str, hours: str) -> EstimateLine:
        return EstimateLine(kind, id_, name, Decimal(hours), rate, rate * Decimal(hours), ("rebore",))

    def part(id_: str, name: str, count: int, each: str | None, kind: str = "part") -> EstimateLine:
        price = None if each is None else Decimal(each)
        return EstimateLine(
            kind, id_, name, Decimal(count), price, None if price is None else price * count, ("rebore",)
        )

    def total(id_: str, title: str, *lines: EstimateLine) -> Total:
        net = sum((line.price for line in lines if line.price is not None), Decimal(0))
        tax = (net * Decimal("0.2")).quantize(Decimal("0.01"))
        return Total(id_, title, lines, net, tax, net + tax, sum(line.price is None for line in lines))

    return Estimate(
        "GBP",
        "VAT",
        Decimal("0.2"),
        rate,
        (
            total(
                "must",
                "must",
                work("access", "cam-cover-off", "cam cover off and on", "0.8"),
                work("access", "head-off", "head off and on", "2.5"),
                work("access", "barrels-off", "barrels off and on", "1.5"),
                work("work", "rebore", "rebore and fit oversize pistons", "4.5"),
                work("work", "set-valve-gaps", "set valve clearances", "1.2"),
                part("piston-oversize", "piston, oversize, with rings and pin", 4, "118.40"),
                part("head-gasket", "head gasket", 1, "64.00"),
                part("rebore-machining", "boring and honing of a bore", 4, None, "machine shop"),
            ),
            total(
                "advised",
                "advised",
                work("work", "new-chain", "fit a new timing chain", "0.8"),
                part("cam-chain", "timing chain", 1, "86.50"),
            ),
            total("can wait", "can wait"),
        ),
    )
