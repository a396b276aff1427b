"""
Turns the results of all stages into the one frozen value that reports read, and it into JSON and back.

Whatever a report prints is in here, so an old assessment can be drawn again without judging it again.
"""

from dataclasses import dataclass, field
from functools import cache
from typing import Annotated

from pydantic import AfterValidator, Field, TypeAdapter

from inspect_report.advise.advice import Advice
from inspect_report.judge.finding import Judged, PastReading
from inspect_report.knowledge.case import BookFile
from inspect_report.measure.derived import Failed, Measured
from inspect_report.records.checklist import Checklist
from inspect_report.records.inspection import Inspection
from inspect_report.records.manifest import empty_or_list
from inspect_report.records.shape import SI
from inspect_report.records.specsheet import SpecSheet
from inspect_report.records.workshop import Workshop

FORMAT = 1


@dataclass(frozen=True, slots=True)
class CautionText:
    """A caution printed on the report."""

    id: str
    text: str


@dataclass(frozen=True, slots=True)
class Assessment:
    """One engine on one occasion: read, measured, judged and advised."""

    format: int
    program: str
    """Version of this program."""
    inspection: Inspection
    sheet: SpecSheet
    checklist: Checklist
    workshop: Workshop
    books: tuple[BookFile, ...]
    measured: Measured
    judged: Judged
    advice: Advice
    past: tuple[PastReading, ...]
    cautions: tuple[CautionText, ...]
    plain: dict[str, str]
    """What each characteristic is, in a customer's words."""
    if_beyond: dict[str, str] = field(default_factory=dict)
    """What it means for a customer when a characteristic is beyond its limit."""
    assemblies: dict[str, str] = field(default_factory=dict)
    """What each assembly does, in a customer's words."""
    damage: dict[str, str] = field(default_factory=dict)
    """What each kind of damage found is, in a customer's words."""
    beside_books: tuple[BookFile, ...] = ()
    """What it rests on beside its books: the inspection file, those before it, books that only they name."""
    manifest: Annotated[str, AfterValidator(empty_or_list)] = ""
    """The list of every file it rests on with its SHA-256 (``records.manifest``), once it is issued."""
    folder: Annotated[str, Field(exclude=True)] = field(default="", compare=False)
    """Where the inspection lies, for its pictures; no part of what is said, and not in the JSON."""

    @property
    def failed(self) -> bool:
        """Whether a check of ours went wrong."""
        return bool(self.failures)

    @property
    def failures(self) -> tuple[Failed, ...]:
        """What went wrong through a fault of ours, stage by stage."""
        return (*self.measured.failed, *self.judged.failed, *self.advice.failed)


@cache
def _adapter() -> TypeAdapter[Assessment]:
    return TypeAdapter(Assessment)


def to_json(assessment: Assessment) -> str:
    """The assessment as JSON text; the same assessment gives the same bytes."""
    return _adapter().dump_json(assessment, indent=1, by_alias=True).decode() + "\n"


def from_json(text: str) -> Assessment:
    """
    The assessment in a JSON text made by ``to_json``, equal to the one it was made from.

    Raises:
        pydantic.ValidationError: the text is no assessment.
    """
    return _adapter().validate_json(text, context=SI)
