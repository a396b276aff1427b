"""Turns checklists, catalogue and docstrings into a page for each quantity: how it is measured and made."""

import sys
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from inspect_report.knowledge.catalogue import Catalogue, Known
from inspect_report.measure.formulas import FORMULAS, Formulas
from inspect_report.measure.plain import READ
from inspect_report.mechanics import (
    atmosphere,
    evidence,
    metrology,
    outliers,
    slidercrank,
    squish,
    trend,
    valvetrain,
)
from inspect_report.places import knowledge_dir, methods_dir
from inspect_report.records.checklist import Checklist, Item
from inspect_report.records.shape import M, read_as, read_file
from inspect_report.report.docstring import FormulaDoc, formula_doc
from inspect_report.report.formula_text import plain_formula
from inspect_report.report.words import capital, sentence
from inspect_report.telling.positions import plain_name

INDEX: Final = "README.md"
_MADE: Final = "Made by `python -m inspect_report.report.methodbook`; do not edit."

Page = tuple[str, str]
"""Name of a quantity or method, and the text of its page."""

METHODS: Final[Mapping[str, tuple[str, str, Formulas]]] = {
    "air-of-the-day": (
        "Air of the day",
        "The pressure and temperature of the air on the day, measured or from the altitude; leaks and "
        "compression readings are told by them.",
        (
            atmosphere.pressure_of_the_day,
            atmosphere.standard_pressure,
            atmosphere.pressure_ratio,
            atmosphere.density_ratio_of_the_day,
        ),
    ),
    "shim-to-fit": (
        "Shim to fit",
        "The shim that brings a valve's gap back into its range, from those in the engine, in the workshop's "
        "box and on sale.",
        (
            valvetrain.shim_needed,
            valvetrain.predicted_gap,
            valvetrain.shim_sizes,
        ),
    ),
    "gasket-to-fit": (
        "Head gasket to fit",
        "The thinnest grade on sale that keeps the squish gap above its floor and the ratio below its "
        "ceiling.",
        (squish.squish_gap, squish.gasket_volume, slidercrank.compression_ratio),
    ),
    "uncertainty": (
        "Uncertainty of measurement",
        "How surely a value is known: from the gauge's step and permissible error and from repeats, carried "
        "through the formula.",
        (
            metrology.u_from_resolution,
            metrology.u_from_permissible_error,
            metrology.u_from_repeats,
            metrology.contributions,
            metrology.combine,
            metrology.welch_satterthwaite,
            metrology.coverage_factor,
            metrology.expanded,
        ),
    ),
    "conformity": (
        "Conformity with a limit",
        "The probability that the true value keeps its limit; the workshop's decision rule makes a verdict "
        "of it.",
        (metrology.probability_inside,),
    ),
    "outlier": (
        "Cylinder that stands apart",
        "Whether one of some like readings lies farther from the others than chance explains. Three or four "
        "values decide little.",
        (outliers.grubbs_test, outliers.grubbs_statistic, outliers.grubbs_critical),
    ),
    "weight-of-evidence": (
        "Weight of evidence",
        "How strongly what was found speaks for each explanation of a diagnosis. Every cause begins with how "
        "often it is met; each sign that was looked at adds its weight in decibans, ten times the common "
        "logarithm of how many times more often it is seen with the cause than without. The shares are data "
        "of the rulebook, in words such as mostly and rarely, estimates of the trade from memory. A measured "
        "sign counts by the probability that the true value shows it, so that an undecided reading weighs "
        "less, and one that could as well lie on either side nothing. What was not looked at weighs nothing. "
        "The sum is told from 3 decibans (two to one) as pointing to a cause, or below -3 as speaking "
        "against it, from 10 (ten to one) as doing so strongly, and between as open. Odds never go beyond 20 "
        "decibans, 99 to 1: shares from memory carry no more. The next best check is the one not yet made "
        "whose signs are expected to settle most, in bits summed over the explanations.",
        (
            evidence.weight_of_evidence,
            evidence.decibans_of,
            evidence.probability_of,
            evidence.entropy,
            evidence.expected_information,
        ),
    ),
    "forecast": (
        "Forecast of wear",
        "Where readings over running time meet their limit, with the stretch in which they may meet it.",
        (trend.straight_line, trend.weights_from_uncertainties, trend.prediction, trend.crossing),
    ),
}
"""What is no reading and no characteristic, and yet stands on a report: name, what it is, formulas."""


def pages() -> tuple[Page, ...]:
    """Every page, quantities in the order of the characteristics book, then the methods."""
    book = _shipped(Catalogue, "characteristics.yaml")
    lists = tuple(_shipped(Checklist, f"checklists/{name}.yaml") for name in ("four-stroke", "two-stroke"))
    quantities = ((k.id, "\n".join(_quantity(k, lists))) for k in book.characteristics if _measured(k, lists))
    methods = ((name, "\n".join(_method(*told))) for name, told in METHODS.items())
    return (*quantities, *methods)


def _shipped(model: type[M], name: str) -> M:
    read = read_as(model, read_file(knowledge_dir() / name))
    if read.value is None:
        raise SystemExit(f"{name} has faults; 'inspect-report check' tells them")
    return read.value


def _measured(known: Known, lists: Sequence[Checklist]) -> bool:
    """Whether it is a number: made by a formula, or read with an instrument."""
    return known.id in FORMULAS or any(item.kind in READ for item in _items(known.id, lists))


def _items(item_id: str, lists: Sequence[Checklist]) -> tuple[Item, ...]:
    """The item of an id in the checklists that have it; what they say alike is told once."""
    found = (checklist.item(item_id) for checklist in lists)
    return tuple({_asked(i) + _valid_item(i): i for i in found if i is not None}.values())


def _quantity(known: Known, lists: Sequence[Checklist]) -> Iterator[str]:
    yield f"# {known.name}\n"
    yield f"`{known.id}`: {sentence(known.plain)}{_told_in(known)}\n"
    yield "## How it is measured\n"
    items = [item for item_id in known.needs or (known.id,) for item in _items(item_id, lists)]
    yield from dict.fromkeys(_asked(item) for item in items)
    yield ""
    formulas = [formula_doc(f) for f in FORMULAS.get(known.id, ())]
    yield from _formulas(formulas)
    yield "## Range of validity\n"
    yield from dict.fromkeys(_valid_item(item) for item in items if item.range)
    yield from _validity(formulas)
    yield "\n## Uncertainty\n"
    yield f"{_THROUGH if formulas or known.needs else _DIRECT}\n"
    yield from _sources(formulas)


_PARTS: Final = (
    "`inspect-report why FILE FINDING --budget` prints the parts; `inspect-report method uncertainty` tells "
    "the formulas."
)
_DIRECT: Final = (
    "That of the gauge: its step d gives d/(2√3), its permissible error ±a gives a/√3, n repeats give s/√n; "
    f"root sum of squares. {_PARTS}"
)
_THROUGH: Final = (
    "Each reading's own, from the gauge's step d as d/(2√3), its permissible error ±a as a/√3 and n repeats "
    "as s/√n, carried through the formula to first order. What one gauge gets wrong at several readings is "
    "counted once: it falls out of a difference and adds up in a sum. Sizes of the spec sheet count as "
    f"exact. {_PARTS}"
)


def _told_in(known: Known) -> str:
    unit = f" Told in {known.unit}" if known.unit not in ("", "1") else " Told as a plain number"
    where = f", for each {' and '.join(known.axes)}" if known.axes else ""
    wears = {"up": "; grows with wear", "down": "; shrinks with wear"}.get(known.wears, "")
    return f"{unit}{where}{wears}."


def _asked(item: Item) -> str:
    tool = f", with a {item.instrument}" if item.instrument else ""
    hint = f" {sentence(item.hint)}" if item.hint else ""
    unit = f" in {item.unit}" if item.unit else ", a count" if item.kind == "count" else ""
    return f"- `{item.id}`{unit}{tool}: {sentence(item.asks)}{hint}"


def _valid_item(item: Item) -> str:
    low, high = item.range or ("", "")
    unit = f" {item.unit}" if item.unit else ""
    return f"- `{item.id}`: {low} to {high}{unit}; beyond that a unit is mistaken or a point has slipped."


def _formulas(docs: Sequence[FormulaDoc]) -> Iterator[str]:
    yield "## Formula\n"
    if not docs:
        yield "None: the reading as it stands, the mean of its repeats.\n"
    for doc in docs:
        yield f"**{capital(plain_name(doc.name.rpartition('.')[2]))}** (`{doc.name}`). {doc.sentence}\n"
        yield f"    {plain_formula(doc.typeset)}\n"
        yield f"$$ {doc.typeset} $$\n"
        yield from (f"- `{name}`: {told}" for name, told in doc.arguments)
        yield f"- gives: {doc.gives}\n"


def _validity(docs: Sequence[FormulaDoc]) -> Iterator[str]:
    for doc in docs:
        refused = f" Refused: {doc.raises}" if doc.raises else ""
        yield f"- {plain_name(doc.name.rpartition('.')[2])}: {doc.holds_for}{refused}"


def _sources(docs: Sequence[FormulaDoc]) -> Iterator[str]:
    yield "## Source\n"
    if not docs:
        yield "Read as it stands; its limit names its own source, work and page."
    for doc in docs:
        checked = f" Checked in `{doc.checked_in}`." if doc.checked_in else ""
        yield f"- {plain_name(doc.name.rpartition('.')[2])}: {doc.source}{checked}"


def _method(name: str, told: str, formulas: Formulas) -> Iterator[str]:
    docs = [formula_doc(f) for f in formulas]
    yield f"# {name}\n"
    yield f"{told}\n"
    yield from _formulas(docs)
    yield "## Range of validity\n"
    yield from _validity(docs)
    yield ""
    yield from _sources(docs)


def index(made: Sequence[Page]) -> str:
    """The list of all pages."""
    lines = (f"- [{name}]({name}.md): {_title(text)}" for name, text in made)
    told = "`inspect-report method NAME` prints a page on the terminal."
    return "\n".join(("# How each quantity is measured\n", f"{_MADE} {told}\n", *lines)) + "\n"


def _title(text: str) -> str:
    return text.partition("\n")[0].removeprefix("# ")


def files() -> dict[str, str]:
    """Name and text of every file of the folder."""
    made = pages()
    return {INDEX: index(made), **{f"{name}.md": text.rstrip("\n") + "\n" for name, text in made}}


def main() -> int:
    """Write the folder anew; a page of a quantity that is gone goes too."""
    folder, made = methods_dir(), files()
    folder.mkdir(exist_ok=True)
    for old in folder.glob("*.md"):
        if old.name not in made:
            old.unlink()
    for name, text in made.items():
        (folder / name).write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
