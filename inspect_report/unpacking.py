"""
Turns the PDF of a report into a folder of the files it carries, and these into the same report again.

A PDF may come from anybody: what it names is looked at before anything is written, and nothing is believed
but what its list of digests and the report made again bear out.
"""

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING, Final

from pydantic import ValidationError

from inspect_report.knowledge.evidence import TEMPLATES, evidence
from inspect_report.knowledge.shelf import load
from inspect_report.pipeline import assess
from inspect_report.records.bare_picture import bare_picture
from inspect_report.records.manifest import LIST, NoList, digest_of, read_list, unlike
from inspect_report.records.problem import InspectReportError, printable, some
from inspect_report.report.attaching import NoReadablePdf, UnreadableFile, attachments, bytes_of
from inspect_report.report.carrying import ASSESSMENT, MADE, OWN, HowMade, how_made, taken_out
from inspect_report.report.new_folder import begun, is_taken
from inspect_report.report.pdf import libraries
from inspect_report.report.render import render
from inspect_report.report.signing import Signing
from inspect_report.report.writing import write_all
from inspect_report.version import __version__

if TYPE_CHECKING:
    from concurrent.futures import Executor

AGAIN: Final = "made-again"
"""Folder, within that of the files, of the report made again from them."""
LONGEST: Final = 255
"""Bytes that a file system takes for one part of a name."""
MOST_SHOWN: Final = 60
"""Characters of what stands in a PDF that a message repeats."""
_ODD: Final = re.compile(r"[\x00-\x1f\x7f\\]")


class CannotUnpack(InspectReportError):
    """A PDF is not unpacked, or its report not made again: the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Unpacked:
    """What came out of a PDF."""

    folder: Path
    data: bytes
    """The PDF itself."""
    files: Mapping[str, bytes]
    """By name, as they were carried."""
    altered: tuple[str, ...]
    """What is not as the list says, in sentences."""
    missing: tuple[str, ...]
    """Names that are listed and neither carried nor found elsewhere."""

    @property
    def digest(self) -> str:
        """Digest of the report, from its list; empty where it carries none."""
        return digest_of(self.files[LIST]) if LIST in self.files else ""


@dataclass(frozen=True, slots=True)
class Likeness:
    """Whether one format of a report made again is the same."""

    format: str
    same: bool | None
    """``None`` where there is nothing to compare it with."""
    note: str = ""
    behind: int = 0
    """Bytes behind what is the same, which nothing is compared with."""


def unpack(pdf: Path, out: Path, missing_from: Path | None = None) -> Unpacked:
    """
    Write the files that a PDF carries into a new folder, each under its name.

    Args:
        pdf: The PDF of a report.
        out: The folder; one that holds something is refused.
        missing_from: Folder with files that are listed but not carried, under the names of the list; such as
            are not as listed are not taken.

    Raises:
        CannotUnpack: the PDF is none or damaged, carries nothing, or a name in it would lead out of the
            folder; nothing was written.
        UnreadableFile: the PDF, or a file that is to be taken from elsewhere, cannot be read; as before.
        CannotRender: the folder cannot be written.
    """
    if is_taken(out):
        raise CannotUnpack(f"{out} exists already and is not empty; name a new folder, nothing was written")
    data = bytes_of(pdf)
    return laid_out(pdf, data, _carried(pdf, data), out, missing_from)


def laid_out(
    pdf: Path, data: bytes, files: Mapping[str, bytes], out: Path, missing_from: Path | None = None
) -> Unpacked:
    """
    As ``unpack``, of a PDF that was looked into already.

    Args:
        pdf: What the PDF is called.
        data: Its bytes.
        files: What it carries.
        out: As in ``unpack``.
        missing_from: As in ``unpack``.
    """
    listed = _listed(files)
    found = _found(listed, files, missing_from)
    whole = {**files, **found}
    _refuse_odd_names(pdf, whole)
    with begun(out) as folder:
        write_all({folder / name: data for name, data in whole.items()})
    missing = tuple(name for name in listed if name not in whole)
    return Unpacked(out, data, whole, tuple(_altered(files, listed)), missing)


def make_again(unpacked: Unpacked, pdf: Path, beside: "Executor | None" = None) -> tuple[Likeness, ...]:
    """
    Make the report again from the files it carried, and compare.

    Args:
        unpacked: The files.
        pdf: The PDF they came from; an HTML page beside it is compared as well.
        beside: As in ``render``.

    Returns:
        JSON, PDF and HTML; of a PDF that was to be signed what was made before the signature is compared.

    Raises:
        CannotUnpack: the PDF does not say how it was made, or not all files are there.
        InvalidInput: the files are no inspection that can be reported.
        CannotRender: as ``render``.
    """
    how = _how_made(unpacked, pdf)
    case = load(unpacked.folder / how.inspection)
    own = unpacked.folder / TEMPLATES
    templates = own if own.is_dir() else None
    again = render(
        assess(case, how.language, how.units),
        unpacked.folder / AGAIN,
        kind=how.kind,
        templates=templates,
        beside=beside,
        evidence=evidence(case, templates),
        carry=how.carry,
        signing=Signing(how.signatory, lambda unsigned: unsigned) if how.signatory else None,
        replaced_by=how.replaced_by,
    )
    made = {path.suffix[1:]: path.read_bytes() for path in again}
    return (
        _json(unpacked.files.get(ASSESSMENT), made["json"]),
        _pdf(unpacked.data, made["pdf"], signed=how.signatory is not None),
        _html(pdf.with_suffix(".html"), made["html"]),
    )


def why_others(unpacked: Unpacked) -> tuple[str, ...]:
    """What about this program may make pages other than they were: another version, other libraries."""
    how = how_made(unpacked.files[MADE])
    then = {"inspect-report": how.program, **how.libraries}
    now = {"inspect-report": __version__, **libraries()}
    return tuple(
        f"{name} {_short(then.get(name, 'not named'))}, here {version}"
        for name, version in now.items()
        if then.get(name) != version
    )


def _carried(pdf: Path, data: bytes) -> dict[str, bytes]:
    try:
        files = attachments(data)
    except NoReadablePdf as fault:
        raise CannotUnpack(f"{pdf} cannot be unpacked: {fault}; nothing was written") from None
    if not files:
        raise CannotUnpack(f"{pdf} carries no files; name the PDF of a report, nothing was written")
    return files


def _listed(files: Mapping[str, bytes]) -> dict[str, str]:
    """Digests by name; none where the PDF carries no list, or one that is none."""
    try:
        return read_list(files.get(LIST, b"").decode("utf-8"))
    except (NoList, UnicodeDecodeError):
        return {}


def _found(listed: Mapping[str, str], files: Mapping[str, bytes], folder: Path | None) -> dict[str, bytes]:
    """Files that are listed, not carried and lie elsewhere as they are listed."""
    if folder is None:
        return {}
    if not folder.is_dir():
        raise CannotUnpack(
            f"--missing-from {folder}: is no folder; name the one with the files that are not carried, "
            "nothing was written"
        )
    wanted = {name: digest for name, digest in listed.items() if name not in files and not _fault_of(name)}
    found = {}
    for name, digest in wanted.items():
        for candidate in _as_they_may_be(folder / name):
            if digest_of(candidate) == digest:
                found[name] = candidate
    return found


def _as_they_may_be(path: Path) -> Iterator[bytes]:
    """A file as it lies, and a picture without the camera's notes; nothing where none is there."""
    try:
        there = path.is_file()
    except OSError as fault:
        raise UnreadableFile(path, fault.strerror or type(fault).__name__) from None
    if there:
        data = bytes_of(path)
        yield data
        yield from filter(None, (bare_picture(data),))


def _altered(files: Mapping[str, bytes], listed: Mapping[str, str]) -> Iterator[str]:
    """What is not as the list says; the list itself is what the digest is of."""
    if not listed:
        yield f"it carries no list of digests ({LIST}), so nobody can tell whether its files were altered"
        return
    added, changed = unlike({name: data for name, data in files.items() if name not in OWN}, listed)
    yield from (f"{name}: carried, but not in the list" for name in added)
    yield from (f"{name}: not as it was listed; it was altered, or the list was" for name in changed)
    yield from (f"{name}: every report carries it; it was taken out" for name in taken_out(files))


def _refuse_odd_names(pdf: Path, files: Mapping[str, bytes]) -> None:
    faults = [f"{name!r}: {fault}" for name in files if (fault := _fault_of(name))]
    faults += _clashes(files)
    if faults:
        listed = "\n".join(f"  {fault}" for fault in faults[:10])
        more = f"\n  and {len(faults) - 10} more" if len(faults) > 10 else ""
        raise CannotUnpack(
            f"{pdf}: names of its files that no report has; nothing was written:\n{listed}{more}"
        )


def _fault_of(name: str) -> str:
    """Why a file may not be written under its name; empty where it may."""
    parts = name.split("/")
    if PurePosixPath(name).is_absolute() or PureWindowsPath(name).drive or ".." in parts:
        return "leads out of the folder"
    if _ODD.search(name) or not all(part.strip(" .") for part in parts):
        return "holds a sign or a part that names of files do not hold"
    if any(len(os.fsencode(part)) > LONGEST for part in parts) or len(os.fsencode(name)) > 4 * LONGEST:
        return "is too long"
    return f"lies in {AGAIN}, where the report is made again" if parts[0] == AGAIN else ""


def _clashes(files: Mapping[str, bytes]) -> Iterator[str]:
    """Names of which only one can be written, on a system that knows no capitals, or on any."""
    seen: dict[str, str] = {}
    folders = {str(folder).casefold() for name in files for folder in PurePosixPath(name).parents}
    for name in files:
        small = name.casefold()
        if small in seen:
            yield f"{name!r}: the same as {seen[small]!r} but for capitals"
        if small in folders:
            yield f"{name!r}: a file and a folder"
        seen[small] = name


def _how_made(unpacked: Unpacked, pdf: Path) -> HowMade:
    if unpacked.missing:
        raise CannotUnpack(
            f"{pdf}: the report cannot be made again, since it rests on files that it does not carry: "
            f"{printable(some(unpacked.missing))}. Name the folder that holds them with --missing-from."
        )
    if LIST not in unpacked.files or taken_out(unpacked.files):
        raise CannotUnpack(f"{pdf}: does not carry all that its report rests on, so it cannot be made again")
    try:
        how = how_made(unpacked.files[MADE])
    except ValidationError:
        raise CannotUnpack(f"{pdf}: {MADE} does not say how the report was made; it was altered") from None
    if how.inspection not in unpacked.files:
        raise CannotUnpack(f"{pdf}: {MADE} names the inspection {how.inspection!r}, which it does not carry")
    return how


def _json(before: bytes | None, now: bytes) -> Likeness:
    if before is None:
        return Likeness("JSON", same=None, note="the PDF does not carry it")
    if before == now:
        return Likeness("JSON", same=True)
    lines = zip(before.splitlines(), now.splitlines(), strict=False)
    number, (was, is_now) = next(
        ((n, pair) for n, pair in enumerate(lines, 1) if pair[0] != pair[1]), (1, (before[:60], now[:60]))
    )
    told = f"line {number}: {_line(was)} in the PDF, {_line(is_now)} made again"
    return Likeness("JSON", same=False, note=told)


def _line(line: bytes) -> str:
    return _short(line.decode("utf-8", errors="replace").strip())


def _short(text: str) -> str:
    """Something of a PDF, which may hold anything, for one line of a terminal."""
    return printable(text if len(text) <= MOST_SHOWN else f"{text[: MOST_SHOWN - 1]}…")


def _pdf(before: bytes, now: bytes, *, signed: bool) -> Likeness:
    """What stands behind the part that is the same may be a signature only where there was to be one."""
    if before == now:
        return Likeness("PDF", same=True)
    if signed and before.startswith(now):
        more = len(before) - len(now)
        told = f"{more:,} bytes behind it are not compared; `verify` tells what they are"
        return Likeness("PDF", same=True, note=told, behind=more)
    return Likeness("PDF", same=False, note=f"{len(before):,} bytes, {len(now):,} made again")


def _html(beside: Path, now: bytes) -> Likeness:
    if not beside.is_file():
        return Likeness("HTML", same=None, note=f"{beside.name} does not lie beside the PDF")
    try:
        return Likeness("HTML", same=bytes_of(beside) == now)
    except UnreadableFile as fault:
        return Likeness("HTML", same=None, note=f"{beside.name} cannot be read: {fault.why}")


def told_unpacking(unpacked: Unpacked, pdf: Path) -> tuple[str, str]:
    """What was unpacked, and what of it is not as it should be, for a terminal."""
    listed = f"digest {unpacked.digest}" if unpacked.digest else "without a digest"
    said = [f"{unpacked.folder}: {len(unpacked.files)} files of {pdf.name}, {listed}"]
    if unpacked.missing:
        said.append(f"listed, but not carried: {printable(some(unpacked.missing))}")
    elif not unpacked.altered:
        said.append("every file is as it was listed")
    return "\n".join(said), "\n".join(f"{pdf}: {printable(fault)}" for fault in unpacked.altered)


def told_again(unpacked: Unpacked, pdf: Path, likenesses: Sequence[Likeness]) -> tuple[str, str]:
    """Which formats are the same, and what is not and why that may be, for a terminal."""
    said = [f"{unpacked.folder / AGAIN}: the report made again"]
    for one in likenesses:
        how = {True: "the same, byte for byte", False: "NOT the same", None: "not compared"}[one.same]
        said.append(f"  {one.format:<5}{how}{f' ({one.note})' if one.note else ''}")
    others = [one.format for one in likenesses if one.same is False]
    if not others:
        return "\n".join(said), ""
    why = "; ".join(why_others(unpacked))
    told = (
        f"That may be since the report was made with {why}."
        if why
        else "It was made by this version with the same libraries, so one of the files was altered since."
    )
    return "\n".join(said), f"{pdf}: its files do not give the same {' and '.join(others)}. {told}"
