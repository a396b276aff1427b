"""Turns what people write for a currency, a tax and hours of work into values, and refuses what is none."""

from decimal import Decimal
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Annotated, Any, Final, Self

from pydantic import BeforeValidator, Discriminator, Tag, ValidationInfo, WithJsonSchema, model_validator

from inspect_report.records.problem import nearest
from inspect_report.records.shape import Price, Record, amount_in, is_si, refusal

MOST_HOURS: Final = 1000
# Legal tender somewhere today, held against the Unicode locale data in the tests.
_CODES: Final = """
    AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD
    CAD CDF CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP
    GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD
    KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN
    NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP
    SLE SOS SRD SSP STN SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VES VND VUV
    WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG
"""
CURRENCIES: Final = tuple(_CODES.split())


def _read_currency(written: object) -> str:
    text = str(written)
    if text in CURRENCIES:
        return text
    right = nearest(text, CURRENCIES)
    raise refusal(
        "V209",
        "currency that is not known",
        "three capital letters of ISO 4217, for example EUR, GBP or USD",
        f"write {right!r} if that is meant" if right else "look the code up in ISO 4217",
    )


def _read_locale(written: object) -> str:
    text = str(written).replace("-", "_")
    known = locales()
    if text in known:
        return text
    near = nearest(text, sorted(known))
    raise refusal(
        "V211",
        "locale that is not known",
        "a language and a country, for example en_GB or de_AT",
        f"write {near!r} if that is meant" if near else "write language_COUNTRY",
    )


@cache
def locales() -> frozenset[str]:
    """Names of the locale data at hand, by the names of its files: the library itself takes long to load."""
    spec = find_spec("babel")
    folders = spec.submodule_search_locations or () if spec else ()
    return frozenset(file.stem for f in folders for file in (Path(f) / "locale-data").glob("*.dat")) - {
        "root"
    }


def _read_hours(written: object, info: ValidationInfo) -> Decimal:
    if is_si(info):
        return Decimal(str(written))
    hours = Decimal(str(round(amount_in(written, "h") / 3600, 6)))
    if not 0 <= hours < MOST_HOURS:
        allowed = f"0 h or more, less than {MOST_HOURS} h"
        raise refusal("V202", "amount out of range", allowed, "correct the number or its unit")
    return hours


def _read_percent(written: object, info: ValidationInfo) -> Any:
    """A bare number between 0 and 1 may be a percentage or a share: 0.2 for 20 %."""
    if isinstance(written, float) and 0 < written < 1 and not is_si(info):
        shown, share = f"{written:g}", f"{100 * written:g}"
        raise refusal(
            "V212",
            "a number that could mean two things",
            "a number with %",
            f"write {share} % if it is a share, {shown} % if it is a percentage",
        )
    return written


class PriceRange(Record):
    """A price that nobody can name yet: what it is at least and at most."""

    low: Price
    high: Price

    @model_validator(mode="after")
    def _right_way_round(self) -> Self:
        if self.high < self.low:
            allowed, mend = "the smaller price as 'low'", "exchange the two"
            raise refusal("V220", "range upside down", allowed, mend, key="low")
        return self


def _price_or_range(written: object) -> str:
    return "range" if isinstance(written, dict | PriceRange) else "price"


PriceOrRange = Annotated[
    Annotated[Price, Tag("price")] | Annotated[PriceRange, Tag("range")], Discriminator(_price_or_range)
]
Currency = Annotated[
    str, BeforeValidator(_read_currency), WithJsonSchema({"type": "string", "pattern": "^[A-Z]{3}$"})
]
Locale = Annotated[str, BeforeValidator(_read_locale), WithJsonSchema({"type": "string"})]
Hours = Annotated[
    Decimal,
    BeforeValidator(_read_hours),
    WithJsonSchema({"type": ["number", "string"], "description": "a number in h, or a number with its unit"}),
]
unclear_share: Final = BeforeValidator(_read_percent)
