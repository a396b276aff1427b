import random

from inspect_report.judge.finding import Verdict
from inspect_report.judge.order import in_order
from inspect_report.records.position import ENGINE
from tests.judge.made import a_finding, at, some_books

ORDERED = [
    a_finding("bore-wear", Verdict.AS_NEW, at(cylinder=1)),
    a_finding("bore-wear", Verdict.AS_NEW, at(cylinder=4)),
    a_finding("ring-end-gap", Verdict.AS_NEW, ENGINE),
    a_finding("ring-end-gap", Verdict.AS_NEW, at(cylinder=1, ring="top")),
    a_finding("ring-end-gap", Verdict.AS_NEW, at(cylinder=1, ring="second")),
    a_finding("ring-end-gap", Verdict.AS_NEW, at(cylinder=1, ring="oil")),
    a_finding("ring-end-gap", Verdict.AS_NEW, at(cylinder=2, ring="top")),
    a_finding("main-clearance", Verdict.AS_NEW, at(main_journal=2)),
    a_finding("main-clearance", Verdict.AS_NEW, at(main_journal=9)),
    a_finding("main-clearance", Verdict.AS_NEW, at(main_journal=10)),
    a_finding("shell-state", Verdict.AS_NEW, at(main_journal=1)),
    a_finding("zz-only-here", Verdict.AS_NEW, at(nowhere="7")),
    a_finding("zz-only-here", Verdict.AS_NEW, at(nowhere="12")),
]


def test_order_of_assembly_characteristic_and_place() -> None:
    """Ten comes after nine, the top ring before the oil ring, the unknown last, from any order."""
    shuffled = list(ORDERED)
    random.Random(7).shuffle(shuffled)
    assert [f.id for f in in_order(shuffled, some_books())] == [f.id for f in ORDERED]
