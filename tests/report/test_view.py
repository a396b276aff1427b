"""A view holds everything a statement of inspection must hold, in a customer's words."""

import re
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from typing import Any

import pytest

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Verdict
from inspect_report.records.workshop import DecisionRule
from inspect_report.report.reportview import ReportView
from inspect_report.report.view import view
from inspect_report.report.view_history import history_view
from tests.report.an_assessment import an_assessment


def texts(thing: Any) -> list[str]:
    """Every text in a view."""
    if isinstance(thing, str):
        return [str(thing)]
    if isinstance(thing, tuple):
        return [t for part in thing for t in texts(part)]
    if is_dataclass(thing):
        return [t for f in fields(thing) for t in texts(getattr(thing, f.name))]
    return []


def with_verdicts(assessment: Assessment, verdict: Verdict) -> Assessment:
    """The same assessment with one verdict for every finding that has one of its own."""
    changed = tuple(
        f if f.verdict in (Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE) else replace(f, verdict=verdict)
        for f in assessment.judged.findings
    )
    return replace(assessment, judged=replace(assessment.judged, findings=changed))


def test_the_first_page_says_it_all(shown: ReportView) -> None:
    """Verdict, reason, what must be done, cost and what was not looked at."""
    assert shown.front.verdict.headline == "Do not run this engine"
    assert shown.front.verdict.do_not_run == ("Cylinder 3: a piston that scuffs can seize.",)
    assert "bore wear (cylinder 3)" in shown.front.verdict.sentence
    assert [t.name for t in shown.front.todo] == ["Rebore and fit oversize pistons", "Set valve clearances"]
    assert [c.gross for c in shown.front.costs] == ["£1,552.32", "£172.92", "£0.00"]
    assert shown.front.cost_total == "£1,725.24"
    assert shown.front.costs[0].on_request == "plus 1 item priced on request"
    assert "big-end clearance" in " ".join(g.names for g in shown.front.missing_groups).lower()


def test_what_a_statement_must_hold(shown: ReportView) -> None:
    """Number, issue, dates, people, engine, depth, what was left out, conditions, signer, replaced issue."""
    told = " ".join(texts(shown))
    for wanted in (
        "HW-2026-031",
        "issue 2",
        "Replaces issue 1: Price of pistons corrected.",
        "9 March 2026",
        "5 March 2026",
        "Alba Quillfeather",
        "Ivo Marrable, engine builder",
        "Bench 2, Harbour Lane",
        "Corvane CV4",
        "CV4-018 442",
        "812\u00a0h",
        "41,200\u00a0km",
        "fully stripped",
        "Rods left on the crank by request",
        "19\u00a0°C",
        "1,002\u00a0hPa",
        "BG-2",
        "15 January 2026",
        "±\u00a00.003\u00a0mm",
        "no record",
        "k = 2",
        "Corvane CV4 workshop manual",
        "no warranty",
        "maker's manual",
        "Local law",
        "licensed trades",
        "opinions",
        "corvane-cv4",
        "9f9f9f9f9f9f",
    ):
        assert wanted.lower() in told.lower(), wanted


def test_results_that_share_a_verdict_stand_together(shown: ReportView) -> None:
    """Bore wear: one row beyond its limit, one marginal, one for the two good bores."""
    cylinders = next(a for a in shown.assemblies if a.anchor == "assembly-cylinders")
    rows = [(r.chip.word, r.where, r.found) for r in cylinders.results if r.name == "Bore wear"]
    assert rows == [
        ("beyond limit", "Cylinder 3", "0.096\u00a0±\u00a00.004\u00a0mm"),
        ("marginal", "Cylinder 4", "0.066\u00a0±\u00a00.004\u00a0mm"),
        ("serviceable", "Cylinders 1 and 2", "0.018 to 0.021\u00a0mm (±\u00a00.004)"),
    ]
    assert cylinders.clean == ("piston crown (cylinders 1, 2 and 4)",)


def test_limits_tell_maker_from_common_practice(shown: ReportView) -> None:
    """Every limit says which of the two it is, with its page in the maker's manual."""
    rows = [r for a in shown.assemblies for r in a.results if r.limit]
    assert {r.origin for r in rows} == {"spec sheet", "common practice"}
    assert all(r.source == "p.\u00a05-4" for r in rows if r.name == "Bore wear")
    assert {r.origin_tone for r in rows} == {"spec-sheet", "common-practice"}


def test_nothing_that_was_found_is_left_out(shown: ReportView, assessment: Assessment) -> None:
    """Every characteristic stands in a result, a clean line or the list of what is missing."""
    told = " ".join(texts((shown.assemblies, shown.missing, shown.not_applicable))).lower()
    for finding in assessment.judged.findings:
        assert finding.name.lower() in told


def test_every_value_is_in_the_record(shown: ReportView, assessment: Assessment) -> None:
    """Each judged quantity stands in the record, and one that is not good says so."""
    values = [v for n in shown.record.numbers for v in n.values]
    told = "; ".join(v.text for v in values)
    measured = [f for f in assessment.judged.findings if f.quantity]
    good = (Verdict.AS_NEW, Verdict.SERVICEABLE)
    flagged = [f for f in measured if f.verdict not in good and (f.limit or f.verdict != Verdict.NO_LIMIT)]
    assert sum(len(re.findall("; | / ", v.text)) + 1 for v in values) == len(measured)
    assert sum(len(re.findall(rf"\({v}[,)]", told)) for v in Verdict) == len(flagged)


def test_not_inspected_is_never_good(assessment: Assessment) -> None:
    """An item without a reading is in no result and in no clean line."""
    shown = view(assessment)
    found = " ".join(texts(shown.assemblies)).lower()
    assert "big-end clearance" not in found
    assert any(m.name == "Big-end clearance" for m in shown.missing)


def test_a_failed_check_stands_on_the_first_page(assessment: Assessment) -> None:
    """A fault of ours is told, not hidden."""
    first = replace(assessment.judged.findings[0], verdict=Verdict.CHECK_FAILED, reason="division by zero")
    judged = replace(assessment.judged, findings=(first, *assessment.judged.findings[1:]))
    shown = view(replace(assessment, judged=judged))
    assert shown.front.failed == ("Leak-down, cylinder 1: division by zero",)


@pytest.mark.parametrize(
    "verdict", [v for v in Verdict if v not in (Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE)]
)
def test_every_verdict_can_be_shown(assessment: Assessment, verdict: Verdict) -> None:
    """A report of nothing but one verdict comes out, and names it."""
    shown = view(with_verdicts(assessment, verdict))
    assert str(verdict) in {w.chip.word for w in shown.words}


def test_an_empty_inspection_gives_a_report(assessment: Assessment) -> None:
    """Nothing inspected: not graded, nothing to do, and no fault."""
    judged = replace(
        assessment.judged,
        findings=(),
        grades=(),
        outliers=(),
        trends=(),
        engine=replace(
            assessment.judged.engine, word="not graded", score=None, worst=(), caps=(), do_not_run=False
        ),
    )
    advice = replace(assessment.advice, diagnoses=(), work=(), open_questions=())
    shown = view(replace(assessment, judged=judged, advice=advice))
    assert shown.front.verdict.headline == "Not graded: too little was inspected to say"
    assert shown.front.verdict.score == "–"
    assert shown.front.todo == ()


def test_the_decision_rule_is_stated(assessment: Assessment) -> None:
    """Each rule is told in words, with its confidence."""
    assert "at least 95\u00a0%" in view(assessment).record.decision_rule[0]
    simple = assessment.workshop.model_copy(update={"decision_rule": DecisionRule(kind="simple acceptance")})
    assert "simple acceptance" in view(replace(assessment, workshop=simple)).record.decision_rule[0]


def test_sums_agree(assessment: Assessment, shown: ReportView) -> None:
    """The total of the first page is the last running sum of the estimate."""
    assert shown.classes[-1].with_before == shown.front.cost_total
    assert assessment.advice.estimate.gross == Decimal("1725.24")


def test_forecasts_carry_their_bounds(shown: ReportView) -> None:
    """A trend says when its limit is met, how soon, and how sure that is."""
    assert shown.trends[0].forecast == ("Limit expected in about 153 h (95 %: 68 to 268 h).")


def test_numbers_follow_the_locale(assessment: Assessment) -> None:
    """A German workshop writes decimal commas and its currency behind."""
    shop = assessment.workshop.model_copy(update={"locale": "de_DE", "currency": "EUR"})
    shown = view(replace(assessment, workshop=shop))
    assert shown.front.cost_total == "1.725,24\u00a0€"
    assert any("0,096" in r.found for a in shown.assemblies for r in a.results)


def test_no_text_shows_code(shown: ReportView) -> None:
    """No None, no brackets of Python, no module name reaches a reader."""
    for text in texts(shown):
        assert not re.search(r"\bNone\b|mechanics\.|Position\(|Verdict\.|\{|\}", text), text


def test_a_history_puts_the_neediest_engine_first() -> None:
    """Two engines, one of them twice: grouped by serial number, oldest first, worst engine on top."""
    early = an_assessment(inspection="HW-2025-052", dates={"inspected": "2025-02-11", "issued": "2025-02-12"})
    late = an_assessment()
    engine = {"maker": "Corvane", "model": "CV4", "serial": "CV4-020 001", "running-time": "20 h"}
    other = an_assessment(engine=engine)
    fine = replace(
        other,
        judged=replace(other.judged, engine=replace(other.judged.engine, word="serviceable", score=92.0)),
    )
    shown = history_view([late, fine, early], "Works engines")
    assert [e.name for e in shown.engines] == ["Corvane CV4, no. CV4-018 442", "Corvane CV4, no. CV4-020 001"]
    assert [v.number for v in shown.engines[0].visits] == ["HW-2025-052", "HW-2026-031"]
    assert len(shown.compared) == 1
    assert shown.issued == "9 March 2026"


def test_gap_after_fitting_stands_with_its_uncertainty(assessment: Assessment) -> None:
    """In mm, told once in the caption: exact shim and gap with expanded uncertainty, k = 2."""
    plan = tuple(replace(s, exact_u=4e-6, predicted_u=5e-6) for s in assessment.measured.shims)
    made = view(replace(assessment, measured=replace(assessment.measured, shims=plan)))
    shim = next(a for a in made.assemblies if a.shims).shims[0]
    assert (shim.measured, shim.fitted, shim.fit) == ("0.12", "2.600", "2.550")
    assert (shim.exact, shim.after) == ("2.565\xa0±\xa00.008", "0.17\xa0±\xa00.01")
