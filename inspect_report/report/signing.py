"""Turns the workshop's certificate into who signs a report, and into what signs its PDF."""

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from inspect_report.records.letters import odd_letter

if TYPE_CHECKING:
    from cryptography import x509

PASSPHRASE: Final = "INSPECT_REPORT_PASSPHRASE"  # noqa: S105 - where it is asked for, not what it is


@dataclass(frozen=True, slots=True)
class Signatory:
    """Who signs, as the certificate says."""

    name: str
    """Subject of the certificate, its parts parted by commas."""
    fingerprint: str
    """SHA-256 of the certificate, 64 figures."""
    self_made: bool = False
    """Whether nobody but the signer vouches for the name."""


@dataclass(frozen=True, slots=True)
class Signing:
    """Who signs a report, and how its PDF is signed."""

    signatory: Signatory
    sign: Callable[[bytes], bytes]


def signing_with(file: Path, passphrase: Callable[[], str]) -> Signing:
    """
    What signs by the certificate and key of a PKCS#12 file.

    Args:
        file: The file, as ``openssl pkcs12 -export`` writes it.
        passphrase: Asked for only where the file has one.

    Raises:
        UnusableCertificate: the file cannot be opened, or its certificate is not fit to sign today.
    """
    from inspect_report.report.keyfile import UnusableCertificate, key_file
    from inspect_report.report.sealing import sealed

    held = key_file(file, passphrase)
    signatory = signatory_of(held.certificate)
    odd = odd_letter(signatory.name)
    if odd:
        raise UnusableCertificate(
            f"{file}: the name in the certificate cannot be printed: {odd.found}; {odd.mend}"
        )
    return Signing(signatory, lambda pdf: sealed(pdf, held))


def passphrase() -> str:
    """
    The passphrase of the workshop's certificate, from the environment or the keyboard.

    Raises:
        UnusableCertificate: it is not in the environment, and nobody can be asked.
    """
    given = os.environ.get(PASSPHRASE)
    if given is not None:
        return given
    if not sys.stdin.isatty():
        from inspect_report.report.keyfile import UnusableCertificate

        raise UnusableCertificate(
            "the certificate has a passphrase, and there is no keyboard to ask at: put it into the "
            f"environment variable {PASSPHRASE}, as many reports at once need it, too; --unsigned signs none"
        )
    from getpass import getpass

    return getpass("Passphrase of the certificate: ")


def new_passphrase() -> str:
    """
    A passphrase for a new certificate, from the environment or typed twice.

    Raises:
        UnusableCertificate: nobody can be asked, or what was typed is not twice the same.
    """
    first = passphrase()
    if os.environ.get(PASSPHRASE) is None:
        from getpass import getpass

        if getpass("The same again: ") != first:
            from inspect_report.report.keyfile import UnusableCertificate

            raise UnusableCertificate("the two passphrases are not the same; nothing was written")
    return first


def grouped(fingerprint: str) -> str:
    """
    A fingerprint as people compare it, by eye or by telephone.

    >>> grouped("0123456789abcdef")
    '01234567 89abcdef'
    """
    return " ".join(fingerprint[n : n + 8] for n in range(0, len(fingerprint), 8))


def signatory_of(certificate: "x509.Certificate") -> Signatory:
    """Who a certificate says it is of."""
    from cryptography.hazmat.primitives.hashes import SHA256

    named = [str(part.value) for part in reversed(list(certificate.subject))]
    self_made = certificate.issuer == certificate.subject
    return Signatory(", ".join(named), certificate.fingerprint(SHA256()).hex(), self_made)
