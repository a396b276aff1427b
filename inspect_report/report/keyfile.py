"""Turns a PKCS#12 file into the key and certificate that a workshop signs with, or into why it cannot."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
from cryptography.hazmat.primitives.asymmetric.rsa import RSAPrivateKey
from cryptography.hazmat.primitives.serialization import pkcs12

from inspect_report.records.problem import InspectReportError

SHORTEST_RSA: Final = 2048
"""Bits of the shortest RSA key that still signs (ETSI TS 119 312, from memory: shorter ones are unsound)."""
SHORTEST_CURVE: Final = 256
"""Bits of the shortest elliptic curve that still signs (as above)."""
_ANOTHER: Final = "make one by 'inspect-report certificate', or name another behind 'certificate'"
_EXPORT: Final = "export certificate and key into one file: openssl pkcs12 -export"


class UnusableCertificate(InspectReportError):
    """A certificate cannot be used: the message says which, why and what to do; exit code 2."""


@dataclass(frozen=True, slots=True)
class KeyFile:
    """What a PKCS#12 file holds."""

    key: EllipticCurvePrivateKey | RSAPrivateKey
    certificate: x509.Certificate
    others: tuple[x509.Certificate, ...]
    """Certificates of those who vouch for the first, as they lie in the file."""


def key_file(file: Path, passphrase: Callable[[], str], *, now: datetime | None = None) -> KeyFile:
    """
    The key and certificate of a file, fit to sign.

    Args:
        file: The file, as ``openssl pkcs12 -export`` writes it.
        passphrase: Asked for only where the file has one.
        now: When it has to hold; this moment when left out.

    Raises:
        UnusableCertificate: the file cannot be read or opened, holds no certificate with its key, or one that
            does not hold now, is not meant to sign, or has a key that does not sign.
    """
    try:
        data = file.read_bytes()
    except OSError as fault:
        raise UnusableCertificate(
            f"{file}: the certificate to sign with cannot be read: {fault.strerror}; check 'certificate' "
            "in the workshop file, or leave the report unsigned by --unsigned"
        ) from None
    held = opened(str(file), data, passphrase)
    key, certificate = held.key, held.cert.certificate if held.cert else None
    if key is None or certificate is None:
        raise UnusableCertificate(f"{file}: holds no certificate with its key; {_EXPORT}")
    if key.public_key() != certificate.public_key():
        raise UnusableCertificate(f"{file}: the key is not that of the certificate; {_EXPORT}")
    if not isinstance(key, EllipticCurvePrivateKey | RSAPrivateKey) or key.key_size < _shortest(key):
        raise UnusableCertificate(
            f"{file}: the key is none that signs here; allowed are elliptic curves of "
            f"{SHORTEST_CURVE} bits or more and RSA of {SHORTEST_RSA} bits or more; {_ANOTHER}"
        )
    _refuse_other_times(file, certificate, now or datetime.now(UTC))
    _refuse_other_uses(file, certificate)
    return KeyFile(key, certificate, tuple(other.certificate for other in held.additional_certs))


def opened(named: str, data: bytes, passphrase: Callable[[], str]) -> pkcs12.PKCS12KeyAndCertificates:
    """
    What a PKCS#12 file holds, whatever it is fit for.

    Args:
        named: What the file is called in what is told.
        data: Its bytes.
        passphrase: As in ``key_file``.

    Raises:
        UnusableCertificate: it cannot be opened.
    """
    for secret in (None, b""):
        held = _loaded(data, secret)
        if held:
            return held
    held = _loaded(data, passphrase().encode())
    if held is None:
        raise UnusableCertificate(
            f"{named}: cannot be opened: the passphrase is another, or it is no PKCS#12 file (.p12); "
            "give the passphrase it was made with, or name another file"
        )
    return held


def _loaded(data: bytes, secret: bytes | None) -> pkcs12.PKCS12KeyAndCertificates | None:
    try:
        return pkcs12.load_pkcs12(data, secret)
    except ValueError:
        return None


def _shortest(key: EllipticCurvePrivateKey | RSAPrivateKey) -> int:
    return SHORTEST_RSA if isinstance(key, RSAPrivateKey) else SHORTEST_CURVE


def _refuse_other_times(file: Path, certificate: x509.Certificate, now: datetime) -> None:
    first, last = certificate.not_valid_before_utc, certificate.not_valid_after_utc
    if now > last:
        raise UnusableCertificate(f"{file}: the certificate ran out on {last:%Y-%m-%d}; {_ANOTHER}")
    if now < first:
        raise UnusableCertificate(
            f"{file}: the certificate holds from {first:%Y-%m-%d} only; check the clock of this computer"
        )


def _refuse_other_uses(file: Path, certificate: x509.Certificate) -> None:
    """A certificate says what its key is for (RFC 5280, 4.2.1.3); this one has to say: to sign."""
    try:
        usage = certificate.extensions.get_extension_for_class(x509.KeyUsage).value
    except (x509.ExtensionNotFound, ValueError):
        usage = None
    if usage is None or not (usage.digital_signature or usage.content_commitment):
        raise UnusableCertificate(
            f"{file}: the certificate is not made to sign documents: its key usage lacks digitalSignature; "
            f"{_ANOTHER}"
        )
