"""What must hold of the judgement of every sample."""

from pathlib import Path

import pytest

from inspect_report.judge.finding import Judged, Verdict
from inspect_report.judge.judging import judge
from inspect_report.judge.past import past_readings
from inspect_report.knowledge.shelf import load
from inspect_report.measure.measuring import measure
from tests.samples import sample_inspections

SAMPLES = sample_inspections()
NOT_JUDGED = (Verdict.NOT_INSPECTED, Verdict.NOT_APPLICABLE)


def judged(path: Path) -> Judged:
    """A sample with its past, judged."""
    case = load(path)
    past = [p for earlier in case.earlier for p in past_readings(earlier, measure(earlier).quantities)]
    return judge(case, measure(case), past)


@pytest.mark.parametrize("path", SAMPLES, ids=[p.stem for p in SAMPLES])
def test_samples_are_judged_whole(path: Path) -> None:
    """Every finding has its reason and its own id, no check of ours fails, coverage adds up."""
    result = judged(path)
    assert len({f.id for f in result.findings}) == len(result.findings)
    assert all(f.reason for f in result.findings)
    assert Verdict.CHECK_FAILED not in {f.verdict for f in result.findings}
    assert sum(g.used for g in result.grades) == result.engine.used <= result.engine.planned
    graded = {f.assembly for f in result.findings if f.verdict not in NOT_JUDGED}
    assert graded <= {g.assembly for g in result.grades}
    assert result.engine.word != "not graded"
