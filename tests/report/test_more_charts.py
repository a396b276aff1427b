"""Plans, diagrams, ranges and stacks hold each value at its place, for every layout of cylinders."""

import re
from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

import pytest

from inspect_report import assess, load
from inspect_report.assessment import Assessment
from inspect_report.judge.finding import Finding
from inspect_report.records.position import Position
from inspect_report.records.specsheet import Layout
from inspect_report.report import view_bottom, view_plan, view_quote
from inspect_report.report.charts import svg, timing
from inspect_report.report.chartspec import BoreMap, ChartSpec, EnginePlan, StackChart, TrendChart
from inspect_report.report.source import Source
from inspect_report.report.theme import theme
from inspect_report.report.view_charts import bore_map
from tests.samples import SAMPLES


@cache
def sample(name: str) -> Assessment:
    """A sample's assessment."""
    return assess(load(SAMPLES / f"{name}.yaml"))


def words(spec: ChartSpec) -> dict[str, list[tuple[float, float]]]:
    """Where each text of a drawing stands, in points from its upper left corner."""
    told: dict[str, list[tuple[float, float]]] = {}
    for node in ElementTree.fromstring(svg(spec, theme())).iter("{http://www.w3.org/2000/svg}text"):  # noqa: S314
        x, y = place_of(node)
        told.setdefault("".join(node.itertext()), []).append((x, y))
    return told


def place_of(node: ElementTree.Element) -> tuple[float, float]:
    """The place of a text, from its attributes or the shift it carries."""
    if node.get("x") is not None:
        return float(node.get("x", "0")), float(node.get("y", "0"))
    found = re.search(r"translate\(([-\d.]+) ([-\d.]+)\)", node.get("transform", ""))
    return (float(found[1]), float(found[2])) if found else (0.0, 0.0)


def laid_out(arrangement: str, cylinders: int, banks: tuple[tuple[int, ...], ...] = ()) -> EnginePlan:
    """The plan of an engine whose every cylinder leaks a percent more than the one before."""
    whole = sample("inline-four-strip")
    known = next(f for f in whole.judged.findings if f.id == "leak-down.1")
    gap = next(f for f in whole.judged.findings if f.id == "valve-clearance.1.inlet-1")
    found = [leaking(known, n) for n in range(1, cylinders + 1)]
    found += [gapped(gap, n, v) for n in range(1, cylinders + 1) for v in ("inlet", "exhaust")]
    layout = whole.sheet.layout.model_dump(by_alias=True)
    changes = {"arrangement": arrangement, "cylinders": cylinders, "banks": banks}
    changes["valves"] = {"inlet": 1, "exhaust": 1}
    sheet = whole.sheet.model_copy(update={"layout": Layout.model_validate({**layout, **changes})})
    judged = replace(whole.judged, findings=tuple(found))
    plan = view_plan.engine_plan(Source(replace(whole, sheet=sheet, judged=judged)))
    assert plan is not None
    return plan


def leaking(one: Finding, n: int) -> Finding:
    """Cylinder n leaks n per cent."""
    assert one.quantity is not None
    quantity = replace(one.quantity, value=n / 100)
    return replace(one, id=f"leak-down.{n}", position=Position(("cylinder",), (str(n),)), quantity=quantity)


def gapped(one: Finding, n: int, valve: str) -> Finding:
    """A valve of cylinder n with a gap of n hundredths, the exhaust one of half a millimetre more."""
    assert one.quantity is not None
    quantity = replace(one.quantity, value=(n / 100 + 0.5 * (valve == "exhaust")) / 1000)
    place = Position(("cylinder", "valve"), (str(n), valve))
    return replace(one, id=f"valve-clearance.{n}.{valve}", position=place, quantity=quantity)


@pytest.mark.parametrize("cylinders", [2, 3, 4, 6, 8, 12])
def test_an_inline_engine_stands_in_one_line(cylinders: int) -> None:
    """Cylinders run from left to right; each value below its name, inlet above and exhaust below it."""
    told = words(laid_out("inline", cylinders))
    for n in range(1, cylinders + 1):
        (head,), (leak,) = told[f"Cylinder {n}"], told[f"{n}.0"]
        (inlet,), (exhaust,) = told[f"{n / 100:.2f}"], told[f"{n / 100 + 0.5:.2f}"]
        assert head[1] < inlet[1] < leak[1] < exhaust[1]
        assert leak[0] == pytest.approx(head[0], abs=16)
    firsts = [told[f"Cylinder {n}"][0] for n in range(1, min(cylinders, 8) + 1)]
    assert [x for x, _ in firsts] == sorted(x for x, _ in firsts)
    assert len({y for _, y in firsts}) == 1


@pytest.mark.parametrize("arrangement", ["vee", "flat"])
def test_banks_face_each_other(arrangement: str) -> None:
    """Cylinders stand in the bank the spec sheet gives them, the inlet of both on the inner side."""
    told = words(laid_out(arrangement, 4, ((1, 3), (2, 4))))
    one, two, three, four = (told[f"Cylinder {n}"][0] for n in (1, 2, 3, 4))
    assert one[1] == three[1] < two[1] == four[1]
    assert one[0] == two[0] < three[0] == four[0]
    assert told["0.51"][0][1] < told["0.01"][0][1] < told["0.02"][0][1] < told["0.52"][0][1]


@pytest.mark.parametrize("arrangement", ["vee", "flat"])
def test_banks_that_are_not_known_are_said_to_be(arrangement: str) -> None:
    """Numbers do not tell the bank; without ``banks`` all stand in one row and the caption says so."""
    plan = laid_out(arrangement, 4)
    assert len(plan.banks) == 1
    assert "which cylinders form a bank" in plan.caption
    assert "form a bank" not in laid_out(arrangement, 4, ((1, 2), (3, 4))).caption
    assert "form a bank" not in laid_out("inline", 4).caption


def test_a_two_stroke_has_no_valves_in_its_plan() -> None:
    """Cylinder and big end alone, worst first in the text."""
    plan = view_plan.engine_plan(Source(sample("kart-two-stroke")))
    assert plan is not None
    told = words(plan)
    assert not [t for t in told if "valves" in t]
    (compression,), (pin,) = told["9.1"], told["0.058"]
    assert compression[1] < pin[1]
    assert "Big-end play up and down, crankpin 1" in plan.alt


def test_a_single_with_valves_and_bearings_at_their_places() -> None:
    """One cylinder, two valves on either side."""
    plan = view_plan.engine_plan(Source(sample("race-team/c-5")))
    assert plan is not None
    assert len(plan.banks[0]) == 1
    assert [len(side) for side in (plan.banks[0][0].inlet, plan.banks[0][0].exhaust)] == [2, 2]


def test_bearings_lie_along_the_crankshaft() -> None:
    """Main bearings from end to end, big ends between them, each with its own clearance."""
    plan = view_plan.engine_plan(Source(sample("inline-four-strip")))
    assert plan is not None
    assert [v.text for v in plan.mains] == ["0.036", "0.036", "0.038", "0.037", "0.035"]
    told = words(plan)
    middle, third = told["0.038"][0], told["0.056"][0]
    assert told["0.037"][0][0] > third[0] > middle[0]
    assert third[1] < middle[1]


def test_no_plan_where_hardly_anything_was_measured() -> None:
    """Two values are told in words."""
    whole = sample("inline-four-strip")
    few = tuple(f for f in whole.judged.findings if f.characteristic == "leak-down")[:2]
    assert view_plan.engine_plan(Source(replace(whole, judged=replace(whole.judged, findings=few)))) is None


def test_a_camshaft_that_runs_later_is_drawn_later() -> None:
    """Hands turn by the angle read, the limit is told, and the chain stands beside them."""
    spec = view_bottom.chain_diagram(Source(sample("inline-four-strip")))
    assert spec is not None
    assert [c.late for c in spec.cams] == pytest.approx([7.106506, 5.599065])
    assert [c.limit for c in spec.cams] == [6.0, 6.0]
    told = words(spec)
    assert "Inlet camshaft late by 7.1° (limit 6.0°)" in told
    assert "Chain elongation 1.02\u00a0% (limit 0.90\u00a0%)" in told
    on_time = replace(spec, cams=tuple(replace(c, late=0.0) for c in spec.cams))
    assert svg(on_time, theme()) != svg(spec, theme())
    late, limit = timing._at(0.0, 7.0, 1.0), timing._at(0.0, 6.0, 1.0)
    assert late[0] < limit[0] < 0.0


def test_no_chain_diagram_without_a_chain() -> None:
    """A two-stroke has none."""
    assert view_bottom.chain_diagram(Source(sample("kart-two-stroke"))) is None


def test_bearing_clearances_stand_in_their_own_ranges() -> None:
    """Mains and big ends have each the range and limit of their row, in millimetres."""
    spec = view_bottom.bearings(Source(sample("inline-four-strip")))
    assert spec is not None
    main, pin = spec.rows[0], spec.rows[-1]
    assert (main.new_low, main.new_high, main.high) == pytest.approx((0.018, 0.042, 0.070))
    assert (pin.new_low, pin.new_high, pin.high) == pytest.approx((0.028, 0.056, 0.080))
    assert main.value == pytest.approx(0.036, abs=5e-4)
    assert 0.0 < main.half < 0.01
    assert main.after is not None
    told = words(spec)
    assert told["Main journal 1"][0][1] < told["Crankpin 4"][0][1]
    assert told["Main journal 1"][0][1] == pytest.approx(told["0.036\u00a0mm"][0][1], abs=2)


@pytest.mark.parametrize("name", ["inline-four-strip", "kart-two-stroke"])
def test_stacks_add_up_to_the_orders(name: str) -> None:
    """The pieces of each bar come to its least sum, to the coin; its line to the greatest."""
    source = Source(sample(name))
    orders = view_quote.orders(source)
    assert orders is not None
    spec = orders.chart
    assert isinstance(spec, StackChart)
    known = view_quote.shown_orders(source)
    assert len(spec.stacks) == len(known)
    for stack, option in zip(spec.stacks, known, strict=True):
        assert sum(s.value for s in stack.segments) == pytest.approx(float(option.gross.low), abs=0.005)
        assert stack.reaches == float(option.gross.high)
        assert (
            stack.text
            == orders.rows[[r.name for r in orders.rows].index("Total")].cells[
                orders.titles.index(stack.label)
            ]
        )


def test_rings_swell_where_a_bore_is_worn() -> None:
    """The ring of the worn bore reaches beyond its limit at the top; without two directions there is none."""
    spec = bore_map(Source(sample("inline-four-strip")))
    assert isinstance(spec, BoreMap)
    assert len(words(spec)["top"]) == 5
    single = replace(spec, bores=tuple(replace(b, lines=b.lines[:1]) for b in spec.bores))
    assert len(words(single)["top"]) == 1
    round_ = replace(spec, bores=tuple(replace(b, lines=(b.lines[0], b.lines[0])) for b in spec.bores))
    assert svg(round_, theme()) != svg(spec, theme())


def test_a_part_that_was_replaced_is_told_from_the_one_in_the_engine() -> None:
    """No number that means nothing to a customer: earlier part and this part, and which serial it has."""
    from inspect_report.report.view_trends import trends

    drawn = [t.chart for t in trends(Source(sample("race-team/b-4"))) if isinstance(t.chart, TrendChart)]
    several = [chart for chart in drawn if len(chart.lines) > 1]
    assert several
    for chart in several:
        assert [line.name for line in chart.lines] == ["earlier part", "this part"]
        assert "The part was replaced" in chart.caption


def test_charts_are_small() -> None:
    """No drawing takes more than 60 kB, and none holds a pattern of thousands of pieces."""
    from inspect_report.report.pictures import charts_in
    from inspect_report.report.view import view

    for name in ("inline-four-strip", "kart-two-stroke", "race-team/c-5"):
        charts = list(charts_in(view(sample(name))))
        assert charts
        for spec in charts:
            assert len(svg(spec, theme())) < 60_000
