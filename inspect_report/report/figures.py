"""Turns numbers, money and days into text as the workshop's country writes them."""

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
from inspect_report.measure.rounding import rounded_up, uncertainty_decimals
from inspect_report.records.languages import ENGLISH
from inspect_report.records.problem import CannotRender
from inspect_report.records.quantity import WITHOUT_SIGN, Quantity, difference_from_si, from_si
from inspect_report.telling.manner import manner, message, say
from inspect_report.telling.units import FINEST, Among, Way, each, sign, together, ways

NBSP: Final = "\u00a0"
COVERAGE: Final = 2.0
"""Expanded uncertainty is this many standard uncertainties of past readings: about 95 % of a normal law."""

_COINS: Final = re.compile(r"\.0+")
_CLOSE: Final = "°"
"""The sign of a unit that stands at the number without a space."""


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
    if unit in WITHOUT_SIGN:
        return number
    told = sign(unit)
    return f"{number}{told}" if told == _CLOSE else f"{number}{NBSP}{told}"


def _told(number: str, way: Way, bare: bool = False) -> str:
    return number if bare else with_unit(number, way.unit)


def shown_unit(unit: str) -> str:
    """A unit as it stands alone; nothing where it has no sign."""
    return "" if unit in WITHOUT_SIGN else sign(unit)


def bare(text: str, unit: str) -> str:
    """A value's text without its unit, for where the unit is told once for all."""
    return text.removesuffix(shown_unit(unit)).removesuffix(NBSP)


def decimals_for(value: float, decimals: int) -> int:
    """Decimals that show a printed limit whole, and not fewer than its characteristic's."""
    tolerance = 1e-9 * max(1.0, abs(value))
    wanted = range(decimals, FINEST + 1)
    return next((d for d in wanted if abs(round(value, d) - value) <= tolerance), FINEST)


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

    def amount(
        self, value: float, unit: str, decimals: int, among: Among | None = None, *, bare: bool = False
    ) -> str:
        """
        An SI value as the report tells it.

        Args:
            value: The value in SI.
            unit: The unit the books write it in.
            decimals: Decimals in that unit.
            among: What it is told beside; itself alone when left out.
            bare: Whether its unit is left out, for where that is told once for all.
        """

        def told(way: Way) -> str:
            return _told(self.number(from_si(value, way.unit), way.decimals), way, bare)

        return each(unit, decimals, among or Among((value,)), told)

    def limit(
        self, value: float, unit: str, decimals: int, among: Among | None = None, *, bare: bool = False
    ) -> str:
        """An SI value of a printed limit, with no decimal of it lost in the unit it is printed in."""

        def told(way: Way) -> str:
            return _told(self._edge(from_si(value, way.unit), way), way, bare)

        return each(unit, decimals, among or Among(edges=(value,)), told)

    def _edge(self, value: float, way: Way) -> str:
        return self.number(value, way.decimals) if way.converted else self.exact(value, way.decimals)

    def difference(self, value: float, unit: str, decimals: int) -> str:
        """A difference of SI values in a unit, with its sign."""

        def told(way: Way) -> str:
            number = difference_from_si(value, way.unit)
            text = self.number(number, way.decimals)
            return _told(f"+{text}" if round(number, way.decimals) > 0 else text, way)

        return each(unit, decimals, Among((value,)), told)

    def measured(
        self, quantity: Quantity, unit: str, decimals: int, among: Among | None = None, *, bare: bool = False
    ) -> str:
        """A value with its expanded uncertainty, both in one unit; k is 2, or more by few repeats."""

        def told(way: Way) -> str:
            places, plus_minus = self._doubt(quantity, way, among)
            value = self.number(from_si(quantity.value, way.unit), places)
            return _told(f"{value}{NBSP}{plus_minus}" if plus_minus else value, way, bare)

        return each(unit, decimals, among or Among((quantity.value,)), told)

    def as_fine_as_measured(self, quantity: Quantity, unit: str, decimals: int, among: Among) -> str:
        """A value alone, without its unit, as fine as it stands before its uncertainty."""

        def told(way: Way) -> str:
            return self.number(from_si(quantity.value, way.unit), self._doubt(quantity, way, among)[0])

        return each(unit, decimals, among, told)

    def plus_minus(self, quantity: Quantity, unit: str, decimals: int, among: Among) -> str:
        """The expanded uncertainty of a value alone; empty where there is none."""
        told = [(w, self._doubt(quantity, w, among)[1]) for w in ways(unit, decimals, among)]
        return together(_told(text, way) for way, text in told) if told[0][1] else ""

    def _doubt(self, quantity: Quantity, way: Way, among: Among | None) -> tuple[int, str]:
        """Decimals of a value with an uncertainty, and the uncertainty; empty where there is none."""
        wide = abs(difference_from_si(expanded(quantity), way.unit))
        if wide <= 0:
            return way.decimals, ""
        settled = way.converted and among is not None
        places = way.decimals if settled else uncertainty_decimals(wide, way.decimals)
        return places, f"±{NBSP}{self.number(rounded_up(wide, places), places)}"

    def range(
        self,
        low: float | None,
        high: float | None,
        unit: str,
        decimals: int,
        among: Among | None = None,
        *,
        bare: bool = False,
        short: bool = False,
    ) -> str:
        """A range of SI values in words, or for narrow columns short, in signs; empty without ends."""
        if low is not None and high is not None:
            return self._both(low, high, unit, decimals, among, bare=bare)
        end = high if low is None else low
        if end is None:
            return ""
        limit = self.limit(end, unit, decimals, among, bare=bare)
        if short:
            return f"{'≤' if low is None else '≥'}{NBSP}{limit}"
        return say(message("at most {limit}") if low is None else message("at least {limit}"), limit=limit)

    def _both(
        self, low: float, high: float, unit: str, decimals: int, among: Among | None, *, bare: bool = False
    ) -> str:
        def told(way: Way) -> str:
            ends = from_si(low, way.unit), from_si(high, way.unit)
            places = way.decimals if way.converted else max(decimals_for(e, way.decimals) for e in ends)
            texts = [self.number(end, places) for end in ends]
            if round(ends[0], places) == round(ends[1], places):
                return _told(texts[0], way, bare)
            return _told(say("{low} to {high}", low=texts[0], high=texts[1]), way, bare)

        return each(unit, decimals, among or Among(edges=(low, high)), told)

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
        """A distance in kilometres, or in miles; empty where there is none."""
        return "" if metres is None else self.amount(metres, "km", 0)


def joined(parts: list[str] | tuple[str, ...], last: str = "and") -> str:
    """
    Words in a sentence: ``a, b and c``; parts with a comma of their own as ``a, b; c; and d``.

    Many languages part the latter by semicolons alone.
    """
    if len(parts) < 2:
        return "".join(parts)
    one_of = last == "or"
    if len(parts) > 2 and any(", " in part for part in parts):
        pattern = message("{list}; or {last}") if one_of else message("{list}; and {last}")
        return say(pattern, list="; ".join(parts[:-1]), last=parts[-1])
    pattern = message("{list} or {last}") if one_of else message("{list} and {last}")
    return say(pattern, list=", ".join(parts[:-1]), last=parts[-1])


def counted(count: int, one: str, many: str) -> str:
    """A count with its noun, in English; a message that counts is ``say_count``."""
    return f"{count} {one if count == 1 else many}"
