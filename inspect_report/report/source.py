"""Turns an assessment into what all parts of a view look things up in."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Final

from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding, Grade
from inspect_report.judge.limits import among
from inspect_report.records.position import Position
from inspect_report.records.problem import Place
from inspect_report.records.quantity import Quantity, unit_named
from inspect_report.report.figures import Figures
from inspect_report.report.reportparts import Chip
from inspect_report.report.words import GOOD, NOT_GOOD, finding_name, tone
from inspect_report.telling.manner import say, word
from inspect_report.telling.units import Among

LEAK_DOWN: Final = "leak-down"
ON_REFERENCE: Final = "leak-down-reference"


@dataclass(frozen=True)
class Source:
    """An assessment, and how its workshop writes figures."""

    a: Assessment

    @cached_property
    def figures(self) -> Figures:
        return Figures(self.a.workshop.locale, self.a.workshop.currency)

    @cached_property
    def told(self) -> dict[tuple[str, str], tuple[tuple[str, str], ...]]:
        """What was told once of a job or an instrument, for every chain that leads to it again."""
        return {}

    @cached_property
    def findings(self) -> dict[str, Finding]:
        """Findings by their id."""
        return {f.id: f for f in self.a.judged.findings}

    @cached_property
    def _order(self) -> dict[str, int]:
        return {f.id: n for n, f in enumerate(self.a.judged.findings)}

    def order(self, finding: Finding) -> int:
        """Where a finding stands among all."""
        return self._order[finding.id]

    @cached_property
    def _leak_down(self) -> dict[Position, float]:
        return {f.position: f.quantity.value for f in self.of(LEAK_DOWN) if f.quantity}

    def says_the_same(self, finding: Finding) -> bool:
        """Whether it is leak-down as on the reference tester, and the tester used showed as much."""
        if finding.characteristic != ON_REFERENCE or finding.quantity is None:
            return False
        own = self._leak_down.get(finding.position)
        digit = unit_named(finding.unit).factor * 10.0**-finding.decimals
        return own is not None and abs(own - finding.quantity.value) <= digit

    @cached_property
    def diagnoses(self) -> dict[str, str]:
        """Titles of diagnoses by their id."""
        return {d.id: d.finding for d in self.a.advice.diagnoses}

    @cached_property
    def asking(self) -> frozenset[str]:
        """Findings that a job is asked for by, or that a diagnosis rests on."""
        asked = (i for w in self.a.advice.work for i in w.why)
        read = (i for d in self.a.advice.diagnoses for e in d.evidence for i in e.findings)
        return frozenset((*asked, *read))

    def one_cause(self, assembly: str) -> str:
        """The diagnosis that explains all that is amiss in an assembly by something elsewhere; or nothing."""
        of = {f.id: f.assembly for f in self.a.judged.findings}
        amiss = {f.id for f in self.a.judged.findings if f.assembly == assembly and f.verdict in NOT_GOOD}
        for diagnosis in self.a.advice.diagnoses if amiss else ():
            rests_on = {i for e in diagnosis.evidence for i in e.findings}
            if amiss <= rests_on and any(of.get(i, assembly) != assembly for i in rests_on):
                return say("by one cause: {diagnosis}", diagnosis=diagnosis.finding.rstrip("."))
        return ""

    @cached_property
    def everywhere(self) -> dict[str, list[Position]]:
        """Every place at which a characteristic has a finding."""
        places: dict[str, list[Position]] = defaultdict(list)
        for finding in self.a.judged.findings:
            places[finding.characteristic].append(finding.position)
        return dict(places)

    @cached_property
    def grades(self) -> dict[str, Grade]:
        """Grades by assembly."""
        return {g.assembly: g for g in self.a.judged.grades}

    def of(self, characteristic: str) -> tuple[Finding, ...]:
        """The findings of one characteristic."""
        return tuple(f for f in self.a.judged.findings if f.characteristic == characteristic)

    def measured(self, finding: Finding, quantity: Quantity) -> str:
        """A finding's quantity as text."""
        return self.figures.measured(quantity, finding.unit, finding.decimals, beside(finding))

    def named(self, some_id: str) -> str:
        """A finding or a diagnosis in words, with its value where it has one."""
        finding = self.findings.get(some_id)
        if finding is None:
            return self.diagnoses.get(some_id, some_id).rstrip(".")
        value = f": {self.measured(finding, finding.quantity)}" if finding.quantity else ""
        return f"{finding_name(finding)}{value} ({word(finding.verdict)})"

    def at(self, place: Place) -> str:
        """File and line of a place in the inspection's folder."""
        return f"{Path(self.a.folder) / place.file}:{place.line}"

    def score(self, grade: Grade) -> str:
        """A grade's score as text, a dash where nothing is graded."""
        return "–" if grade.score is None else self.figures.number(grade.score, 0)


def beside(*findings: Finding) -> Among:
    """What findings of one characteristic and limit are told beside: their values, all ends of the limit."""
    kin = among(findings[0].limit, *(f.quantity for f in findings if f.quantity is not None))
    return replace(kin, sold=True) if findings[0].sold else kin


def in_step(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings that are told side by side, to the same places: those of the finest of them."""
    finest = max((finding.decimals for finding in findings), default=0)
    return tuple(replace(finding, decimals=finest) for finding in findings)


def grade_chip(grade: Grade) -> Chip:
    """The grade of an assembly; it holds only so far while most of what a full strip-down shows is unseen."""
    plain = chip(grade.word)
    unseen = grade.planned + grade.beyond_depth - grade.used
    if grade.word not in GOOD or grade.used > unseen:
        return plain
    return Chip(say("{grade} so far", grade=plain.word), f"{plain.tone} so-far")


def chip(grade: str) -> Chip:
    """A verdict or grade word with its style class."""
    return Chip(word(grade), tone(grade))
