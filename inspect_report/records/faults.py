"""Turns the faults met while a document is read into problems, each kept, none stopping the reading."""

from inspect_report.records.problem import Place, Problem, in_file_order
from inspect_report.records.yaml import Document, Path


class Faults:
    """Collects problems of one document."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self._problems: list[Problem] = []

    def add(
        self, code: str, title: str, path: Path, found: str, allowed: str, mend: str, *, at_key: bool = False
    ) -> None:
        """Note an error at a path of the document."""
        self._problems.append(self.document.problem(code, title, path, found, allowed, mend, at_key=at_key))

    def add_at(self, code: str, title: str, place: Place, found: str, allowed: str, mend: str) -> None:
        """Note an error at a place already known."""
        excerpt = self.document.excerpt(place)
        self._problems.append(Problem(code, "error", title, place, found, allowed, mend, excerpt))

    def add_warning(self, code: str, title: str, path: Path, found: str, allowed: str, mend: str) -> None:
        """Note something that does not forbid the report."""
        place = self.document.told_at(path)
        excerpt = self.document.excerpt(place)
        self._problems.append(Problem(code, "warning", title, place, found, allowed, mend, excerpt))

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What was noted, in file order."""
        return in_file_order(self._problems)
