"""Checks the timing chain's quantities against sums done by hand."""

from math import degrees, pi, sin, sqrt

import pytest

from inspect_report.knowledge.case import Case
from inspect_report.measure.measuring import measure
from tests.cases import SHEET, a_case, a_sheet, answered, read, read_each, some_books
from tests.measure.finds import found, lacking, u, value

# 20 pitches of 6.35 mm are 127 mm; three lengths with a mean of 128.27 mm are 1 per cent long.
LENGTHS = {"a": 128.25, "b": 128.27, "c": 128.29}


def _case() -> Case:
    return a_case(*read_each("chain-length", LENGTHS), answers=[answered("chain-pitches-measured", "20")])


def test_elongation_is_the_mean_over_the_nominal_length() -> None:
    """
    Mean 128.27 of 127 mm: 1 per cent.

    The caliper's error is common and does not average out; the lengths scatter by s = 0.02, s/√3.
    """
    case = _case()
    step, error = 0.01 / (2 * sqrt(3)), 0.02 / sqrt(3)
    assert value(case, "chain-elongation") == pytest.approx(0.01)
    assert u(case, "chain-elongation") == pytest.approx(
        sqrt(step**2 / 3 + error**2 + 0.02**2 / 3) / 127, rel=1e-3
    )


def test_elongation_names_the_count_of_pitches() -> None:
    """The number of pitches is a reading too."""
    long = found(_case(), "chain-elongation")
    assert long.readings[-1] == "chain-pitches-measured"
    assert long.note == "mean of 3 lengths, pitch 6.35 mm; they scatter by s = 0.02 mm; pull not noted"


def test_elongation_names_the_pull() -> None:
    """A chain is as long as it is pulled."""
    readings = (*read_each("chain-length", {"a": 128.27}), read("chain-pull", 98))
    case = a_case(*readings, answers=[answered("chain-pitches-measured", "20")])
    assert found(case, "chain-elongation").note == "mean of 1 lengths, pitch 6.35 mm; pulled with 98 N"


def test_repeats_within_a_span_count() -> None:
    """A span read three times: its own s/√3 joins, beside the scatter between the spans."""
    readings = (read("chain-length.a", 128.20, 128.27, 128.34), read("chain-length.b", 128.27))
    case = a_case(*readings, answers=[answered("chain-pitches-measured", "20")])
    step, error, own = 0.01 / (2 * sqrt(3)), 0.02 / sqrt(3), 0.07 / sqrt(3)
    expected = sqrt(2 * (step / 2) ** 2 + error**2 + (own / 2) ** 2) / 127
    assert u(case, "chain-elongation") == pytest.approx(expected, rel=1e-3)


def test_two_lengths_scatter() -> None:
    """128.25 and 128.29 scatter by 0.04/√2; one length cannot."""
    case = a_case(
        *read_each("chain-length", {"a": 128.25, "b": 128.29}),
        answers=[answered("chain-pitches-measured", "20")],
    )
    assert "they scatter by s = 0.03 mm" in found(case, "chain-elongation").note


def test_camshaft_behind_another_counts_both_strands() -> None:
    """The chain passes the exhaust camshaft first: 22 pitches, then 8 to the inlet; the retards add up."""
    case, radius = _case(), 6.35 / (2 * sin(pi / 34))
    between = 2 * degrees(0.01 * 8 * 6.35 / radius)
    assert value(case, "cam-retard.inlet") == pytest.approx(value(case, "cam-retard.exhaust") + between)
    assert found(case, "cam-retard.inlet").note.startswith("30 pitches under pull from the crank")


def _late(inlet_late: float) -> Case:
    """A case whose inlet lobe centre is so many degrees behind its target of 108."""
    target = [
        {
            "id": "cam-lobe-centre",
            "unit": "°",
            "where": {"cam": "inlet"},
            "standard": [106, 110],
            "page": "1",
        },
        {"id": "cam-lobe-centre", "unit": "°", "where": {"cam": "exhaust"}, "nominal": 110, "page": "1"},
    ]
    events = {"inlet": 6 - inlet_late, "exhaust": 48}, {"inlet": 42 + inlet_late, "exhaust": 8}
    readings = (*read_each("cam-opening", events[0]), *read_each("cam-closing", events[1]))
    return a_case(
        *readings,
        *read_each("chain-length", LENGTHS),
        answers=[answered("chain-pitches-measured", "20")],
        books=some_books(a_sheet(characteristics=target)),
    )


def test_what_the_chain_does_not_explain_is_left_over() -> None:
    """The chain makes the inlet 6.34 late; of 8 measured 1.66 are left, and of 27.5 one tooth of 34: 21.2."""
    retard = 2 * degrees(0.01 * 30 * 6.35 / (6.35 / (2 * sin(pi / 34))))
    plain = found(_late(8.0), "cam-late-beyond-chain.inlet")
    assert plain.quantity.value == pytest.approx(8.0 - retard)
    assert (plain.formula, plain.note) == ("mechanics.camshaft.late_beyond_chain", "")
    assert found(_late(27.5), "cam-late-beyond-chain.inlet").note == "about +1.0 teeth of its sprocket"
    assert found(_late(-14.8), "cam-late-beyond-chain.inlet").note == "about -1.0 teeth of its sprocket"


def test_left_over_carries_the_disc_and_the_chain() -> None:
    """Uncertainties of lateness and of retard, root sum of squares: no gauge is common to both."""
    case = _late(8.0)
    parts = [u(case, f"{name}.inlet") for name in ("cam-lateness", "cam-retard")]
    assert u(case, "cam-late-beyond-chain.inlet") == pytest.approx(sqrt(sum(part**2 for part in parts)))


def test_share_of_the_tensioners_stroke() -> None:
    """12 of 16 mm are three quarters."""
    drive = {**SHEET["geometry"]["cam-drive"], "tensioner-stroke": 16}
    case = a_case(read("tensioner-travel", 12), books=some_books(a_sheet(geometry={"cam-drive": drive})))
    used = found(case, "tensioner-stroke-used")
    assert used.quantity.value == pytest.approx(0.75)
    assert (used.formula, used.note) == ("mechanics.chain.tensioner_used", "of a stroke of 16 mm")


@pytest.mark.parametrize("stroke", [None, 16])
def test_no_share_without_a_stroke_or_beside_a_limit(stroke: float | None) -> None:
    """Where the maker's limit judges the travel, or prints no stroke, nothing is said and nothing missed."""
    row = {"id": "tensioner-travel", "limit": {"high": 14}, "wears": "up", "page": "1"}
    drive = {**SHEET["geometry"]["cam-drive"], "tensioner-stroke": stroke}
    sheet = a_sheet(geometry={"cam-drive": drive}, characteristics=[row] if stroke else [])
    case = a_case(read("tensioner-travel", 12), books=some_books(sheet))
    assert lacking(case, "tensioner-stroke-used") == ()
    assert not [q for q in measure(case).quantities if q.characteristic == "tensioner-stroke-used"]


def test_each_cam_is_late_by_its_strand() -> None:
    """One per cent of 30 and 22 pitches over the sprocket's radius, twice in crank degrees."""
    radius = 6.35 / (2 * sin(pi / 34))
    case = _case()
    assert value(case, "cam-retard.inlet") == pytest.approx(2 * degrees(0.01 * 30 * 6.35 / radius))
    assert value(case, "cam-retard.exhaust") == pytest.approx(2 * degrees(0.01 * 22 * 6.35 / radius))


def test_length_without_pitches_has_a_reason() -> None:
    """A length over an unknown number of pitches says nothing."""
    case = a_case(*read_each("chain-length", LENGTHS))
    assert [r.why for r in lacking(case, "chain-elongation")] == ["chain pitches measured not read"]


def test_one_length_is_enough() -> None:
    """Places that were not measured do not stop the mean of those that were."""
    lengths = read_each("chain-length", {"a": 128.27})
    case = a_case(*lengths, answers=[answered("chain-pitches-measured", "20")])
    assert value(case, "chain-elongation") == pytest.approx(0.01)


def test_engine_without_a_chain_has_no_chain_quantities() -> None:
    """A gear-driven engine gives neither a value nor a reason."""
    case = a_case(books=some_books(a_sheet(layout={"timing-drive": "gear"})))
    assert lacking(case, "chain-elongation") == ()


def test_drive_that_is_not_in_the_spec_sheet_is_told() -> None:
    """Without the chain's pitch nothing can be computed, and the reason says what is missing."""
    books = some_books(a_sheet(geometry={"cam-drive": None}))
    case = a_case(*read_each("chain-length", LENGTHS), books=books)
    assert [r.why for r in lacking(case, "cam-retard")] == [
        "pitch of the timing chain is not in the spec sheet"
    ]


def test_a_retard_carries_the_scatter_of_the_lengths() -> None:
    """It is proportional to the elongation, and so is its uncertainty."""
    case = _case()
    shares = [u(case, name) / value(case, name) for name in ("chain-elongation", "cam-retard.inlet")]
    assert shares[0] == pytest.approx(shares[1], rel=1e-6)
