"""Turns numbers, money and days into text as the workshop's country writes them."""

import math
import re
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, cached_property, lru_cache
from typing import Final

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.numbers import format_currency, format_decimal, get_currency_precision

from inspect_report.measure.budget import expanded
from inspect_report.records.languages import ENGLISH
from inspect_report.records.problem import CannotRender
from inspect_report.records.quantity import Quantity, difference_from_si, from_si
from inspect_report.telling.manner import manner, message, say

NBSP: Final = "\u00a0"
MOST_DECIMALS: Final = 6
COVERAGE: Final = 2.0
"""Expanded uncertainty is this many standard uncertainties of past readings: about 95 % of a normal law."""

_COINS: Final = re.compile(r"\.0+")
_NO_SYMBOL: Final = frozenset({"1", "pcs", "pc", ""})
_CLOSE: Final = frozenset({"°", '"'})
"""Unit signs that stand at the number without a space."""


@cache
def _locale(name: str) -> Locale:
    try:
        return Locale.parse(name, sep="-" if "-" in name else "_")
    except (UnknownLocaleError, ValueError):
        raise CannotRender(
            f"locale {name!r} in the workshop file is not known; write it like en_GB, de_DE or en_US"
        ) from None


def with_unit(number: str, unit: str) -> str:
    """A number's text with its unit behind it."""
    if unit in _NO_SYMBOL:
        return number
    return f"{number}{unit}" if unit in _CLOSE else f"{number}{NBSP}{unit}"


def shown_unit(unit: str) -> str:
    """A unit as it stands alone; nothing where it has no sign."""
    return "" if unit in _NO_SYMBOL else unit


def bare(text: str, unit: str) -> str:
    """A value's text without its unit, for where the unit is told once for all."""
    return text.removesuffix(shown_unit(unit)).removesuffix(NBSP)


def decimals_for(value: float, decimals: int) -> int:
    """Decimals that show a printed limit whole, and not fewer than its characteristic's."""
    tolerance = 1e-9 * max(1.0, abs(value))
    wanted = range(decimals, MOST_DECIMALS + 1)
    return next((d for d in wanted if abs(round(value, d) - value) <= tolerance), MOST_DECIMALS)


def rounded_up(value: float, decimals: int) -> float:
    """An uncertainty rounded up, so that it is never told smaller than it is."""
    scale = 10.0**decimals
    return math.ceil(value * scale - 1e-6) / scale


def uncertainty_decimals(wide: float, decimals: int) -> int:
    """The characteristic's decimals, or one more where rounding up would overstate by more than half."""
    generous = rounded_up(wide, decimals) > 1.5 * wide
    return decimals + 1 if generous and decimals < MOST_DECIMALS else decimals


@lru_cache(maxsize=8192)
def _decimal(value: float | Decimal, pattern: str, locale: str) -> str:
    """A number as a locale writes it; most numbers of a report stand in it several times."""
    return format_decimal(value, format=pattern, locale=_locale(locale)).replace("-", "−")


@dataclass(frozen=True)
class Figures:
    """How one workshop writes numbers: its locale and its currency."""

    locale: str
    currency: str

    @cached_property
    def _written(self) -> Locale:
        return _locale(self.locale)

    def number(self, value: float | Decimal, decimals: int) -> str:
        """A number with a fixed count of decimals; a rounded zero carries no sign."""
        pattern = "#,##0." + "0" * decimals if decimals else "#,##0"
        steady = value if isinstance(value, Decimal) else round(value, decimals) + 0.0
        return _decimal(steady, pattern, self.locale)

    def exact(self, value: float, decimals: int) -> str:
        """A number with all decimals it was given with, up to six."""
        return self.number(value, decimals_for(value, decimals))

    def amount(self, value: float, unit: str, decimals: int) -> str:
        """An SI value in a unit."""
        return with_unit(self.number(from_si(value, unit), decimals), unit)

    def limit(self, value: float, unit: str, decimals: int) -> str:
        """An SI value of a printed limit in its unit, with no decimal of it lost."""
        return with_unit(self.exact(from_si(value, unit), decimals), unit)

    def difference(self, value: float, unit: str, decimals: int) -> str:
        """A difference of SI values in a unit, with its sign."""
        number = difference_from_si(value, unit)
        text = self.number(number, decimals)
        return with_unit(f"+{text}" if round(number, decimals) > 0 else text, unit)

    def measured(self, quantity: Quantity, unit: str, decimals: int) -> str:
        """A value with its expanded uncertainty, both in one unit; k is 2, or more by few repeats."""
        value, wide = from_si(quantity.value, unit), abs(difference_from_si(expanded(quantity), unit))
        if wide <= 0:
            return with_unit(self.number(value, decimals), unit)
        places = uncertainty_decimals(wide, decimals)
        plus_minus = self.number(rounded_up(wide, places), places)
        return with_unit(f"{self.number(value, places)}{NBSP}±{NBSP}{plus_minus}", unit)

    def range(self, low: float | None, high: float | None, unit: str, decimals: int) -> str:
        """A range of SI values in words; empty where it has no ends."""
        if low is None and high is None:
            return ""
        if low is None:
            return say("at most {limit}", limit=self.limit(high or 0.0, unit, decimals))
        if high is None:
            return say("at least {limit}", limit=self.limit(low, unit, decimals))
        return self._both(from_si(low, unit), from_si(high, unit), unit, decimals)

    def short_range(self, low: float | None, high: float | None, unit: str, decimals: int) -> str:
        """A range of SI values in signs, for narrow columns; empty where it has no ends."""
        if low is None and high is None:
            return ""
        if low is None:
            return f"≤\u00a0{self.limit(high or 0.0, unit, decimals)}"
        if high is None:
            return f"≥\u00a0{self.limit(low, unit, decimals)}"
        return self._both(from_si(low, unit), from_si(high, unit), unit, decimals)

    def _both(self, low: float, high: float, unit: str, decimals: int) -> str:
        places = max(decimals_for(low, decimals), decimals_for(high, decimals))
        if round(low, places) == round(high, places):
            return with_unit(self.number(low, places), unit)
        return with_unit(
            say("{low} to {high}", low=self.number(low, places), high=self.number(high, places)),
            unit,
        )

    def money(self, amount: Decimal) -> str:
        """An amount of money, rounded half up to the currency's smallest unit."""
        places = Decimal(1).scaleb(-get_currency_precision(self.currency))
        exact = amount.quantize(places, rounding=ROUND_HALF_UP)
        return format_currency(exact, self.currency, locale=self._written).replace("-", "−")

    def about(self, amount: Decimal) -> str:
        """An amount of money that is not sure to the coin: three figures, and no coins."""
        step = max(0, amount.adjusted() - 2) if amount else 0
        scale = Decimal(1).scaleb(step)
        rough = (amount / scale).quantize(Decimal(1), rounding=ROUND_HALF_UP) * scale
        pattern = _COINS.sub("", self._written.currency_formats["standard"].pattern)
        text: str = format_currency(
            rough, self.currency, format=pattern, locale=self._written, currency_digits=False
        )
        return text.replace("-", "−")

    def about_range(self, low: Decimal, high: Decimal) -> str:
        """An unsure amount of money, or what it is at least and at most."""
        ends = self.about(low), self.about(high)
        return ends[0] if ends[0] == ends[1] else say("{low} to {high}", low=ends[0], high=ends[1])

    def money_range(self, low: Decimal, high: Decimal) -> str:
        """An amount of money, or what it is at least and at most."""
        ends = self.money(low), self.money(high)
        return ends[0] if ends[0] == ends[1] else say("{low} to {high}", low=ends[0], high=ends[1])

    def quantity(self, amount: Decimal) -> str:
        """A count or hours without needless zeros."""
        plain = amount.normalize()
        exponent = plain.as_tuple().exponent
        return self.number(plain, -exponent if isinstance(exponent, int) and exponent < 0 else 0)

    def percent(self, share: float, decimals: int = 0) -> str:
        """A share of one as per cent."""
        return with_unit(self.number(100.0 * share, decimals), "%")

    def day(self, day: date | None) -> str:
        """A day with its month in words; empty where there is none."""
        return "" if day is None else format_date(day, "long", locale=self._worded)

    @cached_property
    def _worded(self) -> Locale:
        """Days are told in the report's language, as the workshop's country writes it where it does."""
        language = manner().language
        if self._written.language == language:
            return self._written
        return _locale("en_GB" if language == ENGLISH else language)

    def hours(self, seconds: float | None) -> str:
        """A running time in hours; empty where there is none."""
        if seconds is None:
            return ""
        hours = seconds / 3600.0
        return with_unit(self.exact(round(hours, 1), 0), "h")

    def distance(self, metres: float | None) -> str:
        """A distance in kilometres; empty where there is none."""
        return "" if metres is None else with_unit(self.number(metres / 1000.0, 0), "km")


def joined(parts: list[str] | tuple[str, ...], last: str = "and") -> str:
    """Words in a sentence: ``a, b and c``; parts with a comma of their own as ``a, b; c; and d``."""
    if len(parts) < 2:
        return "".join(parts)
    pattern = message("{list} or {last}") if last == "or" else message("{list} and {last}")
    if len(parts) > 2 and any(", " in part for part in parts):
        return say(pattern, list="; ".join(parts[:-1]) + ";", last=parts[-1])
    return say(pattern, list=", ".join(parts[:-1]), last=parts[-1])


def counted(count: int, one: str, many: str) -> str:
    """A count with its noun, in English; a message that counts is ``say_count``."""
    return f"{count} {one if count == 1 else many}"
