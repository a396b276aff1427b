"""Turns a file that somebody was handed into a verdict: genuine, altered or unknown, and why."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from inspect_report.records.problem import some
from inspect_report.report.attaching import NoReadablePdf, attachments
from inspect_report.report.signing import grouped
from inspect_report.vouching.carried import Carried, carried
from inspect_report.vouching.signatures import PLACE, Signature, UnreadableSignature, signatures
from inspect_report.vouching.trust import Trust, Trusted, trust_in
from inspect_report.vouching.verdict import Verdict, Word

PDF: Final = b"%PDF-"
_TRUTH: Final = (
    "that what it reports is true: a signature shows who stands behind a report, "
    "not that an engine was measured well"
)
_CLOCK: Final = (
    "when it was signed: the time is that of the signer's own clock, no third party vouches for it"
)
_SELF_MADE: Final = (
    "who the signer is: the certificate was made by the signer, and nobody else vouches for the name in it; "
    "compare its fingerprint with one that the workshop gives you by another way, such as its letter"
)
_UNPROVEN: Final = (
    "who the signer is: the certificate names as its issuer whomever its maker wrote into it, and you named "
    "no certificate of an authority that vouches for it; compare its fingerprint with one that the workshop "
    "gives you by another way, such as its letter"
)
_AUTHORITY: Final = "who the signer is beyond what the one who issued the certificate has checked"
_WITHDRAWN: Final = (
    "whether the certificate has been withdrawn or its key was stolen: nobody was asked, no network is used"
)
LATER: Final = "whether a later issue replaces it: ask the workshop, or give the later PDF behind --against"


@dataclass(frozen=True, slots=True)
class Reader:
    """What somebody who checks a file knows already."""

    trusted: tuple[Trusted, ...] = ()
    digest: str = ""
    """By which the report is known from elsewhere, such as a print on paper; 64 figures, or nothing."""


@dataclass(frozen=True, slots=True)
class Checked:
    """A PDF that was looked into."""

    verdict: Verdict
    held: Carried | None
    """What it carries; nothing where that cannot be read."""


@dataclass(frozen=True, slots=True)
class _Found:
    """What a PDF shows, and how far its reader trusts who signed."""

    data: bytes
    signed: tuple[Signature, ...]
    held: Carried
    trust: tuple[Trust, ...]
    """In each signer, in the order of the signatures."""
    digest: str
    """By which the reader knows the report, or nothing."""


def verify_pdf(name: str, data: bytes, reader: Reader) -> Verdict:
    """Whether a PDF is as it was issued, as ``check_pdf`` finds it."""
    return check_pdf(name, data, reader).verdict


def check_pdf(name: str, data: bytes, reader: Reader) -> Checked:
    """
    Whether a PDF is as it was issued, and what it carries.

    Args:
        name: What the file is called.
        data: Its bytes.
        reader: What the reader knows already.

    Returns:
        Genuine only where one signature holds for every byte of the file, the signer is one whom the reader
        trusts, and the files that the PDF carries are those of its list.
    """
    held = _held(data)
    known = None if isinstance(held, str) else held
    try:
        signed = signatures(data)
    except UnreadableSignature as fault:
        why = f"it was signed, and its signature cannot be read any more: {fault}"
        return Checked(Verdict(name, "altered", (why,)), known)
    if isinstance(held, str):
        word: Word = "altered" if PLACE in data else "unknown"
        return Checked(Verdict(name, word, (f"it cannot be read: {held}",)), None)
    trust = tuple(trust_in(one, reader.trusted) for one in signed)
    found = _Found(data, signed, held, trust, reader.digest)
    decided, because = _decided(found)
    return Checked(
        Verdict(name, decided, tuple(because), tuple(_facts(found)), tuple(_not_shown(found))), held
    )


def _held(data: bytes) -> Carried | str:
    """What a PDF carries, or why that cannot be read."""
    try:
        return carried(attachments(data))
    except NoReadablePdf as fault:
        return str(fault)


def _decided(found: _Found) -> tuple[Word, Sequence[str]]:
    changed = [*_changes(found), *found.held.faults]
    if changed:
        return "altered", changed
    if not found.signed:
        return "unknown", tuple(_unsigned(found.held))
    doubts = list(_doubts(found.signed[0], found.trust[0]))
    if doubts:
        return "unknown", ("it has not been changed since it was signed", *doubts)
    return "genuine", (
        f"it is, byte for byte, as it was signed by {found.signed[0].signatory.name}, "
        f"whose certificate you trust by {found.trust[0].by}",
    )


def _changes(found: _Found) -> Iterator[str]:
    signed, held = found.signed, found.held
    if signed:
        yield from signed[0].faults
        if signed[0].end != len(found.data):
            yield from _added(found.data, signed, held)
    elif held.signatory:
        yield f"its signature is gone: it was made to be signed by {held.signatory}, as its pages say, too"
    if found.digest and found.digest != held.digest:
        yield f"it is not the report you know: you gave the digest {found.digest}"


def _added(data: bytes, signed: Sequence[Signature], held: Carried) -> Iterator[str]:
    """What came behind the first signature, as far as it can be told."""
    more = len(data) - signed[0].end
    yield f"{more} bytes were added behind what {signed[0].signatory.name} signed"
    for other in signed[1:]:
        yield f"among them a further signature, by {other.signatory.name}"
    before = _held(data[: signed[0].end])
    if not isinstance(before, str):
        names = sorted({*before.files, *held.files})
        other_files = [name for name in names if before.files.get(name) != held.files.get(name)]
        if other_files:
            yield f"files it carries are others than those signed: {some(other_files)}"


def _unsigned(held: Carried) -> Iterator[str]:
    yield "it is not signed, so that nothing shows who made it"
    if held.digest:
        yield (
            "the files it carries are those of its list; but whoever changes them can write a new list, and "
            "pages can be changed alone"
        )
    else:
        yield "it carries no list of digests: it is no report of this program, or one made without evidence"


def _doubts(signature: Signature, trust: Trust) -> Iterator[str]:
    first, last = signature.holds
    if signature.signed is None:
        yield "the signature tells no time, so nobody can say whether the certificate held then"
    elif not first <= signature.signed <= last:
        yield f"its certificate does not hold at the time the signer's clock told: {_span(signature)}"
    elif not trust.by:
        yield (
            f"but you named no certificate you trust that vouches for {signature.signatory.name}: anyone can "
            "make one in that name; compare the fingerprint below with one that the workshop gives you by "
            "another way, then give it behind --trust"
        )


def _facts(found: _Found) -> Iterator[tuple[str, str]]:
    held = found.held
    yield from told_of_itself(held)
    for number, (one, trust) in enumerate(zip(found.signed, found.trust, strict=True), 1):
        yield from _signer(one, trust, "" if number == 1 else f" ({number})")
    if not found.signed:
        yield "signed by", "nobody"
    if held.files:
        yield "carries", f"{len(held.files)} files"
    if held.left_out:
        yield (
            "listed only",
            f"{some(held.left_out)}: their digests are in the list, the files are not carried",
        )


def told_of_itself(held: Carried) -> Iterator[tuple[str, str]]:
    """Number, issue, day and digest of a report, what replaces it, and what it rests on."""
    if held.number:
        yield "report", f"{held.number}, issue {held.issue}"
    elif held.listed:
        yield "report", "which one, what it carries does not tell"
    dates = held.head.get("dates")
    if isinstance(dates, dict) and dates.get("issued"):
        yield "issued", f"{dates['issued']}, as the report says"
    if held.digest:
        yield "digest", held.digest
    after = held.made.get("replaced_by")
    if isinstance(after, dict):
        yield "replaced by", f"issue {after.get('issue')} of {after.get('issued')}: {after.get('reason')}"
    for (number, issue), digest in held.rests_on.items():
        yield "rests on", f"{number}, issue {issue}, record {digest}"


def _signer(one: Signature, trust: Trust, behind: str) -> Iterator[tuple[str, str]]:
    yield f"signed by{behind}", one.signatory.name
    yield f"signed at{behind}", f"{_moment(one.signed)}, by the signer's own clock"
    yield f"certificate{behind}", f"SHA-256 {grouped(one.signatory.fingerprint)}"
    yield f"issued by{behind}", _issuer(one, trust)
    yield f"holds{behind}", _span(one) + (", has run out since" if one.holds[1] < datetime.now(UTC) else "")
    yield (
        f"trusted{behind}",
        f"yes, by {trust.by}" if trust.by else "no: you named no certificate that vouches for it",
    )


def _issuer(one: Signature, trust: Trust) -> str:
    if one.signatory.self_made:
        return "the signer itself"
    return one.issuer if trust.vouched else f"{one.issuer}, as the certificate says; not checked"


def _span(one: Signature) -> str:
    return f"from {one.holds[0]:%Y-%m-%d} to {one.holds[1]:%Y-%m-%d}"


def _moment(moment: datetime | None) -> str:
    return f"{moment:%Y-%m-%d %H:%M:%S} UTC" if moment else "not told"


def _not_shown(found: _Found) -> Iterator[str]:
    yield _TRUTH
    if found.signed:
        if found.signed[0].signatory.self_made:
            yield _SELF_MADE
        else:
            yield _AUTHORITY if found.trust[0].vouched else _UNPROVEN
        yield _CLOCK
        yield _WITHDRAWN
    yield LATER
