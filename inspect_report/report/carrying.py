"""Turns an assessment and its evidence into the files that travel in its PDF, so that it can be remade."""

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from inspect_report.assessment import Assessment
from inspect_report.knowledge.evidence import EARLIER, Evidence
from inspect_report.knowledge.grounds import PICTURE, Ground
from inspect_report.records.inspection import Report
from inspect_report.records.manifest import LIST
from inspect_report.records.problem import CannotRender
from inspect_report.report.signing import Signing
from inspect_report.report.words import capital
from inspect_report.telling.manner import say, word

if TYPE_CHECKING:
    from inspect_report.report.attaching import Attached

Carry = Literal["all", "files", "list"]
CARRIES: Final[tuple[Carry, ...]] = ("all", "files", "list")
ASSESSMENT: Final = "assessment.json"
MADE: Final = "made.json"
"""How the report was made: what the evidence does not say, and a report made again needs."""


@dataclass(frozen=True, slots=True)
class Carried:
    """What travels in the PDF of a report, and who signs it."""

    assessment: Assessment
    home: Path
    """Folder of the inspection."""
    kind: Report
    evidence: Evidence | None
    carry: Carry
    signing: Signing | None

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
            return (
                Attached(path.name, say("The inspection as written by the inspector"), _bytes_of(path), day),
            )
        own = (Attached(g.name, capital(word(g.kind)), g.data, day) for g in self._taken_along(self.evidence))
        manifest = self.evidence.manifest.encode()
        return (
            *own,
            Attached(LIST, say("SHA-256 of every file the report rests on"), manifest, day, "Supplement"),
            Attached(ASSESSMENT, say("The assessment that the report shows"), assessment, day, "Data"),
            Attached(MADE, say("How the report was made"), self._made(), day, "Supplement"),
        )

    def _taken_along(self, evidence: Evidence) -> Iterator[Ground]:
        for ground in evidence.files:
            is_list = ground.kind == EARLIER
            if is_list or self.carry == "all" or (self.carry == "files" and ground.kind != PICTURE):
                yield ground

    def _made(self) -> bytes:
        from inspect_report.report.pdf import libraries

        how = {
            "inspection": self.evidence.files[0].name if self.evidence else "",
            "kind": self.kind,
            "carry": self.carry,
            "signatory": asdict(self.signing.signatory) if self.signing else None,
            "program": self.assessment.program,
            "libraries": libraries(),
        }
        return (json.dumps(how, indent=1, ensure_ascii=False) + "\n").encode()

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
