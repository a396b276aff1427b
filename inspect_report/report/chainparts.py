"""Defines the chain behind a verdict as a page template may use it."""

from dataclasses import dataclass

from inspect_report.report.shown import shown


@dataclass(frozen=True, slots=True)
class StepView:
    """A step of the chain behind a verdict: readings, formula, limit, rule or work."""

    label: str = shown("what the step is")
    told: tuple[str, ...] = shown("what is told of it")


@dataclass(frozen=True, slots=True)
class ChainView:
    """The chain behind the verdict of one place."""

    finding: str = shown("the finding with its place")
    steps: tuple[StepView, ...] = shown("its steps, from the reading to the work")
