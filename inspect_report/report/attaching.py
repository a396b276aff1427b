"""Turns files into attachments of a PDF that says what each is to it, and a PDF into its attachments."""

import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any, Final, Literal

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from inspect_report.records.problem import InspectReportError

Relationship = Literal["Source", "Data", "Supplement"]
"""What a file is to the PDF (ISO 19005-3, 6.8): what it was made from, data it shows, or what goes along."""
KINDS: Final = {
    "yaml": "application/yaml",
    "yml": "application/yaml",
    "json": "application/json",
    "jpg": "image/jpeg",
    "jpeg": "image/jpeg",
    "png": "image/png",
    "webp": "image/webp",
    "html": "text/html",
    "css": "text/css",
    "toml": "application/toml",
}
OTHER: Final = "text/plain"
MOST: Final = 2_000
"""Attachments that are looked into; a report carries some dozens."""
MOST_BYTES: Final = 500_000_000
"""Bytes of attachments, unpacked, that are looked into."""
MOST_OF_FILE: Final = 2_000_000_000
"""Bytes of a PDF, or of another file that somebody was handed, up to which it is opened."""


class UnreadableFile(InspectReportError):
    """A file that was named cannot be read: the message says which, why and what to do; exit code 2."""

    def __init__(self, file: Path, why: str) -> None:
        self.why = why
        super().__init__(f"{file}: cannot be read: {why}; check name and folder")


def bytes_of(file: Path) -> bytes:
    """
    The bytes of a file that somebody was handed.

    Raises:
        UnreadableFile: it cannot be read, or is larger than can be looked into.
    """
    try:
        if file.stat().st_size > MOST_OF_FILE:
            raise UnreadableFile(file, f"it is larger than {MOST_OF_FILE // 1_000_000:,} MB")
        return file.read_bytes()
    except OSError as fault:
        raise UnreadableFile(file, fault.strerror or type(fault).__name__) from None


class NoReadablePdf(ValueError):
    """Bytes that are no PDF, or one whose attachments cannot be read; the message says what."""


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that travels inside the PDF: its name, what it is, its bytes and the day it is dated."""

    name: str
    """From the folder of the inspection, folders parted by strokes."""
    description: str
    data: bytes
    day: str
    """Day as year-month-day."""
    relationship: Relationship = "Source"


def attach(pdf: Pdf, files: Sequence[Attached]) -> None:
    """Put files into an open PDF that has none yet, listed by name."""
    if not files:
        return
    specs = {file.name.encode(): pdf.make_indirect(_spec(pdf, file)) for file in files}
    if "/Names" not in pdf.Root:
        pdf.Root.Names = Dictionary()
    named = [thing for name in sorted(specs) for thing in (String(name), specs[name])]
    pdf.Root.Names.EmbeddedFiles = Dictionary(Names=Array(named))
    pdf.Root.AF = Array([specs[file.name.encode()] for file in files])


def _spec(pdf: Pdf, file: Attached) -> Dictionary:
    kind = KINDS.get(file.name.rpartition(".")[2].lower(), OTHER)
    day = f"D:{file.day.replace('-', '')}000000Z"
    data = pdf.make_indirect(
        Stream(
            pdf,
            file.data,
            Type=Name.EmbeddedFile,
            Subtype=Name(f"/{kind}"),
            Params=Dictionary(Size=len(file.data), CreationDate=String(day), ModDate=String(day)),
        )
    )
    return Dictionary(
        Type=Name.Filespec,
        F=String(file.name),
        UF=String(file.name),
        Desc=String(file.description),
        AFRelationship=Name(f"/{file.relationship}"),
        EF=Dictionary(F=data, UF=data),
    )


def attachments(data: bytes) -> dict[str, bytes]:
    """
    The files that a PDF carries, by name.

    Args:
        data: A PDF, from whomever: its names are as they stand there, and may lead anywhere.

    Raises:
        NoReadablePdf: it is no PDF, is damaged, names a file twice, or carries more than can be looked into.
    """
    try:
        with Pdf.open(BytesIO(data)) as pdf:
            return _files(pdf)
    except NoReadablePdf:
        raise
    except pikepdf.PasswordError:
        raise NoReadablePdf("it is locked by a password") from None
    except (pikepdf.PdfError, OverflowError, RecursionError, zlib.error):
        raise NoReadablePdf("it is no PDF, or damaged") from None
    except (TypeError, KeyError, AttributeError, IndexError, ValueError):
        raise NoReadablePdf("its list of attachments is damaged") from None


def _files(pdf: Pdf) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    left = MOST_BYTES
    for spec in _specs(pdf):
        name = str(spec.UF if "/UF" in spec else spec.F)
        data = _unpacked(spec.EF.F, left, name)
        left -= len(data)
        if name in found:
            raise NoReadablePdf(f"it carries two files named {name!r}")
        found[name] = data
    return found


def _specs(pdf: Pdf) -> Iterator[Any]:
    """The attachments in the order of their list, which may be a tree."""
    tree: Any = pdf.Root.get("/Names", Dictionary()).get("/EmbeddedFiles")
    waiting = [] if tree is None else [tree]
    count = 0
    for branch in waiting:
        waiting.extend(branch.get("/Kids", ()))
        for spec in list(branch.get("/Names", ()))[1::2]:
            count += 1
            yield spec
        if max(count, len(waiting)) > MOST:
            raise NoReadablePdf(f"it carries more than {MOST:,} files")


def _unpacked(stream: Any, most: int, name: str) -> bytes:
    """The bytes of an attachment, never more than can be looked into, however small they are packed."""
    packed, way = bytes(stream.read_raw_bytes()), stream.get("/Filter")
    ways = [] if way is None else list(way) if isinstance(way, Array) else [way]
    if ways == []:
        data = packed
    elif ways == [Name.FlateDecode] and stream.get("/DecodeParms") is None:
        data = zlib.decompressobj().decompress(packed, most + 1)
    else:
        raise NoReadablePdf(f"its file {name!r} is packed in a way that no report of this program is")
    if len(data) > most:
        raise NoReadablePdf(f"its files are larger than {MOST_BYTES // 1_000_000:,} MB")
    return data
