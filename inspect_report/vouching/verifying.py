"""Turns a file that somebody was handed into a verdict: genuine, altered or unknown, and why."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Final

from inspect_report.records.problem import some
from inspect_report.report.attaching import NoReadablePdf, attachments
from inspect_report.report.signing import grouped
from inspect_report.vouching.carried import Carried, carried
from inspect_report.vouching.signatures import PLACE, Signature, UnreadableSignature, signatures, vouched
from inspect_report.vouching.trust import Trusted
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
_AUTHORITY: Final = "who the signer is beyond what the one who issued the certificate has checked"
_WITHDRAWN: Final = (
    "whether the certificate has been withdrawn or its key was stolen: nobody was asked, no network is used"
)
_LATER: Final = "whether a later issue replaces it: ask the workshop, or give the later PDF behind --against"


@dataclass(frozen=True, slots=True)
class Reader:
    """What somebody who checks a file knows already."""

    trusted: tuple[Trusted, ...] = ()
    digest: str = ""
    """By which the report is known from elsewhere, such as a print on paper; 64 figures, or nothing."""


def verify_pdf(name: str, data: bytes, reader: Reader) -> Verdict:
    """
    Whether a PDF is as it was issued.

    Args:
        name: What the file is called.
        data: Its bytes.
        reader: What the reader knows already.

    Returns:
        Genuine only where one signature holds for every byte of the file, the signer is one whom the reader
        trusts, and the files that the PDF carries are those of its list.
    """
    found = _looked_into(name, data)
    if isinstance(found, Verdict):
        return found
    signed, held = found
    word, because = _decided(data, signed, held, reader)
    return Verdict(
        name, word, tuple(because), tuple(_facts(data, signed, held, reader)), tuple(_not_shown(signed, held))
    )


def looked_into(data: bytes) -> Carried | None:
    """What a PDF carries; nothing where it cannot be read."""
    try:
        return carried(attachments(data))
    except NoReadablePdf:
        return None


def _looked_into(name: str, data: bytes) -> tuple[tuple[Signature, ...], Carried] | Verdict:
    try:
        return signatures(data), carried(attachments(data))
    except UnreadableSignature as fault:
        why = f"it was signed, and its signature cannot be read any more: {fault}"
        return Verdict(name, "altered", (why,))
    except NoReadablePdf as fault:
        why = f"it cannot be read: {fault}"
        return Verdict(name, "altered" if PLACE in data else "unknown", (why,))


def _decided(
    data: bytes, signed: Sequence[Signature], held: Carried, reader: Reader
) -> tuple[Word, Sequence[str]]:
    changed = [*_changes(data, signed, held, reader), *held.faults]
    if changed:
        return "altered", changed
    if not signed:
        return "unknown", tuple(_unsigned(held))
    doubts = list(_doubts(signed[0], reader))
    if doubts:
        return "unknown", ("it has not been changed since it was signed", *doubts)
    known = trusted_by(signed[0], reader.trusted)
    return "genuine", (
        f"it is, byte for byte, as it was signed by {signed[0].signatory.name}, "
        f"whose certificate you trust by {known}",
    )


def _changes(data: bytes, signed: Sequence[Signature], held: Carried, reader: Reader) -> Iterator[str]:
    if signed:
        yield from signed[0].faults
        if signed[0].end != len(data):
            yield from _added(data, signed, held)
    elif held.signatory:
        yield f"its signature is gone: it was made to be signed by {held.signatory}, as its pages say, too"
    if reader.digest and reader.digest != held.digest:
        yield f"it is not the report you know: you gave the digest {reader.digest}"


def _added(data: bytes, signed: Sequence[Signature], held: Carried) -> Iterator[str]:
    """What came behind the first signature, as far as it can be told."""
    more = len(data) - signed[0].end
    yield f"{more} bytes were added behind what {signed[0].signatory.name} signed"
    for other in signed[1:]:
        yield f"among them a further signature, by {other.signatory.name}"
    before = looked_into(data[: signed[0].end])
    if before is not None:
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


def _doubts(signature: Signature, reader: Reader) -> Iterator[str]:
    first, last = signature.holds
    if signature.signed is None:
        yield "the signature tells no time, so nobody can say whether the certificate held then"
    elif not first <= signature.signed <= last:
        yield f"its certificate does not hold at the time the signer's clock told: {_span(signature)}"
    elif not trusted_by(signature, reader.trusted):
        yield (
            f"but you named no certificate you trust that vouches for {signature.signatory.name}: anyone can "
            "make one in that name; compare the fingerprint below with one that the workshop gives you by "
            "another way, then give it behind --trust"
        )


def trusted_by(signature: Signature, trusted: Sequence[Trusted]) -> str:
    """By which word of the reader a signer is trusted; empty where by none."""
    for one in trusted:
        if one.fingerprint == signature.signatory.fingerprint:
            return one.told_by
    for one in trusted:
        if one.certificate and vouched(signature, [one.certificate]):
            return f"{one.told_by}, which vouches for it"
    return ""


def _facts(
    data: bytes, signed: Sequence[Signature], held: Carried, reader: Reader
) -> Iterator[tuple[str, str]]:
    yield from told_of_itself(held)
    for number, one in enumerate(signed, 1):
        yield from _signer(one, "" if number == 1 else f" ({number})", reader)
    if not signed:
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


def _signer(one: Signature, behind: str, reader: Reader) -> Iterator[tuple[str, str]]:
    known = trusted_by(one, reader.trusted)
    yield f"signed by{behind}", one.signatory.name
    yield f"signed at{behind}", f"{_moment(one.signed)}, by the signer's own clock"
    yield f"certificate{behind}", f"SHA-256 {grouped(one.signatory.fingerprint)}"
    yield f"issued by{behind}", "the signer itself" if one.signatory.self_made else one.issuer
    yield f"holds{behind}", _span(one) + (", has run out since" if one.holds[1] < datetime.now(UTC) else "")
    yield (
        f"trusted{behind}",
        f"yes, by {known}" if known else "no: you named no certificate that vouches for it",
    )


def _span(one: Signature) -> str:
    return f"from {one.holds[0]:%Y-%m-%d} to {one.holds[1]:%Y-%m-%d}"


def _moment(moment: datetime | None) -> str:
    return f"{moment:%Y-%m-%d %H:%M:%S} UTC" if moment else "not told"


def _not_shown(signed: Sequence[Signature], held: Carried) -> Iterator[str]:
    yield _TRUTH
    if signed:
        yield _SELF_MADE if signed[0].signatory.self_made else _AUTHORITY
        yield _CLOCK
        yield _WITHDRAWN
    yield _LATER


def against_later(verdict: Verdict, held: Carried, later: Carried, later_name: str) -> Verdict:
    """
    A verdict on a report, with what a later report tells of it.

    A report lists the record of every issue it rests on, so a later one tells of an earlier rewritten.
    """
    name, digest = held.record()
    listed = later.listed.get(name)
    if listed is None:
        return replace(
            verdict, facts=(*verdict.facts, ("against", f"{later_name} does not rest on this report"))
        )
    which = f"{later_name} ({later.number}, issue {later.issue})"
    if listed != digest:
        why = f"{which} rests on another record of {held.number}, issue {held.issue}: {listed}"
        return replace(verdict, word="altered", because=(why, *verdict.because))
    facts = [("against", f"{which} rests on this record, unchanged")]
    replaces = later.head.get("replaces")
    if isinstance(replaces, dict) and later.number == held.number and replaces.get("issue") == held.issue:
        facts.append(("replaced by", f"issue {later.issue}: {replaces.get('reason', '')}"))
    left = tuple(one for one in verdict.not_shown if one != _LATER)
    return replace(verdict, facts=(*verdict.facts, *facts), not_shown=left)
