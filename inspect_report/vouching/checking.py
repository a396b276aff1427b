"""Turns the names of files and what a reader was told into a verdict on each file."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from inspect_report.knowledge.bookread import read_book
from inspect_report.records.problem import InspectReportError, InvalidKnowledge
from inspect_report.records.workshop import Workshop
from inspect_report.report.attaching import UnreadableFile, bytes_of
from inspect_report.report.keyfile import UnusableCertificate
from inspect_report.vouching.compared import alone, compared
from inspect_report.vouching.later import told_by_later
from inspect_report.vouching.remaking import made_again
from inspect_report.vouching.signatures import PLACE
from inspect_report.vouching.trust import Trusted, certificates_in, figures, trusted
from inspect_report.vouching.verdict import Verdict
from inspect_report.vouching.verifying import PDF, Checked, Reader, check_pdf


class CannotVerify(InspectReportError):
    """A file cannot be checked: the message says why and what to do; exit code 2."""


def reader_of(
    told: Iterable[str], digest: str, passphrase: Callable[[], str], workshop: Path | None = None
) -> Reader:
    """
    What a reader knows already.

    Args:
        told: Fingerprints and files of certificates.
        digest: Digest of the report as known from elsewhere, or nothing.
        passphrase: Asked for where a file of a certificate has one.
        workshop: Workshop file whose own certificate is trusted, too.

    Raises:
        UnusableCertificate: a certificate is none.
        InvalidKnowledge: the workshop file is at fault.
        CannotVerify: the workshop file names no certificate, or the digest is none.
    """
    own = _of_workshop(workshop, passphrase) if workshop else ()
    plain = figures(digest) if digest else ""
    if plain is None:
        raise CannotVerify(f"--digest: 64 hexadecimal figures are allowed; {len(digest)} characters found")
    return Reader((*trusted(told, passphrase), *own), plain)


def _of_workshop(workshop: Path, passphrase: Callable[[], str]) -> tuple[Trusted, ...]:
    """The certificate that a workshop file names."""
    read = read_book(Workshop, workshop)
    if read.value is None or read.errors:
        raise InvalidKnowledge(read.problems)
    file = read.value.record.certificate_file(workshop.parent)
    if file is None:
        raise CannotVerify(
            f"--workshop {workshop}: names no certificate; write 'certificate: FILE.p12' into it"
        )
    named = f"--workshop {workshop}: its certificate {file}"
    try:
        data = bytes_of(file)
    except UnreadableFile as fault:
        raise UnusableCertificate(
            f"{named} cannot be read: {fault.why}; check 'certificate' in the workshop file"
        ) from None
    return certificates_in(named, file, data, passphrase)


def verify(file: Path, reader: Reader, against: Path | None = None) -> Verdict:
    """
    The verdict on a file.

    Args:
        file: A PDF, or a file that belongs to its report.
        reader: What the reader knows already.
        against: Another PDF: of the report a file belongs to, or of a later issue.

    Raises:
        UnreadableFile: a file cannot be read.
        CannotVerify: ``against`` is no PDF with the evidence of a report.
    """
    return verify_all((file,), reader, against)[0]


def verify_all(files: Sequence[Path], reader: Reader, against: Path | None = None) -> list[Verdict]:
    """The verdict on each file, as ``verify``; the other PDF is looked into once."""
    other = _other(against, reader) if against else None
    return [_verdict(file, bytes_of(file), reader, other) for file in files]


@dataclass(frozen=True)
class _Other:
    """The PDF that files are held against."""

    name: str
    data: bytes
    reader: Reader
    report: Checked
    """Checked as the report that files belong to: the digest that the reader knows is its own."""

    @cached_property
    def later(self) -> Checked:
        """Checked as a later report, whose digest nobody has named."""
        if not self.reader.digest:
            return self.report
        return check_pdf(self.name, self.data, replace(self.reader, digest=""))


def _other(against: Path, reader: Reader) -> _Other:
    name, data = str(against), bytes_of(against)
    report = check_pdf(name, data, reader)
    if report.held is None or not report.held.listed:
        raise CannotVerify(f"--against {against}: is no PDF of a report that carries the list of its files")
    return _Other(name, data, reader, report)


def _verdict(file: Path, data: bytes, reader: Reader, other: _Other | None) -> Verdict:
    name = str(file)
    if data.startswith(PDF):
        checked = check_pdf(name, data, reader)
        verdict, held = checked.verdict, checked.held
        if verdict.word == "unknown" and held and PLACE not in data:
            verdict = made_again(file, data, verdict, held, reader.digest)
        return told_by_later(verdict, held, other.later) if other and held else verdict
    if other is None or other.report.held is None:
        return alone(name, data)
    return compared(name, data, other.report.verdict, other.report.held)
