"""Turns the plan of an engine into a drawing from above: cylinders, valves and bearings where they stand."""

from collections.abc import Sequence
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle

from inspect_report.report.charts.ink import fill_of, fitting, mark, sheet, tell, write
from inspect_report.report.chartspec import EnginePlan, PlanCylinder, Value
from inspect_report.report.theme import Theme

NAMES_MM, PITCH_MM, LINE_MM, HEAD_MM, VALVES_MM, GAP_MM, CRANK_MM = 38.0, 34.0, 4.2, 5.5, 9.5, 3.0, 22.0
END_MM: Final = 6.0
"""How far the middles of the outer main bearings stand from the ends of the shaft: half a value's width."""
MOST_ABREAST: Final = 8
WORST: Final = ("beyond-limit", "undecided", "marginal", "serviceable", "as-new")


def draw_plan(spec: EnginePlan, theme: Theme) -> Figure:
    """Banks one below the other; of two, the crankshaft lies between them, and the inlet on its side."""
    rows = [row for bank in spec.banks for row in _rows(bank)]
    deep = _depth(spec)
    crank = CRANK_MM if spec.mains or spec.pins else 0.0
    figure, axes = sheet(theme.chart.width_mm, len(rows) * (deep + GAP_MM) + crank)
    pitch = min(PITCH_MM, (theme.chart.width_mm - NAMES_MM) / max(len(row) for row in rows))
    before = len(_rows(spec.banks[0])) if len(spec.banks) == 2 else len(rows)
    top = 0.0
    for n, row in enumerate(rows):
        if n == before and crank:
            _crank(axes, spec, top, pitch * max(len(r) for r in rows), theme)
            top += crank
        _bank(axes, spec, row, (top, pitch), theme, turned=len(spec.banks) == 2 and n < before)
        top += deep + GAP_MM
    if before == len(rows) and crank:
        _crank(axes, spec, top, pitch * max(len(r) for r in rows), theme)
    return figure


def _rows(bank: tuple[PlanCylinder, ...]) -> list[tuple[PlanCylinder, ...]]:
    return [bank[n : n + MOST_ABREAST] for n in range(0, len(bank), MOST_ABREAST)]


def _has_valves(spec: EnginePlan) -> tuple[bool, bool]:
    cylinders = [c for bank in spec.banks for c in bank]
    return any(c.inlet for c in cylinders), any(c.exhaust for c in cylinders)


def _depth(spec: EnginePlan) -> float:
    return HEAD_MM + _bore(spec) + VALVES_MM * sum(_has_valves(spec))


def _bore(spec: EnginePlan) -> float:
    """Height of the place of the bores."""
    return LINE_MM * max(2, len(spec.names)) + 6.0


def _bank(
    axes: Axes,
    spec: EnginePlan,
    row: Sequence[PlanCylinder],
    at: tuple[float, float],
    theme: Theme,
    *,
    turned: bool,
) -> None:
    top, pitch = at
    inlet, exhaust = _has_valves(spec)
    order = (("exhaust", exhaust), ("bore", True), ("inlet", inlet))
    y = top + HEAD_MM
    for what, there in order if turned else reversed(order):
        if not there:
            continue
        if what == "bore":
            _bores(axes, spec, row, (y, pitch), theme)
            y += _bore(spec)
        else:
            _valves(axes, spec, row, (y, pitch), theme, side=what)
            y += VALVES_MM
    for n, cylinder in enumerate(row):
        x = NAMES_MM + (n + 0.5) * pitch
        write(axes, x, top + HEAD_MM - 2.2, cylinder.label, theme, ha="center", weight="bold")


def _bores(
    axes: Axes, spec: EnginePlan, row: Sequence[PlanCylinder], at: tuple[float, float], theme: Theme
) -> None:
    top, pitch = at
    middle, radius = top + _bore(spec) / 2, min(0.47 * pitch, _bore(spec) / 2)
    first = middle - LINE_MM * (len(spec.names) - 1) / 2
    for k, name in enumerate(spec.names):
        _name(axes, first + k * LINE_MM, name, theme)
    for n, cylinder in enumerate(row):
        x = NAMES_MM + (n + 0.5) * pitch
        fill = fill_of(_gravest(cylinder.values), theme.light)
        heavy = fill.face == theme.light.ink
        width = theme.chart.thick_pt * 1.6 if heavy else theme.chart.line_pt
        axes.add_patch(
            Circle((x, middle), radius, facecolor=theme.light.paper, edgecolor=fill.edge, linewidth=width)
        )
        for k, value in enumerate(cylinder.values):
            if value.text:
                mark(axes, x - 5.0, first + k * LINE_MM - 0.2, value.tone, theme)
                tell(axes, x - 2.6, first + k * LINE_MM, value, theme)


def _name(axes: Axes, y: float, name: str, theme: Theme) -> None:
    """What a row of values is, before it."""
    size = fitting(name, theme.chart.small_pt, NAMES_MM - 3.5)
    write(axes, NAMES_MM - 3.0, y, name, theme, ha="right", color=theme.light.soft, fontsize=size)


def _gravest(values: Sequence[Value]) -> str:
    tones = {v.tone for v in values if v.text}
    return next((tone for tone in WORST if tone in tones), "")


def _valves(
    axes: Axes,
    spec: EnginePlan,
    row: Sequence[PlanCylinder],
    at: tuple[float, float],
    theme: Theme,
    *,
    side: str,
) -> None:
    top, pitch = at
    name = spec.sides[0] if side == "inlet" else spec.sides[1]
    _name(axes, top + 6.6, name, theme)
    for n, cylinder in enumerate(row):
        values = cylinder.inlet if side == "inlet" else cylinder.exhaust
        step = min(10.0, 0.9 * pitch / max(1, len(values)))
        for k, value in enumerate(values):
            x = NAMES_MM + (n + 0.5) * pitch + (k - (len(values) - 1) / 2) * step
            if value.text:
                mark(axes, x, top + 2.8, value.tone, theme)
                tell(axes, x, top + 6.6, value, theme, ha="center")


def _crank(axes: Axes, spec: EnginePlan, top: float, length: float, theme: Theme) -> None:
    """Main bearings on the line of the shaft, big ends above it, as a crankshaft lies."""
    line = top + 13.0
    axes.add_patch(
        Rectangle((NAMES_MM, line - 0.7), length, 1.4, facecolor=theme.light.tint, edgecolor=theme.light.line)
    )
    places = (
        (spec.bearings[1], _along(spec.pins, length, ends=False), line - 4.2, line - 8.0),
        (spec.bearings[0], _along(spec.mains, length, ends=True), line, line + 4.4),
    )
    for name, values, y, told in places:
        if values:
            _name(axes, told, name, theme)
        for x, value in values:
            if value.text:
                mark(axes, x, y, value.tone, theme)
                tell(axes, x, told, value, theme, ha="center")


def _along(values: Sequence[Value], length: float, *, ends: bool) -> list[tuple[float, Value]]:
    """Places along the shaft: main bearings to both its ends, big ends between them."""
    reach = length - 2 * END_MM
    if ends and len(values) > 1:
        return [(NAMES_MM + END_MM + n * reach / (len(values) - 1), v) for n, v in enumerate(values)]
    return [(NAMES_MM + 3.0 + (n + 0.5) * reach / len(values), v) for n, v in enumerate(values)]
