"""Turns the workshop file into who the workshop is, what its time and parts cost, and how it decides."""

import os
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from inspect_report.records.languages import Language
from inspect_report.records.money import Currency, Hours, Locale, PriceOrRange, PriceRange, unclear_share
from inspect_report.records.own_books import OwnBooks
from inspect_report.records.shape import Id, Price, Record, Text, amount

Units = Literal["metric", "imperial", "both", ""]
"""In which amounts are told; empty where none are named."""


class DecisionRule(Record):
    """How a reading with its uncertainty is held against a limit."""

    kind: Literal["shown at confidence", "guard band", "simple acceptance"] = "shown at confidence"
    confidence: amount("%", above=50, below=100) = 0.95  # type: ignore[valid-type]
    """For ``shown at confidence``."""
    guard: Annotated[float, Field(gt=0, le=3)] = 1.0
    """For ``guard band``: its width on either side of a limit, in expanded uncertainties."""


class ReferenceTester(Record):
    """The leak-down tester on which leaks are told again, so that testers and meetings compare."""

    supply: amount("bar", above=0, below=20) = Field("6 bar", validate_default=True)  # type: ignore[valid-type]
    orifice: amount("mm", above=0, below=10) = Field("1 mm", validate_default=True)  # type: ignore[valid-type]
    air_pressure: amount("hPa", low=300, below=1100) = Field(  # type: ignore[valid-type]
        "1013.25 hPa", validate_default=True
    )
    """Absolute pressure of the air into which it is taken to leak."""


class ReferencePicture(Record):
    """The workshop's own picture of one step of a kind of damage, which its people rate by."""

    damage: Text
    step: Annotated[int, Field(ge=1, le=5)]
    file: Text
    """Image file beside this one."""
    note: Text = ""


class Tax(Record):
    """A tax on the whole estimate."""

    name: Text
    rate: Annotated[amount("%", low=0, below=100), unclear_share]  # type: ignore[valid-type]


class Workshop(Record):
    """One workshop: what stands at the head of its reports and what it charges."""

    workshop: Text
    version: Annotated[int, Field(ge=1)]
    address: Text = ""
    phone: Text = ""
    email: Text = ""
    logo: Text = ""
    """Image file beside this one."""
    language: Language = ""
    """In which its reports are told; that of the locale when left out."""
    locale: Locale = "en_GB"
    """How numbers, dates and money are written. A report in another language than the locale's writes them as
    that language does."""
    units: Units = ""
    """In which its reports tell amounts: metric, imperial, or both, metric first; each as the books write it
    when left out. What is read and typed stays as it is, whatever these are."""
    paper: Literal["A4", "Letter", ""] = ""
    """That of the locale's country when left out."""
    currency: Currency = "EUR"
    """ISO 4217 code."""
    labour_rate: Price
    """For one hour."""
    tax: Tax | None = None
    decision_rule: DecisionRule = DecisionRule()
    reference_tester: ReferenceTester = ReferenceTester()
    prices: dict[Id, PriceOrRange] = {}
    """Parts and machine-shop work by their id in the workbook; without a price: on request. One that depends
    on what is found is a range, ``{low: 38, high: 210}``."""
    hours: dict[Id, Hours] = {}
    """Hours of access steps (``ID`` opens and closes) and jobs that differ from the workbook's."""
    shares_beyond: dict[Id, Annotated[amount("%", above=0, below=100), unclear_share]] = {}  # type: ignore[valid-type]
    """Share of engines of this kind in which the workshop found a characteristic beyond its limit, by its id.
    The buyer's view then counts with it where nobody has looked; without one no chance is made up."""
    shims_in_stock: tuple[amount("mm", above=0, below=10), ...] = ()  # type: ignore[valid-type]
    valve_gap_aim: amount("%", low=0, below=100) = 0.5  # type: ignore[valid-type]
    """Where in its range a valve gap is set to: 0 % is its low end; more than half leaves room to close."""
    reference_pictures: tuple[ReferencePicture, ...] = ()
    """Printed in the record of a report where something was rated so."""
    books: OwnBooks = OwnBooks()
    """Files beside this one in place of shipped books, for every inspection that names none of its own."""
    certificate: Text = ""
    """PKCS#12 file (.p12), beside this one or elsewhere, whose certificate and key sign every PDF. Its
    passphrase never stands in a file: it is asked for, or taken from INSPECT_REPORT_PASSPHRASE."""
    terms: Text = ""
    """Terms printed at the end, in Markdown."""
    buyer_terms: Text = ""
    """Those of a pre-purchase assessment, whose reader owns no part of it; ``terms`` when left out."""

    def certificate_file(self, folder: Path) -> Path | None:
        """The file of the certificate that signs; none where nobody does. ``folder`` is that of this file."""
        return folder / os.path.expanduser(self.certificate) if self.certificate else None

    def price(self, part: str) -> PriceRange | None:
        """What a part or machine-shop work costs, both ends alike where that is known; None: on request."""
        written = self.prices.get(part)
        return PriceRange(low=written, high=written) if isinstance(written, Decimal) else written
