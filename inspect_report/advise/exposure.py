"""
Turns a judged inspection into what an engine may cost its buyer: known, likely on top, and hidden.

- Known: what the work costs that is needed by what was shown, seen, answered, forecast or read out of it.
- Likely on top: every measured value that is not shown to be beyond its limit is beyond it with the
  probability that its uncertainty leaves. Draws let each come true or not; a draw costs all the work that is
  then needed, done together, less what is known. Chances are independent of each other, which two readings
  of one gauge are not quite. Prices are at their low ends.
- Hidden: what nobody looked at. Its probability is not known and never made up; what a fault would cost is.
  Only where the workshop file gives a share of such engines is it drawn as well.

Jobs are costed as done together, whatever their urgency; what is only to be watched costs nothing.
"""

from collections.abc import Iterable

from inspect_report.advise.access import left_open
from inspect_report.advise.advice import Diagnosis
from inspect_report.advise.buyer import Buyer
from inspect_report.advise.causes import Sighted, measured_causes, shared_causes, unseen
from inspect_report.advise.estimate import estimate
from inspect_report.advise.hidden import hidden
from inspect_report.advise.likely import likely
from inspect_report.advise.looked import looked_at
from inspect_report.advise.prospect import Prospect
from inspect_report.advise.work import settled
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.case import Case
from inspect_report.measure.derived import ShimChoice


def buyers_view(
    case: Case,
    findings: Iterable[Finding],
    diagnoses: Iterable[Diagnosis] = (),
    due: Iterable[str] = (),
    shims: Iterable[ShimChoice] = (),
) -> Buyer:
    """
    What an engine may cost its buyer.

    Args:
        case: The inspection with its books.
        findings: What was judged.
        diagnoses: The rules that fired.
        due: Ids of findings that will be at their limit before the next inspection.
        shims: The shim plan, as far as one could be made.
    """
    plan = tuple(shims)
    changed = tuple(s.position for s in plan if s.change and s.size is not None)
    sighted = Sighted(case.books, tuple(findings), tuple(diagnoses), left_open(case), frozenset(due), changed)
    prospect = Prospect(case, sighted, plan)
    seen = unseen(sighted.findings, case.books)
    shares = case.books.workshop.shares_beyond
    causes = (*measured_causes(sighted.findings), *shared_causes(seen, shares))
    known = estimate(case, settled(prospect.needed, case.books, sighted.standing, sighted.left_open), plan)
    dark, high = hidden(prospect, seen, shares)
    looked, engine = looked_at(sighted.findings, case.books)
    return Buyer(
        known_low=known.span.low,
        known_high=known.span.high,
        known_on_request=sum(t.on_request for t in known.totals),
        likely=likely(prospect, causes),
        hidden=dark,
        hidden_high=high,
        looked=looked,
        engine=engine,
        known=known.totals,
    )
