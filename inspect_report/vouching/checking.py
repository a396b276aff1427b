"""Turns the names of files and what a reader was told into a verdict on each file."""

from collections.abc import Callable, Iterable
from pathlib import Path

from inspect_report.knowledge.bookread import read_book
from inspect_report.records.problem import InspectReportError, InvalidKnowledge
from inspect_report.records.workshop import Workshop
from inspect_report.vouching.carried import Carried
from inspect_report.vouching.compared import alone, compared
from inspect_report.vouching.remaking import made_again
from inspect_report.vouching.signatures import PLACE
from inspect_report.vouching.trust import figures, trusted
from inspect_report.vouching.verdict import Verdict
from inspect_report.vouching.verifying import PDF, Reader, against_later, looked_into, verify_pdf


class CannotVerify(InspectReportError):
    """A file cannot be checked: the message says why and what to do; exit code 2."""


def reader_of(told: Iterable[str], digest: str, passphrase: Callable[[], str]) -> Reader:
    """
    What a reader knows already.

    Args:
        told: Fingerprints and files of certificates.
        digest: Digest of the report as known from elsewhere, or nothing.
        passphrase: Asked for where a file of a certificate has one.

    Raises:
        UnusableCertificate: a certificate is none.
        CannotVerify: the digest is none.
    """
    plain = figures(digest) if digest else ""
    if plain is None:
        raise CannotVerify(f"--digest: 64 hexadecimal figures are allowed; {len(digest)} characters found")
    return Reader(trusted(told, passphrase), plain)


def certificate_of(workshop: Path) -> str:
    """
    The file of the certificate that a workshop file names.

    Raises:
        InvalidKnowledge: the workshop file is at fault.
        CannotVerify: it names none.
    """
    read = read_book(Workshop, workshop)
    if read.value is None or read.errors:
        raise InvalidKnowledge(read.problems)
    name = read.value.record.certificate
    if not name:
        raise CannotVerify(
            f"--workshop {workshop}: names no certificate; write 'certificate: FILE.p12' into it"
        )
    return str(workshop.parent / Path(name).expanduser())


def verify(file: Path, reader: Reader, against: Path | None = None) -> Verdict:
    """
    The verdict on a file.

    Args:
        file: A PDF, or a file that belongs to its report.
        reader: What the reader knows already.
        against: Another PDF: of the report a file belongs to, or of a later issue.

    Raises:
        CannotVerify: a file cannot be read, or ``against`` is no PDF with the evidence of a report.
    """
    name, data = str(file), _bytes(file)
    if data.startswith(PDF):
        verdict, held = verify_pdf(name, data, reader), looked_into(data)
        if verdict.word == "unknown" and held and PLACE not in data:
            verdict = made_again(file, verdict, held, reader.digest)
        return against_later(verdict, held, _of(against), str(against)) if against and held else verdict
    if against is None:
        return alone(name, data)
    held = _of(against)
    return compared(name, data, verify_pdf(str(against), _bytes(against), reader), held)


def _of(against: Path) -> Carried:
    held = looked_into(_bytes(against))
    if held is None or not held.listed:
        raise CannotVerify(f"--against {against}: is no PDF of a report that carries the list of its files")
    return held


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as fault:
        raise CannotVerify(f"{file}: cannot be read: {fault.strerror}; check the name of the file") from None
