"""Turns the files that a PDF carries into what they say of it, and where they contradict each other."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from inspect_report.records.manifest import (
    LIST,
    NoList,
    digest_of,
    earlier_lists,
    list_name,
    read_list,
    record_of,
    unlike,
)
from inspect_report.report.carrying import ASSESSMENT, MADE, OWN, json_object, taken_out


@dataclass(frozen=True, slots=True)
class Carried:
    """What a PDF carries, as far as it can be read."""

    files: Mapping[str, bytes]
    listed: Mapping[str, str]
    """SHA-256 by name, from the list; empty where there is none."""
    head: Mapping[str, Any]
    """What the assessment, or else how the report was made, says of the inspection: number, issue, days."""
    made: Mapping[str, Any]
    """How the report was made."""
    faults: tuple[str, ...]
    """Where it contradicts itself, in sentences."""

    @property
    def manifest(self) -> str:
        return _text(self.files.get(LIST, b""))

    @property
    def digest(self) -> str:
        """What the report is known by; empty where it has no list."""
        return digest_of(self.files[LIST]) if self.listed else ""

    @property
    def number(self) -> str:
        return str(self.head.get("inspection", ""))

    @property
    def issue(self) -> int:
        issue = self.head.get("issue", 0)
        return issue if isinstance(issue, int) else 0

    @property
    def without_assessment(self) -> bool:
        """Whether only how it was made tells of it, since it carries no assessment."""
        return ASSESSMENT not in self.files

    @property
    def left_out(self) -> tuple[str, ...]:
        """Files of the list that the PDF does not carry."""
        return tuple(sorted(set(self.listed) - set(self.files)))

    @property
    def rests_on(self) -> dict[tuple[str, str], str]:
        """Digests of the records it rests on, by number and issue."""
        return earlier_lists(self.listed)

    @property
    def signatory(self) -> str:
        """Who was to sign it when it was made; empty where nobody."""
        told = self.made.get("signatory")
        return (str(told.get("name", "")) or "somebody without a name") if isinstance(told, dict) else ""

    def record(self) -> tuple[str, str]:
        """Name and digest under which a later issue lists this one."""
        return list_name(self.number, self.issue), digest_of(record_of(self.manifest).encode())


def carried(files: Mapping[str, bytes]) -> Carried:
    """What the files of a PDF say, and where they contradict each other."""
    assessment, made = json_object(files.get(ASSESSMENT)), json_object(files.get(MADE))
    listed, faults = _list(files)
    if listed:
        faults = [*faults, *_differences(files, listed, made), *_assessment_faults(files, assessment)]
    return Carried(files, listed, _head(assessment, made), made, tuple(faults))


def _head(assessment: Mapping[str, Any], made: Mapping[str, Any]) -> dict[str, Any]:
    """Number, issue and days by the assessment; without one, by how the report was made."""
    inspection = assessment.get("inspection")
    head = inspection.get("head") if isinstance(inspection, dict) else None
    if isinstance(head, dict):
        return head
    number, days = made.get("number"), {"issued": made.get("issued")}
    return {"inspection": number, "issue": made.get("issue"), "dates": days} if number else {}


def _list(files: Mapping[str, bytes]) -> tuple[dict[str, str], list[str]]:
    if LIST not in files:
        return {}, []
    try:
        return read_list(_text(files[LIST])), []
    except NoList:
        return {}, [f"{LIST}, the list of its files, is not as this program writes it"]


def _differences(
    files: Mapping[str, bytes], listed: Mapping[str, str], made: Mapping[str, Any]
) -> Iterator[str]:
    added, changed = unlike({name: data for name, data in files.items() if name not in OWN}, listed)
    yield from (f"{name} was added: the list of its files does not know it" for name in added)
    yield from (f"{name} was changed: its SHA-256 is not that of the list" for name in changed)
    if made.get("carry") == "all":
        left_out = made.get("left_out")
        known = {str(name) for name in left_out} if isinstance(left_out, list) else set[str]()
        yield from (f"{name} was taken out" for name in sorted(set(listed) - set(files) - known))
    yield from (f"{name} was taken out" for name in taken_out(files))


def _assessment_faults(files: Mapping[str, bytes], assessment: Mapping[str, Any]) -> Iterator[str]:
    if ASSESSMENT in files and assessment.get("manifest") != _text(files[LIST]):
        yield f"{ASSESSMENT} was changed, or the list was: it was made from other files than those listed"


def _text(data: bytes) -> str:
    return data.decode("utf-8", "replace")
