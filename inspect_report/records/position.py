"""Turns labels along axes into a place in an engine: cylinder 3, inlet valve 1, crankpin 2."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A place in an engine as labels along axes; both empty for the engine as a whole."""

    axes: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """Stable short form, ``2.in-1``; empty for the engine as a whole."""
        return ".".join(self.labels)

    @property
    def words(self) -> str:
        """The place as people say it, ``cylinder 2, exhaust valve 1``; empty for the engine as a whole."""
        return ", ".join(_said(axis, label) for axis, label in zip(self.axes, self.labels, strict=True))

    def label(self, axis: str) -> str | None:
        """The label along an axis, or None where the axis plays no part."""
        return self.labels[self.axes.index(axis)] if axis in self.axes else None

    def only(self, *axes: str) -> "Position":
        """This place seen along fewer axes, in the order they have here."""
        kept = [(a, n) for a, n in zip(self.axes, self.labels, strict=True) if a in axes]
        return Position(tuple(a for a, _ in kept), tuple(n for _, n in kept))

    def without(self, *axes: str) -> "Position":
        """This place with some axes left out."""
        return self.only(*(a for a in self.axes if a not in axes))

    def at(self, axis: str, label: str) -> "Position":
        """This place with one more axis behind."""
        return Position((*self.axes, axis), (*self.labels, label))


def _said(axis: str, label: str) -> str:
    word, _, number = label.rpartition("-") if label.rpartition("-")[2].isdigit() else (label, "", "")
    axis = axis.replace("-", " ")
    if label.isdigit():
        return f"{axis} {label}"
    return " ".join(part for part in (word.replace("-", " "), axis, number) if part)


ENGINE = Position()


def finding_id(characteristic: str, position: Position) -> str:
    """How a finding is named on every page and on the command line: ``valve-clearance.2.in-1``."""
    return f"{characteristic}.{position.id}" if position.labels else characteristic
