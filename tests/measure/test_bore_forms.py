"""Checks form, warmth, clearance height and oversizes of the samples' bores by hand."""

from collections.abc import Iterable
from dataclasses import replace
from math import pi, sqrt

import pytest

from inspect_report.judge.conformity import finding_of_quantity
from inspect_report.knowledge.case import Case
from inspect_report.measure.measuring import measure
from inspect_report.records.quantity import read_amount
from inspect_report.report.figures import Figures
from inspect_report.report.source import beside
from inspect_report.telling.manner import Manner, telling
from tests.measure.changed import FOUR, KART, changed
from tests.measure.finds import found, lacking, u, value

STEP, ERROR = 0.001 / (2 * sqrt(3)), 0.003 / sqrt(3)


def _heights(top: float, middle: float, bottom: float) -> dict[str, float | None]:
    """A round bore of cylinder 1 with these diameters."""
    heights = {"top": top, "middle": middle, "bottom": bottom}
    return {f"bore-diameter.1.{h}.{a}": d for h, d in heights.items() for a in ("along", "across")}


@pytest.mark.parametrize(
    ("heights", "name", "bulge"),
    [
        ((67.000, 67.020, 67.002), "barrel", 0.019),
        ((67.020, 67.000, 67.018), "waist", -0.019),
        ((67.010, 67.0105, 67.010), "straight", 0.0005),
        ((67.030, 67.004, 67.000), "bell at the top", -0.011),
        ((67.020, 67.010, 67.000), "taper, wide at the top", 0.0),
    ],
)
def test_form_of_a_bore_is_named(heights: tuple[float, float, float], name: str, bulge: float) -> None:
    """Bulge is the middle less the mean of the ends; the name is the form's."""
    case = changed(FOUR, _heights(*heights))
    assert found(case, "bore-form.1").note == name
    assert value(case, "bore-form.1") == pytest.approx(bulge * 1e-3, abs=1e-12)


def test_form_is_free_of_the_gauges_error() -> None:
    """Two readings a height: the middle with 1/√2 of a step, each end with half of that."""
    expected = STEP * sqrt(1 / 2 + 2 * (1 / 2) / 4) * 1e-3
    assert u(changed(FOUR), "bore-form.1") == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(("flare", "name"), [(0.0005, "straight"), (0.0007, "taper, wide at the top")])
def test_difference_within_its_uncertainty_has_no_name(flare: float, name: str) -> None:
    """A flare has a standard uncertainty of one step's, 0.29 µm: 0.5 µm is nothing yet, 0.7 µm is."""
    case = changed(FOUR, _heights(67.010 + flare, 67.010 + flare / 2, 67.010))
    assert found(case, "bore-form.1").note == name


def test_clearance_at_the_height_the_maker_states() -> None:
    """Cylinder 3 across the bottom of its bore: 67.016 less 66.934 is 0.082 mm, not 0.098 of the middle."""
    case = changed(FOUR, geometry={"clearance_height": "bottom"})
    assert value(case, "piston-clearance.3") == pytest.approx(0.082e-3)
    note = found(case, "piston-clearance.3").note
    assert note == (
        "at the bottom height of the bore, as the maker states it, square to the pin; "
        "skirt 9 mm above its lower edge"
    )
    usual = changed(FOUR, geometry={"clearance_height": "", "skirt_height": None})
    assert value(usual, "piston-clearance.3") == pytest.approx(0.098e-3)
    assert found(usual, "piston-clearance.3").note == "at the middle height of the bore, square to the pin"


def test_warm_bore_and_piston_are_corrected_to_20_degrees() -> None:
    """Kart: iron bore at 24, piston at 22, steel gauges at 21 °C, by hand from the definition."""
    case = changed(KART)
    steel = 1 + 11.5e-6 * 1
    bore = 54.034 * steel / (1 + 11e-6 * 4)
    piston = 53.921 * steel / (1 + 19.5e-6 * 2)
    assert value(case, "piston-clearance.1") == pytest.approx((bore - piston) * 1e-3, rel=1e-9)
    assert value(case, "bore-wear.1") == pytest.approx(
        (54.034 * steel / (1 + 11e-6 * 4) - 54) * 1e-3, rel=1e-9
    )
    assert found(case, "bore-wear.1").note == (
        "over the nominal 54.000 mm; corrected to 20 °C: barrel read at 24.0 °C, gauges of steel at 21.0 °C"
    )
    assert found(case, "piston-clearance.1").note.endswith(
        "corrected to 20 °C: barrel read at 24.0 °C, piston read at 22.0 °C, gauges of steel at 21.0 °C"
    )


def test_temperature_brings_its_own_uncertainty() -> None:
    """Thermometer of 0.5 °C step and 1 °C error on 54 mm of iron: 0.35 µm beside the gauge's 1.76 µm."""
    thermometer = sqrt((0.5 / (2 * sqrt(3))) ** 2 + 1 / 3) * 11e-6 * 54.034
    expected = sqrt(STEP**2 + ERROR**2 + thermometer**2) * 1e-3
    assert u(changed(KART), "bore-wear.1") == pytest.approx(expected, rel=1e-3)
    assert "barrel-temperature" in found(changed(KART), "bore-wear.1").readings


def test_one_part_of_two_is_not_corrected_alone() -> None:
    """Without the piston's temperature the clearance stays as read, and says why; the wear is corrected."""
    case = changed(KART, {"piston-temperature": None})
    assert value(case, "piston-clearance.1") == pytest.approx(0.113e-3)
    assert found(case, "piston-clearance.1").note.endswith(
        "not corrected to 20 °C: temperature and expansion are not known of both barrel and piston"
    )
    assert value(case, "bore-wear.1") < 0.034e-3


def test_expansion_that_is_not_known() -> None:
    """A temperature without an expansion corrects nothing, and is told."""
    case = changed(KART, geometry={"barrel_expansion": None})
    assert value(case, "bore-wear.1") == pytest.approx(0.034e-3)
    assert found(case, "bore-wear.1").note.endswith(
        "not corrected to 20 °C: barrel read at 24.0 °C, its expansion is not in the spec sheet"
    )


def test_gauges_are_taken_as_right_where_the_room_is_not_known() -> None:
    """Without the room's temperature gauges count as at 20 °C."""
    case = changed(KART, engine="cold")
    assert value(case, "bore-wear.1") == pytest.approx((54.034 / (1 + 11e-6 * 4) - 54) * 1e-3, rel=1e-9)
    assert found(case, "bore-wear.1").note.endswith("barrel read at 24.0 °C, gauges taken as at 20 °C")


def test_growth_that_cleans_a_bore_up() -> None:
    """Cylinder 3 is worn to 67.096: 0.096 and 0.05 for honing are 0.146 mm, as unsure as the reading."""
    case = changed(FOUR)
    assert value(case, "rebore-growth.3") == pytest.approx(0.146e-3)
    assert u(case, "rebore-growth.3") == pytest.approx(u(case, "bore-wear.3"), rel=1e-3)
    assert found(case, "rebore-growth.3").note == (
        "0.050 mm of it for honing (common practice); an oversize of 0.25 mm cleans it up"
    )


def test_oversize_of_the_most_worn_bore_serves_all() -> None:
    """67.25 over 67.096 leaves 0.154; were all wear on one side 0.25 - 2 x 0.096 = 0.058 mm."""
    step = found(changed(FOUR), "oversize-to-fit")
    assert step.quantity.value == pytest.approx(0.25e-3)
    assert step.quantity.u == 0.0
    assert step.note == (
        "cylinder 3 is worn most: an oversize of 0.25 mm leaves 0.154 mm on the diameter, "
        "0.058 mm if all its wear lies on one side"
    )
    assert len(step.readings) == 24
    assert step.doubt == ""


def test_oversizes_of_a_sheet_in_inches_are_told_as_they_are_sold() -> None:
    """0.010 in is 0.254 mm, by which nobody sells a piston; it leaves 0.254 - 0.096 = 0.158 mm."""
    case = sold_as(changed(FOUR), ("0.010 in", "0.020 in", "0.050 in"))
    assert found(case, "rebore-growth.3").note.endswith("; an oversize of 0.010 in cleans it up")
    step = found(case, "oversize-to-fit")
    assert step.quantity.value == pytest.approx(0.254e-3)
    assert step.note.startswith("cylinder 3 is worn most: an oversize of 0.010 in leaves 0.158 mm on the")


@pytest.mark.parametrize("units", ["", "metric", "imperial", "both"])
@pytest.mark.parametrize(
    ("steps", "sold"), [(("0.010 in", "0.020 in"), "0.020 in"), (("0.50 mm",), "0.50 mm")]
)
def test_an_oversize_has_the_unit_it_is_sold_in_whatever_is_chosen(
    steps: tuple[str, ...], sold: str, units: str
) -> None:
    """In the note of its finding, and where the finding is told with its value; both fit a bore of 67.30."""
    case = sold_as(changed(FOUR, {"bore-diameter.3.top.across": 67.30}), steps)
    with telling(Manner(units=units)):
        step = found(case, "oversize-to-fit")
        finding = finding_of_quantity(step, case)
        assert finding is not None
        told = Figures("en_GB", "EUR").amount(
            step.quantity.value, finding.unit, finding.decimals, beside(finding)
        )
    assert f"an oversize of {sold} leaves" in step.note
    assert told.replace("\u00a0", " ") == sold


def sold_as(case: Case, steps: Iterable[str]) -> Case:
    """A case whose sheet has these oversizes on sale."""
    sheet = case.books.sheet
    on_sale = sheet.on_sale.model_copy(update={"oversizes": tuple(read_amount(s, "mm") for s in steps)})
    sheet = sheet.model_copy(update={"on_sale": on_sale})
    return replace(case, books=replace(case.books, sheet=sheet))


def test_next_oversize_where_the_first_does_not_clean_up() -> None:
    """Worn to 67.21 the first step leaves 0.04, less than honing takes: 0.50 mm."""
    worn = changed(FOUR, {"bore-diameter.2.top.across": 67.21})
    assert value(worn, "oversize-to-fit") == pytest.approx(0.50e-3)
    assert found(worn, "oversize-to-fit").note.startswith("cylinder 2 is worn most")


def test_oversize_that_is_near_its_bound_is_doubted() -> None:
    """Worn to 67.197 a step of 0.25 leaves 3 µm over the allowance, less than twice 1.76 µm."""
    near, clear = (changed(FOUR, {"bore-diameter.2.top.across": d}) for d in (67.197, 67.196))
    assert value(near, "oversize-to-fit") == pytest.approx(0.25e-3)
    assert found(near, "oversize-to-fit").doubt == (
        "cylinder 2 may need the next oversize, by its uncertainty. Measure again before ordering pistons."
    )
    assert found(clear, "oversize-to-fit").doubt == ""


def test_wear_that_may_lie_on_one_side_is_told() -> None:
    """Worn by 0.14 mm a step of 0.25 cleans up an even bore, and nothing is left if it is one wall's."""
    case = changed(FOUR, {"bore-diameter.3.top.across": 67.14})
    assert "nothing where all its wear lies on one side" in found(case, "oversize-to-fit").note


def test_bore_worn_beyond_the_last_oversize() -> None:
    """0.47 mm of wear leaves too little of 0.50: no step, a reason, and the bore's own need is still told."""
    case = changed(FOUR, {"bore-diameter.4.top.across": 67.47})
    assert [r.why for r in lacking(case, "oversize-to-fit")] == [
        "no oversize on sale leaves metal everywhere: cylinder 4 is worn too far"
    ]
    assert found(case, "rebore-growth.4").note.endswith("no oversize on sale leaves metal everywhere")


def test_ring_gap_where_the_bore_is_worn_most() -> None:
    """Cylinder 3, top ring: 0.59 and π (67.096 - 67.014) = 0.2576 are 0.8476 mm."""
    case = changed(FOUR)
    feeler = sqrt((0.01 / (2 * sqrt(3))) ** 2 + 0.003**2 / 3)
    # Three repeats at the most worn place, s = 0.001, so 1/√3 µm beside the step.
    bore = sqrt(2 * STEP**2 + 0.001**2 / 3)
    assert value(case, "ring-gap-where-worn.3.top") == pytest.approx((0.59 + pi * 0.082) * 1e-3)
    assert u(case, "ring-gap-where-worn.3.top") == pytest.approx(
        sqrt(feeler**2 + (pi * bore) ** 2) * 1e-3, rel=1e-3
    )


def test_bore_that_is_not_read_has_neither_form_nor_growth() -> None:
    """A grid with a hole names the place; the others come out, and so does the step for what was read."""
    case = changed(FOUR, {"bore-diameter.1.top.along": None})
    for characteristic in ("bore-form", "rebore-growth"):
        (reason,) = lacking(case, characteristic)
        assert reason.position.id == "1"
        assert "not read on cylinder 1, top height, along axis" in reason.why
    assert "oversize-to-fit" not in {q.id for q in measure(case).quantities}
