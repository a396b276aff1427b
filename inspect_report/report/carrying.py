"""Turns an assessment and its evidence into the files that travel in its PDF, to make it again from them."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from pydantic import TypeAdapter

from inspect_report.assessment import Assessment
from inspect_report.knowledge.evidence import EARLIER, Evidence
from inspect_report.knowledge.grounds import PICTURE, Ground
from inspect_report.records.bare_picture import bare_picture
from inspect_report.records.inspection import Report
from inspect_report.records.manifest import LIST
from inspect_report.records.problem import CannotRender
from inspect_report.records.workshop import Units
from inspect_report.report.signing import Signatory, Signing
from inspect_report.report.words import capital
from inspect_report.telling.manner import say, word

if TYPE_CHECKING:
    from inspect_report.report.attaching import Attached

Carried = Literal["all", "files", "list"]
"""Everything; everything but pictures; or only the lists and how it was made, without any price book."""
Carry = Literal["fitting", "all", "files", "list"]
"""What is asked for; ``fitting`` is everything, without pictures where they make more than can be sent."""
MOST_OF_PICTURES: Final = 8_000_000
"""Bytes of pictures up to which they travel along unasked: about what may be sent by mail."""
ASSESSMENT: Final = "assessment.json"
MADE: Final = "made.json"
"""How the report was made: what the evidence does not say, and a report made again needs."""
OWN: Final = (LIST, ASSESSMENT, MADE)
"""What a report carries beside the files of its list."""


@dataclass(frozen=True, slots=True)
class Successor:
    """The issue that replaces a report, as the replaced one tells it."""

    issue: int
    issued: date
    reason: str
    digest: str
    """By which it is known, 64 figures; empty where it was made without."""


@dataclass(frozen=True, slots=True)
class HowMade:
    """How a report was made, as ``made.json`` says it."""

    inspection: str
    """Its name among the files."""
    kind: Report
    language: str
    units: Units
    carry: Carried
    signatory: Signatory | None
    program: str
    """Version of this program."""
    libraries: dict[str, str]
    """Versions of what lays out the pages, by name."""
    left_out: tuple[str, ...] = ()
    """Names of the pictures that are listed but not carried."""
    replaced_by: Successor | None = None
    number: str = ""
    """Number of the inspection; where no assessment is carried, nothing else tells it."""
    issue: int = 0
    issued: date | None = None


@cache
def _adapter() -> TypeAdapter[HowMade]:
    return TypeAdapter(HowMade)


def how_made(data: bytes) -> HowMade:
    """
    How a report was made.

    Raises:
        pydantic.ValidationError: the bytes do not say it.
    """
    return _adapter().validate_json(data)


def json_object(data: bytes | None) -> dict[str, Any]:
    """What a file from whomever says as a JSON object; nothing where it is none."""
    try:
        found = json.loads(data or b"{}")
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def taken_out(files: Mapping[str, bytes]) -> list[str]:
    """Names of what a report carries beside its list and does not: only one of lists has no assessment."""
    alone = json_object(files.get(MADE)).get("carry") == "list"
    return [name for name in OWN if name not in files and not (alone and name == ASSESSMENT)]


def carried_of(carry: Carry, evidence: Evidence | None) -> Carried:
    """What is carried, where it is left to how much there is."""
    if carry != "fitting":
        return carry
    return "all" if evidence is None or pictures_of(evidence) <= MOST_OF_PICTURES else "files"


def pictures_of(evidence: Evidence) -> int:
    """How much the pictures of some evidence make together, in bytes."""
    return sum(len(file.data) for file in evidence.files if file.kind == PICTURE)


def left_out(evidence: Evidence, carry: Carried) -> tuple[Ground, ...]:
    """The pictures that stay behind."""
    return tuple(file for file in evidence.files if file.kind == PICTURE and not _travels(file, carry))


def _travels(file: Ground, carry: Carried) -> bool:
    if file.kind == EARLIER:
        return True
    if file.kind == PICTURE:
        # A picture out of which the camera's notes could not be taken is nobody's business.
        return carry == "all" and bare_picture(file.data) == file.data
    return carry != "list"


@dataclass(frozen=True, slots=True)
class Load:
    """What travels in the PDF of a report, and who signs it."""

    assessment: Assessment
    home: Path
    """Folder of the inspection."""
    kind: Report
    evidence: Evidence | None
    carry: Carried
    signing: Signing | None
    replaced_by: Successor | None = None

    def files(self, assessment: bytes) -> "tuple[Attached, ...]":
        """
        The files, those it was made from first.

        Args:
            assessment: The assessment as JSON.

        Raises:
            CannotRender: the inspection file cannot be read.
        """
        from inspect_report.report.attaching import Attached

        day = self.assessment.inspection.head.dates.issued.isoformat()
        if self.evidence is None:
            path = self.home / Path(self.assessment.inspection.file).name
            told = say("The inspection as written by the inspector")
            return (Attached(path.name, told, _bytes_of(path), day),)
        own = (Attached(g.name, capital(word(g.kind)), g.data, day) for g in self._along(self.evidence))
        manifest, made = self.evidence.manifest.encode(), self._made(self.evidence)
        shown = Attached(ASSESSMENT, say("The assessment that the report shows"), assessment, day, "Data")
        return (
            *own,
            Attached(LIST, say("SHA-256 of every file the report rests on"), manifest, day, "Supplement"),
            # It holds the workshop's labour rate, prices and stock.
            *((shown,) if self.carry != "list" else ()),
            Attached(MADE, say("How the report was made"), made, day, "Supplement"),
        )

    def _along(self, evidence: Evidence) -> Iterator[Ground]:
        return (file for file in evidence.files if _travels(file, self.carry))

    def _made(self, evidence: Evidence) -> bytes:
        from inspect_report.report.pdf import libraries

        head = self.assessment.inspection.head
        made = HowMade(
            inspection=evidence.files[0].name,
            kind=self.kind,
            language=self.assessment.workshop.language,
            units=self.assessment.workshop.units,
            carry=self.carry,
            signatory=self.signing.signatory if self.signing else None,
            program=self.assessment.program,
            libraries=libraries(),
            left_out=tuple(file.name for file in left_out(evidence, self.carry)),
            replaced_by=self.replaced_by,
            number=head.inspection,
            issue=head.issue,
            issued=head.dates.issued,
        )
        return _adapter().dump_json(made, indent=1) + b"\n"

    def signed(self, pdf: bytes) -> bytes:
        """The PDF, signed where somebody signs it."""
        return self.signing.sign(pdf) if self.signing else pdf


def _bytes_of(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as fault:
        raise CannotRender(
            f"{path}: the inspection file, which the PDF carries along, cannot be read: {fault.strerror}"
        ) from None
