"""What is done to a worn bore, by its lining and by the oversizes on sale."""

from dataclasses import replace
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest

from inspect_report.advise.standing_in import jobs_here
from inspect_report.judge.finding import Finding
from inspect_report.knowledge.bookread import shipped_ids
from inspect_report.knowledge.case import Books
from inspect_report.knowledge.shelf import load
from inspect_report.knowledge.workbook import Workbook
from inspect_report.pipeline import assess
from inspect_report.records.specsheet import OnSale
from tests.advise.builders import at, books, finding, workbook
from tests.rules.coverage import shipped
from tests.samples import SAMPLES

BOOKS = {name: shipped(Workbook, f"workbooks/{name}") for name in shipped_ids("workbooks")}


def an_engine(work: Workbook, sizes: list[str], **layout: Any) -> Books:
    """An engine with some lining and some oversizes on sale."""
    made = books(work=work)
    lined = made.sheet.layout.model_copy(update=layout)
    on_sale = OnSale.model_validate({"oversizes": sizes})
    return replace(made, sheet=made.sheet.model_copy(update={"layout": lined, "on_sale": on_sale}))


def worn(amount: str) -> tuple[Finding, ...]:
    """Two bores, one of them worn so far."""
    made = finding("valve-clearance", at(2), "beyond limit", amount)
    bore = replace(made, id="bore-wear.2", characteristic="bore-wear")
    none = finding("valve-clearance", at(1), "beyond limit", "0.01 mm")
    return bore, replace(none, id="bore-wear.1", characteristic="bore-wear")


@pytest.mark.parametrize(
    ("lining", "sizes", "wear", "four", "two"),
    [
        ("iron", ["0.25 mm", "0.50 mm"], "0.10 mm", "rebore", "rebore"),
        ("not given", ["0.25 mm", "0.50 mm"], "0.45 mm", "rebore", "rebore"),
        ("iron", ["0.25 mm", "0.50 mm"], "0.46 mm", "replace-barrels", "replace-barrel"),
        ("iron", [], "0.10 mm", "replace-barrels", "replace-barrel"),
        ("plated", ["0.25 mm"], "0.10 mm", "replate-barrels", "replate-barrel"),
        ("plated", [], "0.60 mm", "replate-barrels", "replate-barrel"),
    ],
)
def test_what_is_done_to_a_worn_bore(lining: str, sizes: list[str], wear: str, four: str, two: str) -> None:
    """Iron is bored while a size leaves 0.05 to hone, then replaced; plating is plated anew."""
    for name, expected in (("four-stroke", four), ("two-stroke", two)):
        engine = an_engine(BOOKS[name], sizes, bore_lining=lining)
        assert jobs_here(engine, worn(wear))["rebore"].id == expected


def test_without_bore_readings_the_sizes_on_sale_decide() -> None:
    """A scored bore is bored out unmeasured, if there is a size for it."""
    assert jobs_here(an_engine(BOOKS["four-stroke"], ["0.25 mm"]), ())["rebore"].id == "rebore"


def test_a_row_of_jobs_may_end_in_none() -> None:
    """Jobs that stand in for each other in a circle, and one that nothing stands in for, are left out."""
    wet = {"cooling": "liquid"}
    jobs: list[dict[str, Any]] = [
        {"id": "a", "name": "a", "hours": "1", "applies": wet, "otherwise": "b"},
        {"id": "b", "name": "b", "hours": "1", "applies": wet, "otherwise": "a"},
        {"id": "c", "name": "c", "hours": "1", "applies": wet},
        {"id": "d", "name": "d", "hours": "1"},
    ]
    assert set(jobs_here(books(work=workbook(jobs=jobs)), ())) == {"d"}


@pytest.mark.parametrize(("lining", "job"), [("iron", "rebore"), ("plated", "replate-barrels")])
def test_the_plan_of_the_inline_four_follows_its_lining(tmp_path: Path, lining: str, job: str) -> None:
    """Pistons, rings and honing fall to whichever job is done to bore 3; its parts are in the estimate."""
    copytree(SAMPLES / "books", tmp_path / "books")
    for name in ("inline-four-strip.yaml", "books/corvane-600.yaml"):
        text = (SAMPLES / name).read_text(encoding="utf-8").replace("lining: iron", f"lining: {lining}")
        (tmp_path / name).write_text(text, encoding="utf-8")
    copytree(SAMPLES / "photos", tmp_path / "photos")
    advice = assess(load(tmp_path / "inline-four-strip.yaml")).advice
    assert {w.job for w in advice.work if w.covered_by == job} == {"hone", "replace-pistons", "replace-rings"}
    parts = {line.id for total in advice.estimate.totals for line in total.lines}
    assert ("reboring" in parts, "replating" in parts) == (job == "rebore", job == "replate-barrels")
