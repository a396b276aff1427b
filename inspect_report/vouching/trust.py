"""Turns what a reader was told of certificates into what is trusted, and that into whether a signer is."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding

from inspect_report.report.attaching import UnreadableFile, bytes_of
from inspect_report.report.keyfile import UnusableCertificate, opened
from inspect_report.vouching.signatures import Signature, vouched

FIGURES: Final = 64
"""Hexadecimal figures of a SHA-256."""
_PARTED: Final = re.compile(r"[\s:]")
_HEX: Final = re.compile(r"[0-9a-fA-F]+")
_PEM: Final = b"-----BEGIN CERTIFICATE-----"
_KEYS: Final = (".p12", ".pfx")


@dataclass(frozen=True, slots=True)
class Trusted:
    """One thing that the reader trusts."""

    told_by: str
    """How the reader told it: the name of a file, or the fingerprint."""
    fingerprint: str
    """SHA-256 of the certificate, 64 figures."""
    certificate: bytes = b""
    """The certificate as DER, where it was given."""


@dataclass(frozen=True, slots=True)
class Trust:
    """How far a reader trusts who signed."""

    by: str = ""
    """By which word of the reader; empty where by none."""
    vouched: bool = False
    """Whether somebody whom the reader trusts vouches for the name: the one who issued the certificate."""


def trust_in(signature: Signature, trusted: Sequence[Trusted]) -> Trust:
    """How far a reader trusts who signed: by the signer's own certificate, or by that of an authority."""
    own = [one.told_by for one in trusted if one.fingerprint == signature.signatory.fingerprint]
    authority = next(_vouching(signature, trusted), "")
    by = own[0] if own else f"{authority}, which vouches for it" if authority else ""
    return Trust(by, bool(authority))


def _vouching(signature: Signature, trusted: Sequence[Trusted]) -> Iterator[str]:
    for one in trusted:
        other = one.fingerprint != signature.signatory.fingerprint
        if other and one.certificate and vouched(signature, [one.certificate]):
            yield one.told_by


def trusted(told: Iterable[str], passphrase: Callable[[], str]) -> tuple[Trusted, ...]:
    """
    What a reader trusts.

    Args:
        told: Fingerprints, or files: PEM with one certificate or more, DER, or PKCS#12, of which the one that
            has its key counts, and where none has all of them.
        passphrase: Asked for where a PKCS#12 file has one.

    Raises:
        UnusableCertificate: something is neither.
    """
    return tuple(one for text in told for one in _read(text, passphrase))


def certificates_in(
    named: str, file: Path, data: bytes, passphrase: Callable[[], str]
) -> tuple[Trusted, ...]:
    """
    What a file of certificates says is trusted.

    Args:
        named: What led to the file, for what is told: an option and what stands behind it.
        file: The file.
        data: Its bytes.
        passphrase: As in ``trusted``.

    Raises:
        UnusableCertificate: it holds none.
    """
    found = _certificates(named, file, data, passphrase)
    if not found:
        raise UnusableCertificate(
            f"{named}: holds no certificate; allowed are PEM, DER and PKCS#12 (.p12), or a fingerprint"
        )
    return tuple(
        Trusted(str(file), one.fingerprint(SHA256()).hex(), one.public_bytes(Encoding.DER)) for one in found
    )


def figures(text: str) -> str | None:
    """A SHA-256 as people write it, with colons or gaps or without, as 64 figures; None where it is none."""
    bare = _PARTED.sub("", text)
    return bare.lower() if len(bare) == FIGURES and _HEX.fullmatch(bare) else None


def _read(text: str, passphrase: Callable[[], str]) -> tuple[Trusted, ...]:
    fingerprint = figures(text)
    if fingerprint:
        return (Trusted("the fingerprint you gave", fingerprint),)
    file = Path(text)
    try:
        data = bytes_of(file)
    except UnreadableFile as fault:
        raise UnusableCertificate(
            f"--trust {file}: neither a fingerprint of {FIGURES} figures nor a file that can be read: "
            f"{fault.why}"
        ) from None
    return certificates_in(f"--trust {file}", file, data, passphrase)


def _certificates(
    named: str, file: Path, data: bytes, passphrase: Callable[[], str]
) -> list[x509.Certificate]:
    if file.suffix.lower() in _KEYS:
        held = opened(named, data, passphrase)
        # Beside a certificate with its key lie those who vouch for it; to trust it is not to trust them.
        return [one.certificate for one in ([held.cert] if held.cert else held.additional_certs)]
    try:
        return (
            x509.load_pem_x509_certificates(data) if _PEM in data else [x509.load_der_x509_certificate(data)]
        )
    except ValueError:
        return []
