"""Turns a small report into a signed one whose bytes a test can change."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from asn1crypto import cms

from inspect_report.report.signing import Signing, signing_with
from inspect_report.vouching.trust import Trusted
from inspect_report.vouching.verdict import Verdict
from inspect_report.vouching.verifying import Reader, verify_pdf
from tests.evidence.certificates import Held, write_held


@dataclass(frozen=True)
class Sealed:
    """A signed PDF, who signed it, and where its signature lies."""

    pdf: bytes
    held: Held
    signing: Signing

    @property
    def reader(self) -> Reader:
        """Somebody who trusts the signer."""
        return Reader((Trusted("the letter", self.signing.signatory.fingerprint),))

    def verdict(self, pdf: bytes | None = None) -> Verdict:
        """What somebody who trusts the signer is told of the PDF, or of another."""
        return verify_pdf("report.pdf", self.pdf if pdf is None else pdf, self.reader)

    @property
    def place(self) -> range:
        """Where the hex figures of the signature stand, without their brackets."""
        _, first, behind, _ = ranges(self.pdf)
        return range(first + 1, behind - 1)


def ranges(pdf: bytes) -> list[int]:
    """The byte ranges of the signature, found without our reader or the library's."""
    found = re.findall(rb"/ByteRange ?\[ ?(\d+) (\d+) (\d+) (\d+) ?\]", pdf)
    return [int(number) for number in found[-1]]


def of_file(folder: Path, held: Held, *others: Held) -> Signing:
    """What signs by a certificate, which has to pass through a file."""
    return signing_with(write_held(folder / "w.p12", held, others), str)


def rewritten(sealed: Sealed, change: Callable[[cms.SignedData], None]) -> bytes:
    """The file with another signature object in the same place, in which what is signed is the same."""
    raw = bytes.fromhex(sealed.pdf[sealed.place.start : sealed.place.stop].decode())
    whole = cms.ContentInfo.load(raw)
    change(whole["content"])
    written: bytes = whole.dump(force=True)
    hexed = written.hex().upper().encode().ljust(len(sealed.place), b"0")
    return sealed.pdf[: sealed.place.start] + hexed + sealed.pdf[sealed.place.stop :]
