"""Turns valve maps and bore maps into drawings that follow the engine's own layout."""

from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Ellipse, Rectangle

from inspect_report.report.charts.ink import MM, axes_at, bare, mark, scale_x, scale_y, write
from inspect_report.report.chartspec import Bore, BoreLine, BoreMap, Edge, Gap, ValveMap, ValveRow
from inspect_report.report.theme import Theme

SIDE_MM, ROW_MM, HEAD_MM = 22.0, 24.0, 8.0
PANELS, PANEL_MM, BETWEEN_MM = 4, 27.0, 16.0
RINGS_MM, RING_MM, SWELL_MM = 19.0, 3.0, 2.0
"""Height of the rings below a section, radius of the nominal size, what the greatest deviation adds."""


def draw_valves(spec: ValveMap, theme: Theme) -> Figure:
    """A panel for each side of the head, a block for each cylinder, a band and a mark for each valve."""
    width = theme.chart.width_mm
    figure = Figure(figsize=(width / MM, (HEAD_MM + (ROW_MM + 9.0) * len(spec.rows)) / MM))
    for n, row in enumerate(spec.rows):
        axes = axes_at(figure, SIDE_MM, HEAD_MM + n * (ROW_MM + 9.0), width - SIDE_MM - 1.0, ROW_MM)
        bare(axes, theme, keep=("left",))
        scale_y(axes, spec.axis, theme)
        _valve_row(axes, row, spec, theme, first=n == 0)
    return figure


def _valve_row(axes: Axes, row: ValveRow, spec: ValveMap, theme: Theme, *, first: bool) -> None:
    per = max(len(gaps) for gaps in row.gaps)
    axes.set_xlim(0.0, len(row.gaps) * (per + 1.0))
    margin = 0.12 * (spec.axis.high - spec.axis.low)
    axes.set_ylim(spec.axis.low - margin, spec.axis.high + 2.0 * margin)
    ticks: list[tuple[float, str]] = []
    for n, gaps in enumerate(row.gaps):
        start = n * (per + 1.0)
        if n:
            axes.axvline(start, color=theme.light.line, linewidth=theme.chart.line_pt)
        if first:
            axes.annotate(
                spec.cylinders[n],
                (start + (per + 1.0) / 2, 1.0),
                xycoords=("data", "axes fraction"),
                xytext=(0, 4),
                textcoords="offset points",
                ha="center",
                va="bottom",
                weight="bold",
                fontsize=theme.chart.label_pt,
            )
        for k, gap in enumerate(gaps, 1):
            ticks.append((start + k, gap.label))
            _gap(axes, start + k, gap, spec, theme)
    axes.set_xticks([x for x, _ in ticks], [text for _, text in ticks])


def _gap(axes: Axes, x: float, gap: Gap, spec: ValveMap, theme: Theme) -> None:
    low = spec.axis.low if gap.low is None else gap.low
    high = spec.axis.high if gap.high is None else gap.high
    axes.add_patch(
        Rectangle(
            (x - 0.2, low), 0.4, high - low, facecolor=theme.light.tint, edgecolor=theme.light.line, zorder=2
        )
    )
    if gap.after is not None:
        axes.plot(
            [x, x], [gap.value, gap.after], color=theme.light.soft, linewidth=0.8, linestyle=":", zorder=4
        )
        axes.plot([x], [gap.after], marker="^", ms=5.0, mfc="none", mec=theme.light.soft, mew=1.0, zorder=4)
        if abs(gap.after - gap.value) > 0.2 * (spec.axis.high - spec.axis.low):
            _beside(axes, x, gap.after, gap.after_text, theme)
    mark(axes, x, gap.value, gap.tone, theme)
    good = gap.tone in ("as-new", "serviceable")
    axes.annotate(
        gap.text,
        (x, gap.value),
        xytext=(8.5, 0),
        textcoords="offset points",
        va="center",
        zorder=6,
        fontsize=theme.chart.label_pt if not good else theme.chart.small_pt,
        weight="normal" if good else "bold",
        color=theme.light.ink,
    )


def _beside(axes: Axes, x: float, y: float, text: str, theme: Theme) -> None:
    axes.annotate(
        text,
        (x, y),
        xytext=(8.5, 0),
        textcoords="offset points",
        va="center",
        zorder=6,
        fontsize=theme.chart.small_pt,
        color=theme.light.soft,
    )


def draw_bores(spec: BoreMap, theme: Theme) -> Figure:
    """A panel for each bore: height upward, deviation to the side, a line for each direction."""
    width, rows = theme.chart.width_mm, -(-len(spec.bores) // PANELS)
    across = min(PANELS, len(spec.bores))
    rings = RINGS_MM if _has_rings(spec) else 0.0
    deep = PANEL_MM + BETWEEN_MM + rings
    figure = Figure(figsize=(width / MM, (HEAD_MM + deep * rows) / MM))
    panel = (width - SIDE_MM) / max(across, 2) - 5.0
    for n, bore in enumerate(spec.bores):
        left = SIDE_MM + (n % PANELS) * (panel + 5.0)
        top = HEAD_MM + (n // PANELS) * deep
        axes = axes_at(figure, left, top, panel, PANEL_MM)
        bare(axes, theme, keep=("left", "bottom"))
        scale_x(axes, spec.axis, theme)
        _bore(axes, bore, spec, theme, first=n % PANELS == 0)
        if rings:
            below = axes_at(figure, left, top + PANEL_MM + BETWEEN_MM - 2.0, panel, RINGS_MM - 3.0)
            _rings(below, bore, spec, (panel, RINGS_MM - 3.0), theme)
    return figure


def _has_rings(spec: BoreMap) -> bool:
    """Whether bores were measured along and across, which is what a ring is drawn from."""
    return all(len(bore.lines) == 2 for bore in spec.bores)


def _rings(axes: Axes, bore: Bore, spec: BoreMap, size: tuple[float, float], theme: Theme) -> None:
    """The bore from above at each height, its departure from round and size drawn large; along runs level."""
    axes.set_xlim(0.0, size[0])
    axes.set_ylim(size[1], 0.0)
    axes.set_axis_off()
    most = max(abs(spec.axis.low), abs(spec.axis.high))
    step = size[0] / len(spec.heights)
    for n, height in enumerate(spec.heights):
        x, y = (n + 0.5) * step, RING_MM + SWELL_MM + 0.4
        _ring(axes, (x, y), (0.0, 0.0), {"color": theme.light.soft, "linestyle": ":"})
        if spec.limit is not None:
            swell = SWELL_MM * spec.limit.at / most
            _ring(axes, (x, y), (swell, swell), {"color": theme.light.ink, "linestyle": (0, (4, 2))})
        along, across = (line.values[n] for line in bore.lines)
        if along is not None and across is not None:
            swells = (SWELL_MM * along / most, SWELL_MM * across / most)
            _ring(axes, (x, y), swells, {"color": theme.light.accent, "linewidth": theme.chart.thick_pt})
        write(axes, x, size[1] - 1.4, height, theme, ha="center", color=theme.light.soft)


def _ring(axes: Axes, middle: tuple[float, float], swells: tuple[float, float], look: dict[str, Any]) -> None:
    across, down = (2 * (RING_MM + s) for s in swells)
    axes.add_patch(Ellipse(middle, across, down, fill=False, zorder=3, **{"linewidth": 0.7, **look}))


def _bore(axes: Axes, bore: Bore, spec: BoreMap, theme: Theme, *, first: bool) -> None:
    colours, count = theme.light, len(spec.heights)
    axes.set_ylim(count - 0.6, -0.6)
    axes.set_yticks(range(count), spec.heights if first else [""] * count)
    size = {"fontsize": theme.chart.label_pt, "weight": "bold", "color": colours.ink}
    axes.set_title(bore.label, fontdict=size, loc="left", pad=5)
    axes.axvline(0.0, color=colours.line, linewidth=theme.chart.line_pt, zorder=1)
    if spec.limit is not None:
        _bore_limit(axes, spec.limit, theme)
    for line, look in zip(bore.lines, (("-", "o", colours.accent), ("--", "s", colours.paper)), strict=False):
        _bore_line(axes, line, look, theme)
    if first:
        small = {"fontsize": theme.chart.small_pt, "handlelength": 2.2, "borderpad": 0, "columnspacing": 1.0}
        axes.legend(loc="upper left", bbox_to_anchor=(-0.05, -0.28), ncols=2, frameon=False, **small)


def _bore_limit(axes: Axes, edge: Edge, theme: Theme) -> None:
    ink, width = theme.light.ink, theme.chart.thick_pt
    axes.axvline(edge.at, color=ink, linewidth=width, linestyle=(0, (4, 2)), zorder=2, clip_on=False)
    axes.annotate(
        edge.text,
        (edge.at, -0.6),
        xytext=(-2, 0),
        textcoords="offset points",
        ha="right",
        va="top",
        fontsize=theme.chart.small_pt,
        color=ink,
    )


def _bore_line(axes: Axes, line: BoreLine, look: tuple[str, str, str], theme: Theme) -> None:
    style, shape, face = look
    points = [(v, n) for n, v in enumerate(line.values) if v is not None]
    axes.plot(
        [v for v, _ in points],
        [n for _, n in points],
        style,
        marker=shape,
        ms=4.2,
        mfc=face,
        mec=theme.light.accent,
        color=theme.light.accent,
        linewidth=theme.chart.line_pt,
        label=line.name,
        zorder=4,
        clip_on=False,
    )
