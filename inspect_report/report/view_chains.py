"""Turns the chains behind verdicts, sums and diagnoses into what a reader opens by a click."""

from collections.abc import Sequence
from pathlib import Path

from inspect_report.judge.finding import Finding
from inspect_report.report.chainparts import ChainView, StepView
from inspect_report.report.explain import Steps, asked_ids, steps_of, titled_steps
from inspect_report.report.source import Source
from inspect_report.report.words import GOOD, capital, finding_name
from inspect_report.telling.manner import say


def chains(source: Source, alike: Sequence[Finding]) -> tuple[ChainView, ...]:
    """The chain of every place that is not good; of good ones that of the most worn, which stands for all."""
    if alike[0].verdict in GOOD:
        return (_chain(source, max(alike, key=lambda f: f.used or 0.0)),)
    return tuple(_chain(source, f) for f in alike)


def by_id(source: Source) -> dict[str, ChainView]:
    """The chain of every sum and diagnosis, by the id under which it can be asked for."""
    return {asked: _view(source, *titled_steps(source, asked)) for asked in asked_ids(source)}


def _chain(source: Source, finding: Finding) -> ChainView:
    return _view(source, finding_name(finding), steps_of(source, finding))


def _view(source: Source, title: str, steps: Steps) -> ChainView:
    """A chain for a page: of the inspection's file its name, not where it lies on one computer."""
    file = Path(source.a.inspection.file)
    lies = str(Path(source.a.folder) / file)
    shown = (
        StepView(capital(say(label)), tuple(text.replace(lies, file.name) for text in told))
        for label, told in steps
    )
    return ChainView(capital(title), tuple(shown))
