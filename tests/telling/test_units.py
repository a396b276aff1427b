"""In which units a report tells amounts, how finely, and that no rounding turns a verdict over."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inspect_report.judge.decision import decide
from inspect_report.judge.finding import Limit, Verdict
from inspect_report.judge.limits import Shown, shown
from inspect_report.judge.wording import Told, reason, settled
from inspect_report.knowledge.catalogue import Known
from inspect_report.records.quantity import UNITS, Quantity, si, unit_named
from inspect_report.records.workshop import DecisionRule
from inspect_report.report.figures import Figures
from inspect_report.telling import units
from inspect_report.telling.manner import Manner, telling
from inspect_report.telling.units import Among, as_sold, sold_in, ways, written

FIGURES = Figures("en_GB", "EUR")
IMPERIAL, BOTH, METRIC = (Manner(units=u) for u in ("imperial", "both", "metric"))


def told(value: float, unit: str, decimals: int, manner: Manner = IMPERIAL) -> str:
    """An amount of a unit as the report tells it, with plain spaces."""
    with telling(manner):
        return FIGURES.amount(si(value, unit), unit, decimals).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "imperial"),
    [
        (0.045, "mm", 3, "1.8 thou"),
        (0.10, "mm", 2, "3.9 thou"),
        (12, "µm", 0, "0.5 thou"),
        (2.99, "mm", 2, "117.7 thou"),
        (3.0, "mm", 2, "0.1181 in"),
        (67.012, "mm", 3, "2.6383 in"),
        (38.5, "mm", 1, "1.516 in"),
        (128, "mm", 0, "5.039 in"),
        (6, "bar", 0, "87 psi"),
        (9.4, "bar", 1, "136 psi"),
        (0.25, "bar", 2, "3.6 psi"),
        (1013, "hPa", 0, "29.91 inHg"),
        (20, "°C", 0, "68 °F"),
        (-40, "°C", 0, "−40 °F"),
        (45, "N·m", 0, "33 lb·ft"),
        (12, "N·m", 0, "106 lb·in"),
        (210, "N", 0, "47.2 lbf"),
        (1.5, "kg", 1, "3.3 lb"),
        (120, "m", 0, "394 ft"),
        (52300, "km", 0, "32,498 mi"),
        (15, "l/min", 0, "0.53 cfm"),
        (2, "kPa/min", 0, "0.3 psi/min"),
    ],
)
def test_an_amount_is_told_as_the_trade_writes_it(
    value: float, unit: str, decimals: int, imperial: str
) -> None:
    """Thousandths of an inch for gaps, inches to four places for sizes, psi, pounds and feet."""
    assert told(value, unit, decimals) == imperial


@pytest.mark.parametrize("unit", ["cm³", "g", "%", "°", "h", "V", "rpm", "1", "ppm", "s"])
def test_what_workshops_everywhere_write_alike_stays(unit: str) -> None:
    """Chambers are filled in cubic centimetres and pistons weighed in grams, in inches' countries, too."""
    assert told(12.5, unit, 1) == told(12.5, unit, 1, BOTH) == told(12.5, unit, 1, Manner())


def test_both_tells_metric_first_and_imperial_in_brackets() -> None:
    """Once each, with its unit."""
    assert told(0.045, "mm", 3, BOTH) == "0.045 mm (1.8 thou)"
    assert told(4, "thou", 0, BOTH) == "0.10 mm (4 thou)"
    with telling(BOTH):
        assert FIGURES.range(1e-4, 2e-4, "mm", 2) == "0.10 to 0.20\u00a0mm (3.9 to 7.9\u00a0thou)"
        assert FIGURES.range(None, 4e-4, "mm", 2) == "at most 0.40\u00a0mm (15.7\u00a0thou)"
        assert FIGURES.range(None, 4e-4, "mm", 2, bare=True, short=True) == "≤\u00a00.40 (15.7)"
        measured = FIGURES.measured(Quantity(1e-4, 2e-6, "length"), "mm", 3)
        assert measured == "0.100\u00a0±\u00a00.004\u00a0mm (3.9\u00a0±\u00a00.2\u00a0thou)"


def test_metric_turns_what_a_sheet_prints_in_inches() -> None:
    """And leaves the books' own units alone where nothing is named."""
    assert told(4, "thou", 0, METRIC) == "0.10 mm"
    assert told(4, "thou", 0, Manner()) == "4 thou"
    assert told(0.12, "mm", 2, METRIC) == told(0.12, "mm", 2, Manner()) == "0.12 mm"


@pytest.mark.parametrize("language", ["de", "fr", "es", "it"])
def test_a_language_whose_thousandths_are_of_a_millimetre_tells_inches(language: str) -> None:
    """Tausendstel and millièmes are misread in a workshop that measures in hundredths of a millimetre."""
    sign = {"de": "Zoll", "fr": "po", "es": "pulg", "it": "in"}[language]
    with telling(Manner(language, f"{language}_{language.upper()}", "imperial")):
        assert written(si(0.1, "mm"), "mm", ".2f") == f"0,0039 {sign}"
        assert written(si(0.1, "mm"), "mm", "g") == f"0,0039 {sign}"


def test_a_size_by_which_a_part_is_sold_stays() -> None:
    """A shim of 2.65 mm is ordered by that number, an oversize of 0.020 in by that."""
    inches = [si(n, "in") for n in (0.010, 0.020, 0.050)]
    for manner in (IMPERIAL, METRIC, BOTH, Manner()):
        with telling(manner):
            assert as_sold(2.65e-3, [2.60e-3, 2.65e-3], "g") == "2.65 mm"
            assert as_sold(0.5e-3, [0.25e-3, 0.5e-3], ".2f") == "0.50 mm"
            assert as_sold(si(0.020, "in"), inches, ".2f") == "0.020 in"
            assert as_sold(si(0.050, "in"), inches, ".2f") == "0.050 in", "1.27 mm, and yet one of a series"
    with telling(Manner("de", "de_DE")):
        assert as_sold(si(0.020, "in"), inches, ".2f") == "0,020 Zoll"


@pytest.mark.parametrize(
    ("sizes", "unit", "sold"),
    [
        ((0.25, 0.5, 0.75, 1.0), "mm", "mm"),
        ((1.225, 1.25, 1.275), "mm", "mm"),
        ((2.54, 5.08), "mm", "mm"),
        ((), "mm", "mm"),
        ((0.010, 0.020, 0.030, 0.040, 0.060), "in", "in"),
        ((20, 40), "thou", "in"),
        ((0.015625,), "in", "mm"),
    ],
)
def test_parts_are_sold_in_inches_where_all_their_sizes_are_whole_thousandths(
    sizes: tuple[float, ...], unit: str, sold: str
) -> None:
    """And not whole hundredths of a millimetre as well."""
    assert sold_in([si(size, unit) for size in sizes]) == sold


def test_a_difference_of_temperatures_has_no_zero() -> None:
    """10 degrees Celsius more are 18 degrees Fahrenheit more."""
    with telling(IMPERIAL):
        assert FIGURES.difference(10.0, "°C", 0) == "+18\u00a0°F"


def test_every_unit_is_turned_into_one_of_its_own_kind() -> None:
    """Both tables name units of the table of factors, of the same dimension."""
    pairs = [*units._IMPERIAL.items(), *units._METRIC.items(), *units._ONE_SIGN.items()]
    pairs += [*((u, "in") for u in units._LENGTHS), *((u, "lb·ft") for u in units._TORQUES)]
    for given_unit, wanted in pairs:
        assert unit_named(given_unit).dimension == unit_named(wanted).dimension
    assert set(units._SIGNS) <= set(UNITS)


APART = ({"hPa", "mbar"}, {"mm/m", "thou/in"})
"""Units of one size that are told by a sign each: of the weather and of leaks, and by what a workshop has."""


def of_one_size() -> list[tuple[str, str]]:
    """Pairs of symbols that files may write for the same unit, but for those told apart."""
    alike: dict[object, str] = {}
    firsts = ((alike.setdefault((u.dimension, u.factor, u.offset), s), s) for s, u in UNITS.items())
    return [(a, b) for a, b in firsts if a != b and {a, b} not in APART]


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "it"])
@pytest.mark.parametrize("system", ["", "metric", "imperial", "both"])
def test_a_report_has_one_sign_for_one_unit(system: str, language: str) -> None:
    """However files write it: ``in2`` and ``in²``, ``ft-lb`` and ``lb-ft``, ``inch`` and ``"``."""
    assert {("N·m", "Nm"), ("in", '"'), ("in²", "in2"), ("kgf/cm²", "kgf/cm2")} <= set(of_one_size())
    for one, other in of_one_size():
        for number in (0.0018, 7.0, 150.0):
            manner = Manner(language, "en_GB", system)
            assert told(number, one, 4, manner) == told(number, other, 4, manner), (one, other)


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "it"])
def test_what_is_chosen_is_told_by_its_signs_alone(language: str) -> None:
    """Amounts of one kind and size have one unit, whichever system a sheet was written in."""
    kinds = {
        "imperial": [("mm", "in", "thou", "cm", "µm"), ("N·m", "lb-ft", "in-lb", "kgf·m"),
                     ("bar", "psi", "kgf/cm²"), ("mm²", "in2"), ("mm/m", "thou/in"),
                     ("N/mm", "lbf/in"), ("kgf", "N", "lbf")],
        "metric": [("mm", "in", "thou"), ("N·m", "lb-ft", "in-lb", "kgf·m"), ("bar", "psi", "kgf/cm2"),
                   ("hPa", "inHg", "mmHg"), ("mm²", "in2"), ("mm/m", "thou/in"), ("N", "kgf", "lbf")],
    }  # fmt: skip
    for system, alike in kinds.items():
        for symbols in alike:
            for amount in (si(0.03, symbols[0]), si(30.0, symbols[0])):
                with telling(Manner(language, "en_GB", system)):
                    texts = {FIGURES.amount(amount, symbol, 3).split("\u00a0", 1)[1] for symbol in symbols}
                assert len(texts) == 1, (system, symbols, texts)


def test_small_lengths_of_a_sheet_in_inches_are_told_as_those_of_one_in_millimetres() -> None:
    """In thou, and in inches in the languages whose thousandths are of a millimetre."""
    assert told(0.0018, "in", 4) == told(1.8, "thou", 1) == "1.8 thou"
    assert told(150, "thou", 0) == "0.1500 in"
    assert told(10, "lb-ft", 0) == "120 lb·in"
    assert told(4, "thou", 0, Manner("de", "de_DE", "imperial")) == "0.0040 Zoll"
    assert told(4, "thou", 0, Manner("de", "de_DE", "both")) == "0.10 mm (0.0040 Zoll)"
    assert told(4, "thou", 0, Manner("de", "de_DE")) == "4 Tausendstel Zoll", "as the sheet prints it"


def test_the_millibar_of_a_leak_is_not_the_hectopascal_of_the_weather() -> None:
    """One is told in psi, the other in inches of mercury; in metric each keeps its sign."""
    assert told(30, "mbar", 0) == "0.44 psi"
    assert told(1013, "hPa", 0) == "29.91 inHg"
    assert [told(30, unit, 0, METRIC) for unit in ("mbar", "hPa")] == ["30 mbar", "30 hPa"]


@given(
    limit=st.floats(1e-5, 0.2),
    beyond=st.floats(1e-7, 0.5),
    decimals=st.integers(1, 3),
    doubt=st.floats(0, 0.2),
    manner=st.sampled_from([IMPERIAL, BOTH, METRIC]),
    unit=st.sampled_from(["mm", "in", "thou"]),
)
def test_no_rounding_turns_a_verdict_over(
    limit: float, beyond: float, decimals: int, doubt: float, manner: Manner, unit: str
) -> None:
    """Whatever lies beyond a limit, by however little, is printed beyond it; what lies inside, never."""
    for away in (1.0 + beyond, 1.0 / (1.0 + beyond)):
        value = limit * away
        among = Among((value,), (limit,), (doubt * limit,))
        with telling(manner):
            for way in ways(unit, decimals, among):
                if not way.converted:
                    continue
                number, edge = (f"{x / UNITS[way.unit].factor:.{way.decimals}f}" for x in (value, limit))
                if way.decimals < units.FINEST:
                    assert (float(number) > float(edge)) == (value > limit)
                    assert float(number) != float(edge)
                assert (float(number) > float(edge)) <= (value > limit)
                assert (float(number) < float(edge)) <= (value < limit)


@given(
    limit_um=st.integers(5, 100_000),
    away_um=st.lists(st.floats(-40, 40), min_size=1, max_size=4),
    u_um=st.floats(0, 20),
    manner=st.sampled_from([IMPERIAL, BOTH]),
)
def test_a_row_of_values_stands_to_its_limit_as_they_do(
    limit_um: int, away_um: list[float], u_um: float, manner: Manner
) -> None:
    """Several places in one row, with their doubts, beside the limit they share: one unit, one order."""
    limit = limit_um * 1e-6
    values = [max(1e-6, limit + away * 1e-6) for away in away_um if abs(away) > 0.05]
    quantities = [Quantity(value, u_um * 1e-6, "length") for value in values]
    among = Among(tuple(values), (limit,), tuple(2 * q.u for q in quantities))
    with telling(manner):
        edge = imperial(FIGURES.limit(limit, "mm", 2, among))
        for q in quantities:
            for text in (
                FIGURES.measured(q, "mm", 2, among),
                FIGURES.amount(q.value, "mm", 2, among),
            ):
                number = imperial(text)
                assert number[1] == edge[1], "one unit"
                assert (number[0] > edge[0]) == (q.value > limit), (text, edge)
                assert number[0] != edge[0]


def imperial(text: str) -> tuple[float, str]:
    """The first number of the imperial part of a text, with its unit."""
    part = text[text.find("(") + 1 :].rstrip(")")
    number = re.match(r"[\d,.]+", part)
    assert number is not None, text
    return float(number[0].replace(",", "")), part.split("\u00a0")[-1]


def test_a_unit_written_in_capitals_is_turned_all_the_same() -> None:
    """A spec sheet may write BAR or N*m."""
    assert told(6, "BAR", 0) == "87 psi"
    assert told(45, "N*m", 0) == "33 lb·ft"


def a_limit(high: float) -> Limit:
    """A limit that only forbids more, printed in mm."""
    return Limit(
        standard_low=0.0, standard_high=high / 2, low=None, high=high, wears="up", watch=0.75, unit="mm",
        source="", sure="", origin="spec sheet", condition="", disputed="",
    )  # fmt: skip


NUMBER = re.compile(r"(\d+\.?\d*) thou|(\d+\.?\d*) in\b")


@given(
    limit_um=st.integers(20, 2000),
    away_um=st.floats(-30, 30),
    u_um=st.floats(0, 10),
    manner=st.sampled_from([IMPERIAL, BOTH]),
)
def test_a_sentence_tells_a_value_and_its_limit_in_their_order(
    limit_um: int, away_um: float, u_um: float, manner: Manner
) -> None:
    """The imperial numbers of the sentence of a verdict stand as value and limit stand, and differ."""
    high, value = limit_um * 1e-6, max(1e-6, limit_um * 1e-6 + away_um * 1e-6)
    if abs(value - high) < 2e-9:
        return  # closer than the finest place tells
    limit, quantity, rule = a_limit(high), Quantity(value, u_um * 1e-6, "length"), DecisionRule()
    known = Known(id="gap", name="gap", assembly="a", plain="gap", unit="mm", decimals=2)
    decision = decide(quantity, limit, rule)
    with telling(manner):
        wording = settled(shown(known, limit, value), quantity, limit, decision.verdict)
        sentence = reason(Told(quantity, limit, decision, rule, wording))
    first, second = (float(a or b) for a, b in NUMBER.findall(sentence.partition(":")[0])[:2])
    assert (first > second) == (value > high), sentence
    assert first != second, sentence
    if decision.verdict is Verdict.BEYOND_LIMIT:
        assert first > second


def test_a_doubt_is_told_in_every_unit() -> None:
    """The sentence of an undecided verdict names value, limit, doubt and the gauge it takes in thou."""
    limit, quantity, rule = a_limit(1e-4), Quantity(9.9e-5, 2e-6, "length"), DecisionRule()
    decision = decide(quantity, limit, rule)
    with telling(IMPERIAL):
        wording = settled(Shown("mm", 2), quantity, limit, decision.verdict)
        sentence = reason(Told(quantity, limit, decision, rule, wording))
    assert decision.verdict is Verdict.UNDECIDED
    assert "mm" not in sentence
    assert sentence.startswith("3.90 thou, limit at most 3.94 thou: inside, but the measuring uncertainty")
