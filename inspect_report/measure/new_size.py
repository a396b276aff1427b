"""Turns the rows of the spec sheet into the size a part had when new, as an input of a formula."""

from inspect_report.knowledge.case import row_for
from inspect_report.measure.bench import Bench
from inspect_report.measure.missing import MissingInput, in_words
from inspect_report.measure.uncertainty import Input
from inspect_report.mechanics import metrology
from inspect_report.records.position import Position
from inspect_report.records.specsheet import Characteristic
from inspect_report.telling.manner import say


def new_size(bench: Bench, characteristic: str, at: Position, dimension: str) -> Input:
    """
    The size a part had when new: the middle of its standard range, in doubt by half of it either way.

    Raises:
        MissingInput: neither a range with two ends nor a nominal size is known.
    """
    row = _row(bench, characteristic, at)
    name, source = (
        say("new {what}", what=in_words(characteristic)),
        say("standard range of {what}", what=in_words(characteristic)),
    )
    band = row.standard if row else None
    if band is not None and band.low is not None and band.high is not None:
        u = metrology.u_from_permissible_error((band.high - band.low) / 2.0)
        middle = (band.low + band.high) / 2.0
        return Input(middle, shared=u, source=source, name=name, dimension=dimension)
    if row is None or row.nominal is None:
        raise MissingInput(
            say("{what} of a new part is not in the spec sheet", what=in_words(characteristic)), optional=True
        )
    return Input(row.nominal, name=name, dimension=dimension)


def limit_is_printed(bench: Bench, characteristic: str, at: Position) -> bool:
    """Whether the spec sheet prints a limit for the size itself, so that its loss needs none."""
    row = _row(bench, characteristic, at)
    return row is not None and (row.limit is not None or row.wear is not None)


def _row(bench: Bench, characteristic: str, at: Position) -> Characteristic | None:
    found = row_for(bench.case.books, characteristic, at)
    return found[0] if found and found[1] == "spec sheet" else None
