"""Two assessments of one engine set side by side: samples read again with one thing changed at a time."""

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from inspect_report.assessment import Assessment
from inspect_report.comparison.comparing import OtherEngine, compare
from inspect_report.comparison.difference import Comparison, VerdictChange
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.report.comparison_text import comparison_json, comparison_text
from tests.samples import SAMPLES

SAMPLE = "used-machine-in-frame.yaml"
SHEET, SHOP = "books/corvane-600.yaml", "books/workshop.yaml"
Again = Callable[..., Assessment]


@pytest.fixture(scope="module")
def before() -> Assessment:
    """The sample for a buyer as it stands."""
    return assess(load(SAMPLES / SAMPLE))


@pytest.fixture
def again(tmp_path: Path) -> Again:
    """Judges the sample with pieces of text in one of its files replaced: old, new, and so on."""

    def judged(file: str, *texts: str) -> Assessment:
        home = Path(shutil.copytree(SAMPLES, tmp_path / "samples"))
        text = (home / file).read_text(encoding="utf-8")
        for old, new in zip(texts[::2], texts[1::2], strict=True):
            assert text.count(old) == 1
            text = text.replace(old, new)
        (home / file).write_text(text, encoding="utf-8")
        return assess(load(home / SAMPLE))

    return judged


def only(found: Comparison, some_id: str) -> VerdictChange:
    """The change of one finding."""
    return next(v for v in found.verdicts if v.id == some_id)


def told(found: Comparison, of: Assessment) -> str:
    """The text in one line, after a look at its width."""
    text = comparison_text(found, of)
    assert max(map(len, text.splitlines())) <= 100
    return " ".join(text.split())


def test_the_same_is_alike(before: Assessment) -> None:
    """Nothing is told but what was compared."""
    found = compare(before, before)
    assert found.alike
    assert (found.books, found.grades, found.verdicts) == ((), (), ())
    assert f"all {found.compared} places are judged alike" in told(found, before)


def test_a_reading_that_changed(before: Assessment, again: Again) -> None:
    """Leak-down of cylinder 2 passes its limit, and takes its grade with it; the work it asks for is told."""
    after = again(SAMPLE, "{1: 5.68, 2: 5.16, 3: 5.66, 4: 5.70}", "{1: 5.68, 2: 4.40, 3: 5.66, 4: 5.70}")
    found = compare(before, after)
    leak = only(found, "leak-down.2")
    assert (leak.turn, leak.by) == ("worse", (("reading",),))
    assert {v.id for v in found.verdicts} == {"leak-down.2", "leak-down-spread"}
    assert ("", "Engine", "marginal", "unserviceable") in {
        (g.assembly, g.name, g.before, g.after) for g in found.grades
    }
    text = told(found, after)
    assert "(leak-down.2): beyond limit, before marginal; because reading changed; 26.7" in text
    assert "valve-face" not in text


def test_a_limit_that_changed(before: Assessment, again: Again) -> None:
    """The sheet asks for 0.23 mm at least: gaps of 0.21 and 0.22 mm fall out of it, by the limit alone."""
    row = "where: {valve: exhaust}, standard: [0.20, 0.29], limit: [0.20, 0.29]"
    after = again(SHEET, row, row.replace("0.20", "0.23"))
    found = compare(before, after)
    gap = only(found, "valve-clearance.1.exhaust-2")
    assert (gap.by, gap.before.verdict, gap.after.verdict) == ((("limit",),), "as new", "beyond limit")
    assert {v.by for v in found.verdicts} == {(("limit",),)}
    assert [b.kind for b in found.books] == ["spec sheet"]
    assert "limit 0.23 to 0.29\u00a0mm, before 0.20 to 0.29\u00a0mm" in comparison_text(found, after).replace(
        "\n              ", " "
    )


def test_a_rule_that_changed(before: Assessment, again: Again) -> None:
    """At 99.9 % gaps one hundredth inside their limit are no longer shown inside."""
    after = again(SHOP, "confidence: 95 %", "confidence: 99.9 %")
    found = compare(before, after)
    assert {v.id for v in found.verdicts} >= {"valve-clearance.1.exhaust-2", "valve-clearance.3.exhaust-1"}
    assert {v.by for v in found.verdicts} == {(("decision rule",),)}
    assert "workshop file: Hollin Bridge Engines" in told(found, after)
    assert "with other text" in told(found, after)


def test_an_instrument_that_changed(before: Assessment, again: Again) -> None:
    """Feelers that may be wrong by 0.03 mm leave open what the good ones showed."""
    after = again(SAMPLE, "permissible-error: 0.003, serial: FG-4", "permissible-error: 0.03, serial: FG-5")
    found = compare(before, after)
    gap = only(found, "valve-clearance.1.exhaust-2")
    assert (gap.after.verdict, gap.by) == ("undecided", (("instrument",),))
    assert "by feelers, declared otherwise" in told(found, after)


def test_what_the_eye_saw_and_what_was_answered(before: Assessment, again: Again) -> None:
    """No smoke any more: better, by the answer, and the pattern that rested on it is no longer read."""
    after = again(SAMPLE, "[blue on closing the throttle]", "[none]")
    found = compare(before, after)
    smoke = [p for p in found.patterns if p.made_by == "before"]
    assert {p.because for p in smoke} == {"findings"}
    assert any("stem" in j.job and j.now == "" for j in found.jobs)
    assert "no longer read, because of findings" in told(found, after)


def test_what_is_looked_at_later_is_newly_inspected(before: Assessment, again: Again) -> None:
    """The fourth bore, left out at first, is seen scored: known now, and told in a line of its own."""
    line = next(x for x in (SAMPLES / SAMPLE).read_text().splitlines() if "item: bore-state" in x)
    scored = "3: none, 4: {damage: score marks, amount: 5, size: 5}}"
    after = again(SAMPLE, f"left-out:\n{line}\n", "", "size: 2}, 3: none}", f"size: 2}}, {scored}")
    bore = only(compare(before, after), "bore-state.4")
    assert (bore.turn, bore.by) == ("known now", (("newly inspected",),))
    assert (bore.before.verdict, bore.after.verdict) == ("not inspected", "beyond limit")
    assert "(bore-state.4): beyond limit, before not inspected; because newly inspected" in told(
        compare(before, after), after
    )
    left = only(compare(after, before), "bore-state.4")
    assert (left.turn, left.by) == ("no longer known", (("no longer inspected",),))


def test_places_told_one_by_one_meet_the_whole_that_was_left_out() -> None:
    """In the frame no word of sixteen valve faces; stripped, each of them: newly inspected, none twice."""
    closed, opened = (assess(load(SAMPLES / f)) for f in (SAMPLE, "inline-four-strip.yaml"))
    head = opened.inspection.head
    engine = head.engine.model_copy(update={"serial": closed.inspection.head.engine.serial})
    told_so = replace(opened.inspection, head=head.model_copy(update={"engine": engine}))
    same = replace(opened, inspection=told_so)
    found = compare(closed, same)
    faces = [v for v in found.verdicts if v.id.startswith("valve-face-state")]
    assert len(faces) == 16
    assert {(v.turn, v.by) for v in faces} == {("known now", (("newly inspected",),))}
    assert len({v.id for v in found.verdicts}) == len(found.verdicts)
    text = told(found, same)
    assert "in order: " in text
    back = compare(same, closed)
    assert {v.id for v in back.verdicts} == {v.id for v in found.verdicts}
    mirrored = {
        "worse": "better",
        "better": "worse",
        "known now": "no longer known",
        "no longer known": "known now",
    }
    assert {v.id: mirrored[v.turn] for v in back.verdicts} == {v.id: v.turn for v in found.verdicts}
    lost = {v.by for v in back.verdicts if v.turn == "no longer known"}
    assert lost <= {(("no longer inspected",),), (("no longer asked",),)}


def test_a_rulebook_that_changed(before: Assessment) -> None:
    """A pattern of which no finding changed is missed by the rulebook alone."""
    fewer = replace(before.advice, diagnoses=before.advice.diagnoses[1:])
    books = tuple(replace(b, digest="0", version=9) if b.kind == "rulebook" else b for b in before.books)
    found = compare(before, replace(before, advice=fewer, books=books))
    gone = before.advice.diagnoses[0]
    assert [(p.id, p.made_by, p.because) for p in found.patterns] == [(gone.id, "before", "rulebook")]
    assert [b.kind for b in found.books] == ["rulebook"]


def test_another_version_of_this_program_is_named(before: Assessment) -> None:
    """The version stands among the books."""
    found = compare(replace(before, program="0.0.9"), before)
    assert f"program: {before.program}, before 0.0.9" in told(found, before)


def test_two_engines_are_not_compared(before: Assessment) -> None:
    """Both are named by maker, model and serial."""
    other = assess(load(SAMPLES / "kart-two-stroke.yaml"))
    with pytest.raises(OtherEngine, match="serial CT6-023310, and Ormvik"):
        compare(before, other)


def test_a_season_of_one_engine() -> None:
    """From one meeting to the next: days and hours between, wear that is worse, values that only moved."""
    first, then = (assess(load(SAMPLES / "race-team" / f"a-{n}.yaml")) for n in (4, 5))
    found = compare(first, then)
    assert {v.turn for v in found.verdicts if v.by == (("reading",),)} == {"worse"}
    assert found.moved
    assert "between 37 days and 7.5 h" in told(found, then)


def test_json_tells_the_same(before: Assessment, again: Again) -> None:
    """Ids, verdicts and causes for another program; values in SI."""
    after = again(SHOP, "confidence: 95 %", "confidence: 99.9 %")
    found = compare(before, after)
    data = json.loads(comparison_json(found))
    assert [v["id"] for v in data["verdicts"]] == [v.id for v in found.verdicts]
    assert data["verdicts"][0]["by"] == [["decision rule"]]
    assert data["serial"] == "CT6-023310"
    assert comparison_json(found) == comparison_json(compare(before, after))
