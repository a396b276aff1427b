"""Turns the table by which a maker selects bearing shells into classes of parts and a grade for each pair."""

from collections.abc import Iterable
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from inspect_report.records.shape import Record, Text, amount, refusal


class SizeClass(Record):
    """A class of housings or journals: the mark on the part, and the sizes it stands for where printed."""

    mark: Text
    low: amount("mm", above=0) | None = None  # type: ignore[valid-type]
    high: amount("mm", above=0) | None = None  # type: ignore[valid-type]

    @model_validator(mode="after")
    def _runs_upwards(self) -> Self:
        if (self.low is None) != (self.high is None) or (self.low and self.high and self.low > self.high):
            raise refusal(
                "K314",
                "class of sizes without two ends that run upwards",
                "'low' and 'high', the smaller first, or neither where the manual gives marks only",
                "add the end that is missing, or exchange the two",
            )
        return self


class ShellTable(Record):
    """
    Which shell belongs to which housing and journal of one kind of bearing.

    ``grades`` has a row for each class of housings and in it a grade for each class of journals.
    """

    bearing: Literal["main", "big-end"]
    housing: Annotated[tuple[SizeClass, ...], Field(min_length=1)]
    journal: Annotated[tuple[SizeClass, ...], Field(min_length=1)]
    grades: tuple[tuple[Text, ...], ...]
    thickness: dict[Text, amount("mm", above=0)] = {}  # type: ignore[valid-type]
    """Wall of a new shell of each grade at its crown, the middle of its range."""
    page: Text = ""

    @model_validator(mode="after")
    def _is_whole(self) -> Self:
        for classes, key in ((self.housing, "housing"), (self.journal, "journal")):
            _marks_once((c.mark for c in classes), key)
        whole = len(self.grades) == len(self.housing)
        if not whole or any(len(row) != len(self.journal) for row in self.grades):
            raise refusal(
                "K315",
                "table of shells with a cell too many or too few",
                f"{len(self.housing)} rows, one for each housing, of {len(self.journal)} grades, one for each"
                " journal",
                "compare it with the manual, row by row",
                key="grades",
            )
        return self


def _marks_once(marks: Iterable[str], key: str) -> None:
    listed = tuple(marks)
    twice = next((m for m in listed if listed.count(m) > 1), None)
    if twice is not None:
        raise refusal(
            "K312",
            f"{twice!r} written twice",
            "each mark once",
            "delete one, or tell them apart",
            key=key,
        )
