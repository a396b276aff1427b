import pytest

from inspect_report.judge.limits import comparable, limit_at, limit_of, nominal_only, shown, within
from inspect_report.knowledge.catalogue import Known
from tests.judge.made import a_limit, a_row, at, some_books

KNOWN = Known(id="gap", name="Gap", unit="mm", decimals=2, assembly="cylinders", plain="Gap.")


def test_wear_upwards_starts_at_the_upper_edge_of_new() -> None:
    """An amount of wear of 0.2 on bores of 87.20 to 87.25 mm allows 87.45 mm."""
    limit = limit_of(a_row(standard=[87.20, 87.25], wear=0.2, wears="up"), "spec sheet", "Manual")
    assert limit.low is None
    assert limit.high == pytest.approx(0.08745)


def test_wear_downwards_starts_at_the_lower_edge_of_new() -> None:
    """An amount of wear of 0.1 on plates of 2.9 to 3.1 mm allows 2.8 mm."""
    limit = limit_of(a_row(standard=[2.9, 3.1], wear=0.1, wears="down"), "spec sheet", "Manual")
    assert limit.low == pytest.approx(0.0028)
    assert limit.high is None


@pytest.mark.parametrize(("wears", "low", "high"), [("up", None, 0.0101), ("down", 0.0099, None)])
def test_wear_from_a_nominal_size(wears: str, low: float | None, high: float | None) -> None:
    """Where no range is printed, wear counts from the nominal size."""
    limit = limit_of(a_row(nominal=10, wear=0.1, wears=wears), "spec sheet", "Manual")
    assert (limit.low, limit.high) == (low and pytest.approx(low), high and pytest.approx(high))


@pytest.mark.parametrize(
    ("standard", "wears", "end"), [({"low": 5.0}, "up", 5.5), ({"high": 5.2}, "down", 4.7)]
)
def test_wear_from_the_only_edge_printed(standard: dict[str, float], wears: str, end: float) -> None:
    """A range with one end starts wear at that end, whichever way it wears."""
    limit = limit_of(a_row(standard=standard, wear=0.5, wears=wears), "spec sheet", "Manual")
    assert (limit.high if wears == "up" else limit.low) == pytest.approx(end * 1e-3)


@pytest.mark.parametrize(
    ("ends", "wears"), [({"high": 1}, "up"), ({"low": 1}, "down"), ({"low": 1, "high": 2}, "either")]
)
def test_wear_direction_read_from_the_limit(ends: dict[str, float], wears: str) -> None:
    """A row that does not say which way it wears says so by the end its limit stands at."""
    assert limit_of(a_row(limit=ends), "spec sheet", "Manual").wears == wears


@pytest.mark.parametrize("fields", [{"nominal": 22.013}, {"standard": [22.013, 22.013]}, {}])
def test_nominal_only(fields: dict[str, object]) -> None:
    """One size and no limit is a nominal size, however the row writes it."""
    assert nominal_only(limit_of(a_row(**fields), "spec sheet", "Manual"))


def test_source_with_page() -> None:
    """A limit of the spec sheet names work and page."""
    books = some_books([{"id": "bore-wear", "limit": {"high": 0.1}, "page": "4-12"}])
    limit = limit_at(books, "bore-wear", at(cylinder=1))
    assert limit is not None
    assert (limit.source, limit.origin) == ("Workshop manual, p. 4-12", "spec sheet")


def test_common_practice_where_the_sheet_is_silent() -> None:
    """A row of common practice is used where the sheet has none, and is marked as such."""
    books = some_books(practice=[{"id": "bore-wear", "limit": {"high": 0.1}}])
    limit = limit_at(books, "bore-wear", at(cylinder=1))
    assert limit is not None
    assert (limit.source, limit.origin) == ("common practice", "common practice")


def test_row_for_some_places() -> None:
    """A row narrowed to the top ring holds for the top ring alone."""
    books = some_books([{"id": "ring-end-gap", "limit": {"high": 0.5}, "where": {"ring": "top"}}])
    assert limit_at(books, "ring-end-gap", at(cylinder=1, ring="top")) is not None
    assert limit_at(books, "ring-end-gap", at(cylinder=1, ring="oil")) is None


def test_noise_of_unit_conversion_does_not_break_a_limit() -> None:
    """0.0254 times 0.005 inch and 0.127 mm are one length, whichever is the limit."""
    inch, millimetre = 0.005 * 0.0254, 0.127 * 1e-3
    assert within(inch * (1 + 3e-16), None, millimetre)
    assert within(inch * (1 - 3e-16), millimetre, None)


def test_one_part_in_a_million_does_break_a_limit() -> None:
    """The guard against noise lets no real difference pass."""
    assert not within(0.100001e-3, None, 0.1e-3)


@pytest.mark.parametrize(
    ("value", "decimals"), [(0.37, 2), (0.398, 3), (0.4, 2), (0.40004, 5), (0.4000001, 6)]
)
def test_decimals_grow_until_a_value_reads_unlike_its_limit(value: float, decimals: int) -> None:
    """0.398 mm against 0.40 mm is not written as 0.40 mm against 0.40 mm."""
    assert shown(KNOWN, a_limit(high=0.4), value * 1e-3).decimals == decimals


def test_decimals_show_the_limit_as_printed() -> None:
    """A limit of 6.4975 is not rounded to the catalogue's two decimals."""
    assert shown(KNOWN, a_limit(high=6.4975)).decimals == 4


@pytest.mark.parametrize(("unit", "decimals"), [("in", 3), ("mm", 2), ("µm", 0)])
def test_unit_of_the_sheet_with_as_much_to_see(unit: str, decimals: int) -> None:
    """A sheet in inches is shown in inches, with one more decimal than in mm."""
    row = a_row(unit=unit, limit={"high": "1 in"})
    wording = shown(KNOWN, limit_of(row, "spec sheet", "Manual"))
    assert (wording.unit, wording.decimals >= decimals) == (unit, True)


@pytest.mark.parametrize(
    ("one", "other", "same"), [("mm", "in", True), ("mm", "bar", False), ("pcs", "1", True), ("", "%", True)]
)
def test_comparable_units(one: str, other: str, same: bool) -> None:
    """Units of one dimension can be compared; counts are plain numbers."""
    assert comparable(one, other) is same
