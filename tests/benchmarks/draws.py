"""
Turns ten thousand draws over an engine into timings against plain loops (``-m tests.benchmarks.draws``).

The engine is the largest sample with every measured value put in doubt, so that no two draws are alike: more
than any real inspection asks for.
"""

import random
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from inspect_report.advise.access import left_open
from inspect_report.advise.bundle_prices import BundlePrices
from inspect_report.advise.bundles import Ask
from inspect_report.advise.causes import Cause, Sighted, measured_causes
from inspect_report.advise.likely import DRAWS, SEED, loose_prices, on_top
from inspect_report.advise.options import Till
from inspect_report.advise.prospect import Prospect
from inspect_report.advise.work import plan_work
from inspect_report.judge.finding import Finding, Verdict
from inspect_report.judge.judging import judge
from inspect_report.knowledge.case import Case
from inspect_report.knowledge.shelf import load
from inspect_report.measure.measuring import measure
from inspect_report.mechanics.draws import happenings
from tests.benchmarks.timing import ratio, seconds

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_inspections" / "inline-four-strip.yaml"
CHANCE = 0.3
FEW = 20
"""Draws that are planned and billed one by one; the time is scaled up."""


def in_doubt(finding: Finding) -> Finding:
    """A measured finding that may be beyond its limit; others as they are."""
    if finding.inside is None:
        return finding
    return replace(finding, verdict=Verdict.SERVICEABLE, inside=1.0 - CHANCE)


def in_arrays(prospect: Prospect, causes: Sequence[Cause], prices: BundlePrices) -> None:
    """All draws and what each costs."""
    true = happenings([c.chance for c in causes], DRAWS, SEED)
    on_top(prospect, causes, prices, true)


def in_a_loop(causes: Sequence[Cause], asks: Sequence[Ask], prices: Mapping[str, float], case: Case) -> None:
    """As many draws one by one, with every job and step once; it knows nothing of needless work."""
    source = random.Random(SEED)
    access = {j.id: j.access for j in case.books.workbook.jobs}
    asked: dict[int, list[Ask]] = {}
    for ask in asks:
        asked.setdefault(ask.cause, []).append(ask)
    for _ in range(DRAWS):
        units = {
            (a.job, a.position)
            for n, cause in enumerate(causes, 1)
            if source.random() < cause.chance
            for a in asked.get(n, ())
        }
        steps = {step for job, _ in units for step in access[job]}
        sum(prices[job] for job, _ in units) + sum(prices[step] for step in steps)


def billed(case: Case, causes: Sequence[Cause]) -> None:
    """A few draws, each planned and billed as the estimate of a report is."""
    source, till = random.Random(SEED), Till(case)
    for _ in range(FEW):
        beyond = [f for c in causes if source.random() < c.chance for f in c.findings]
        till.cost(plan_work(case.books, beyond, ()))


def whole_engine() -> None:
    """Ten thousand draws over every measured value of an engine, against two ways without arrays."""
    case = load(SAMPLE)
    measured = measure(case)
    findings = tuple(in_doubt(f) for f in judge(case, measured, ()).findings)
    prospect = Prospect(case, Sighted(case.books, findings, (), left_open(case)), measured.shims)
    causes = measured_causes(findings)
    prices = loose_prices(prospect, causes)
    rate = float(case.books.workshop.labour_rate)
    hours = {j.id: float(j.hours) * rate for j in case.books.workbook.jobs}
    hours |= {s.id: float(s.opening + s.closing) * rate for s in case.books.workbook.access}
    ours = seconds(lambda: in_arrays(prospect, causes, prices), 9)
    title = f"{DRAWS:,} draws over {len(causes)} doubtful values"
    loop = seconds(lambda: in_a_loop(causes, prices.bundles.asks, hours, case), 1)
    ratio(title, ours, loop, "a plain loop over draws")
    plans = seconds(lambda: billed(case, causes), 1) * DRAWS / FEW
    print(
        f"{title:<58} {ours * 1000:7.0f} ms  {plans / ours:6.0f} times as fast as planning and billing each"
    )


if __name__ == "__main__":
    whole_engine()
