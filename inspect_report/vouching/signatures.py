"""
Turns the bytes of a PDF into the signatures in it: who signed, when by the signer's clock, and what holds.

A signature leaves its own bytes unsigned: version, names, the order of certificates, hex letters, the zeros
that fill its place. So what the signed part says is written anew in the one way this program writes it, and
has to come out as the bytes that stand in the file.
"""

import asyncio
import logging
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from io import BytesIO
from itertools import pairwise
from typing import Any, Final

from asn1crypto import algos, cms, x509
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePublicKey
from cryptography.hazmat.primitives.asymmetric.rsa import RSAPublicKey
from cryptography.x509 import load_der_x509_certificate
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature
from pyhanko_certvalidator import CertificateValidator, ValidationContext
from pyhanko_certvalidator.errors import PathError, ValidationError

from inspect_report.report.sealing import HASH, certificates_bound, low
from inspect_report.report.signing import Signatory, signatory_of

MOST: Final = 4
"""Signatures that are looked for where the whole cannot be read."""
PLACE: Final = b"/ByteRange"
"""What every signature has in a PDF, and nothing else."""
_RANGES: Final = re.compile(rb"/ByteRange ?\[ ?0 \d{1,12} (\d{1,12}) (\d{1,12}) ?\]")
OTHER_RANGES: Final = "it does not hold for all bytes before and behind itself"
OTHER_BYTES: Final = "bytes that it holds for are not those that were signed"
NO_SIGNATURE: Final = "the signature is not one by the key of its certificate"
OTHER_FORM: Final = (
    "the bytes of the signature itself are not written as this program writes them: they were changed, "
    "or another program signed"
)


class UnreadableSignature(ValueError):
    """A PDF in which a signature cannot be read."""


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature in a PDF."""

    signatory: Signatory
    issuer: str
    """Who vouches for the name of the signatory, as the certificate says."""
    holds: tuple[datetime, datetime]
    """First and last moment for which the certificate was made."""
    signed: datetime | None
    """When, by the signer's clock; nobody else vouches for it."""
    end: int
    """How many bytes of the file, from its first, are its own or held by it."""
    faults: tuple[str, ...]
    """Why it does not hold; nothing where it does."""
    certificates: tuple[bytes, ...]
    """The signer's certificate and those that go along, as DER."""


def signatures(data: bytes) -> tuple[Signature, ...]:
    """
    The signatures in a PDF, in the order they were made.

    Raises:
        UnreadableSignature: there is one that cannot be read.
    """
    if PLACE not in data:
        return ()
    try:
        return _found(data)
    except UnreadableSignature:
        # What was added behind a signature may keep the whole from being read, but not what was signed.
        for end in sorted({sum(map(int, one)) for one in _RANGES.findall(data)})[:MOST]:
            if end < len(data):
                with suppress(UnreadableSignature):
                    return _found(data[:end])
        raise


def _found(data: bytes) -> tuple[Signature, ...]:
    try:
        with _quiet():
            reader = PdfFileReader(BytesIO(data), strict=True)
            found = tuple(_read(one, data) for one in reader.embedded_signatures)
    except Exception as fault:  # the library tells damage by dozens of classes
        raise UnreadableSignature(str(fault).partition("\n")[0] or type(fault).__name__) from None
    if not found:
        raise UnreadableSignature("it belongs to no form field")
    return tuple(sorted(found, key=lambda one: one.end))


def vouched(signature: Signature, trusted: Sequence[bytes]) -> bool:
    """
    Whether a certificate authority that is trusted vouches for the signer, at the time told by the signer.

    Args:
        signature: The signature.
        trusted: Certificates as DER; those of authorities count.
    """
    roots = [one for one in map(x509.Certificate.load, trusted) if one.ca]
    if not roots or signature.signed is None:
        return False
    first, *others = (x509.Certificate.load(one) for one in signature.certificates)
    context = ValidationContext(trust_roots=roots, moment=signature.signed, allow_fetching=False)
    try:
        with _quiet():
            asyncio.run(CertificateValidator(first, others, context).async_validate_usage(set()))  # type: ignore[no-untyped-call]
    except (PathError, ValidationError, ValueError, TypeError, KeyError):
        return False
    return True


@contextmanager
def _quiet() -> Iterator[None]:
    """The libraries log what they refuse with tracebacks; here it becomes a verdict."""
    before = logging.root.manager.disable
    logging.disable(logging.CRITICAL)
    try:
        yield
    finally:
        logging.disable(before)


def _read(found: EmbeddedPdfSignature, data: bytes) -> Signature:
    certificates = (found.signer_cert, *_in_order(found))
    own = load_der_x509_certificate(certificates[0].dump())
    ranges = [int(number) for number in found.byte_range]
    return Signature(
        signatory_of(own),
        ", ".join(str(part.value) for part in reversed(list(own.issuer))),
        (own.not_valid_before_utc, own.not_valid_after_utc),
        _in_utc(found.self_reported_timestamp),
        sum(ranges[2:4]),
        tuple(_faults(found, certificates, ranges, data)),
        tuple(one.dump() for one in certificates),
    )


def _in_utc(moment: datetime | None) -> datetime | None:
    return moment.astimezone(UTC) if moment and moment.tzinfo else None


def _in_order(found: EmbeddedPdfSignature) -> list[x509.Certificate]:
    """The certificates beside the signer's, in the order in which the signed attribute names them."""
    named = [one["cert_hash"].native for one in _bound(found)]
    others = list(found.other_embedded_certs)
    return sorted(others, key=lambda one: named.index(one.sha256) if one.sha256 in named else len(named))


def _bound(found: EmbeddedPdfSignature) -> list[Any]:
    for attribute in found.signer_info["signed_attrs"]:
        if attribute["type"].native == "signing_certificate_v2":
            return list(attribute["values"][0]["certs"])
    return []


def _faults(
    found: EmbeddedPdfSignature, certificates: Sequence[x509.Certificate], ranges: list[int], data: bytes
) -> Sequence[str]:
    """Why a signature does not hold; the first reason is enough."""
    if not _all_but_itself(ranges, data):
        return (OTHER_RANGES,)
    context = ValidationContext(trust_roots=[certificates[0]], allow_fetching=False)
    status = validate_pdf_signature(found, context, skip_diff=True)
    if not status.intact:
        return (OTHER_BYTES,)
    if not status.valid:
        return (NO_SIGNATURE,)
    if data[ranges[1] : ranges[2]] != _as_written(found, certificates, ranges[2] - ranges[1]):
        return (OTHER_FORM,)
    return ()


def _all_but_itself(ranges: list[int], data: bytes) -> bool:
    """Whether the ranges leave out nothing but the hex string of the signature."""
    if len(ranges) != 4 or ranges[0] != 0 or min(ranges) < 0 or sum(ranges[2:]) > len(data):
        return False
    edges = all(before <= after for before, after in pairwise((0, ranges[1], ranges[2])))
    gap = data[ranges[1] : ranges[2]]
    return edges and gap[:1] == b"<" and gap[-1:] == b">" and _is_hex(gap[1:-1])


def _is_hex(text: bytes) -> bool:
    return len(text) % 2 == 0 and not set(text) - set(b"0123456789abcdefABCDEF")


def _as_written(found: EmbeddedPdfSignature, certificates: Sequence[x509.Certificate], room: int) -> bytes:
    """The place of a signature as this program fills it: what is signed, in the one way of writing it."""
    info = found.signer_info
    attributes = {one["type"].native: one["values"][0].native for one in info["signed_attrs"]}
    own, digest = certificates[0], {"algorithm": HASH}
    signer = cms.SignerInfo(
        {
            "version": "v1",
            "sid": cms.SignerIdentifier(
                {"issuer_and_serial_number": {"issuer": own.issuer, "serial_number": own.serial_number}}
            ),
            "digest_algorithm": digest,
            "signature_algorithm": {"algorithm": f"{HASH}_{_kind(own)}"},
            "signed_attrs": _attributes(attributes.get("message_digest", b""), certificates),
            "signature": _lowest(info["signature"].native, own),
        }
    )
    held = cms.SignedData(
        {
            "version": "v1",
            "digest_algorithms": [algos.DigestAlgorithm(digest)],
            "encap_content_info": {"content_type": "data"},
            "certificates": [cms.CertificateChoices("certificate", one) for one in certificates],
            "signer_infos": [signer],
        }
    )
    whole: bytes = cms.ContentInfo({"content_type": "signed_data", "content": held}).dump()
    return b"<" + whole.hex().upper().encode().ljust(room - 2, b"0") + b">"


def _attributes(digest: bytes, certificates: Sequence[x509.Certificate]) -> cms.CMSAttributes:
    return cms.CMSAttributes(
        [
            cms.CMSAttribute({"type": "content_type", "values": ["data"]}),
            cms.CMSAttribute({"type": "message_digest", "values": [digest]}),
            cms.CMSAttribute(
                {"type": "signing_certificate_v2", "values": [certificates_bound(certificates)]}
            ),
        ]
    )


def _kind(certificate: x509.Certificate) -> str:
    key = load_der_x509_certificate(certificate.dump()).public_key()
    return "rsa" if isinstance(key, RSAPublicKey) else "ecdsa"


def _lowest(signature: bytes, certificate: x509.Certificate) -> bytes:
    key = load_der_x509_certificate(certificate.dump()).public_key()
    return low(signature, key.curve.group_order) if isinstance(key, EllipticCurvePublicKey) else signature
