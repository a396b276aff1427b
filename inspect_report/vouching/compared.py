"""Turns a file that is no PDF into a verdict, by what the PDF of its report carries and lists."""

import re
from pathlib import PurePath
from typing import Final

from inspect_report.records.bare_picture import bare_picture
from inspect_report.records.manifest import digest_of
from inspect_report.report.carrying import ASSESSMENT, json_object
from inspect_report.vouching.carried import Carried
from inspect_report.vouching.verdict import Verdict, Word

_SHA: Final = re.compile(r"\b[0-9a-f]{64}\b")
_PAGES: Final = (".html", ".htm")
_ALONE: Final = (
    "anybody can change such a file, and nothing in it tells: give the PDF of its report behind --against, "
    "which carries or lists the files of the report"
)
_SCREEN: Final = (
    "what the page says: a page for a screen can be changed anywhere; only the PDF stands for its words"
)


def alone(name: str, data: bytes) -> Verdict:
    """The verdict on a file without the PDF of its report: unknown, with what it tells of itself."""
    facts = [("prints", f"digest {one}") for one in _digests(name, data)]
    return Verdict(name, "unknown", (_ALONE,), tuple(facts))


def compared(name: str, data: bytes, by: Verdict, held: Carried) -> Verdict:
    """
    The verdict on a file by the PDF of its report: never better than that on the PDF.

    Args:
        name: What the file is called.
        data: Its bytes.
        by: The verdict on the PDF.
        held: What the PDF carries.
    """
    digest = digest_of(data)
    facts = (("SHA-256", digest), *((f"{by.file}: {label}", text) for label, text in by.facts))
    word, because = _decided(name, data, digest, by, held)
    why = tuple(f"{by.file}: {one}" for one in by.because)
    not_shown = (_SCREEN, *by.not_shown) if _is_page(name) else by.not_shown
    return Verdict(name, word, (because, f"{by.file} is {by.word}", *why), facts, not_shown)


def _decided(name: str, data: bytes, digest: str, by: Verdict, held: Carried) -> tuple[Word, str]:
    same = [one for one, carried in held.files.items() if carried == data]
    if same:
        return by.word, f"it is, byte for byte, {same[0]}, which {by.file} carries"
    listed = [one for one, of in held.listed.items() if of == digest]
    if listed:
        return by.word, f"its SHA-256 is that of {listed[0]} in the list that {by.file} carries"
    bare = bare_picture(data)
    shown = [one for one, of in held.listed.items() if bare and of == digest_of(bare)]
    if shown:
        return by.word, f"without what the camera noted in it, it is {shown[0]} as {by.file} lists it"
    if _is_page(name):
        return _page(name, data, by, held)
    other = _namesake(name, data, held)
    if other == ASSESSMENT and ASSESSMENT not in held.files:
        return (
            "unknown",
            f"it holds the list of {by.file}, which carries no assessment to compare it with",
        )
    if other:
        return "altered", f"it is not {other} as {by.file} carries or lists it"
    return "unknown", f"it is none of the files that {by.file} carries or lists"


def _page(name: str, data: bytes, by: Verdict, held: Carried) -> tuple[Word, str]:
    if held.digest in _digests(name, data):
        return "unknown", f"it prints the digest of {by.file}; whether it says the same is not shown"
    return "altered", f"it does not print the digest of {by.file}: it is of another report, or was changed"


def _namesake(name: str, data: bytes, held: Carried) -> str:
    """The file that this one claims to be: by its name, or by what it says."""
    plain = PurePath(name).name
    for one in (*held.files, *held.listed):
        if PurePath(one).name == plain:
            return one
    said = json_object(data).get("manifest")
    if isinstance(said, str) and said and digest_of(said.encode()) == held.digest:
        return ASSESSMENT
    return ""


def _is_page(name: str) -> bool:
    return PurePath(name).suffix.lower() in _PAGES


def _digests(name: str, data: bytes) -> list[str]:
    """Digests by which a page or a JSON report may be known."""
    if _is_page(name):
        return list(dict.fromkeys(_SHA.findall(data.decode("utf-8", "replace"))))
    said = json_object(data).get("manifest")
    return [digest_of(said.encode())] if isinstance(said, str) and said else []
