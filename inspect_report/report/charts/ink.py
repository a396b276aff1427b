"""Defines how a verdict looks in a chart: pattern and weight first, so that grey paper tells it too."""

from dataclasses import dataclass
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.textpath import TextPath

from inspect_report.report.chartspec import Axis, Value
from inspect_report.report.theme import Colours, Theme

MM = 25.4
POINTS = 72.0


@dataclass(frozen=True, slots=True)
class Fill:
    """How a bar or mark of one verdict is filled."""

    face: str
    edge: str
    hatch: str = ""
    dashed: bool = False


def fill_of(tone: str, c: Colours) -> Fill:
    """Fill of a verdict: open, pale, hatched, dotted, solid."""
    fills = {
        "as-new": Fill(c.paper, c.soft),
        "serviceable": Fill(c.accent_soft, c.accent),
        "marginal": Fill(c.paper, c.accent, "/////"),
        "undecided": Fill(c.paper, c.accent, "||||", dashed=True),
        "beyond-limit": Fill(c.ink, c.ink),
    }
    return fills.get(tone, Fill(c.paper, c.soft, dashed=True))


def bar(axes: Axes, corner: tuple[float, float], size: tuple[float, float], tone: str, theme: Theme) -> None:
    """A filled box in data units."""
    fill = fill_of(tone, theme.light)
    axes.add_patch(
        Rectangle(
            corner,
            *size,
            facecolor=fill.face,
            edgecolor=fill.edge,
            hatch=fill.hatch,
            linewidth=theme.chart.line_pt,
            linestyle="--" if fill.dashed else "-",
            zorder=3,
        )
    )


def mark(axes: Axes, x: float, y: float, tone: str, theme: Theme) -> None:
    """A mark for a single value: open, pale or solid, a square where it is not in order."""
    fill = fill_of(tone, theme.light)
    shape = {"marginal": "D", "undecided": "s", "beyond-limit": "s"}.get(tone, "o")
    solid = tone == "beyond-limit"
    line = Line2D(
        [x], [y], marker=shape, markersize=5.2, markerfacecolor=theme.light.ink if solid else fill.face
    )
    line.set(markeredgecolor=fill.edge, markeredgewidth=1.2, zorder=5, linestyle="none")
    axes.add_line(line)


def axes_at(figure: Figure, left: float, top: float, width: float, height: float) -> Axes:
    """Axes at a place in millimetres from the upper left corner."""
    across, down = (n * MM for n in figure.get_size_inches())
    return figure.add_axes((left / across, 1.0 - (top + height) / down, width / across, height / down))


def sheet(width: float, height: float) -> tuple[Figure, Axes]:
    """A figure to draw on in millimetres, from its upper left corner."""
    figure = Figure(figsize=(width / MM, height / MM))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0.0, width)
    axes.set_ylim(height, 0.0)
    axes.set_axis_off()
    return figure, axes


def write(axes: Axes, x: float, y: float, text: str, theme: Theme, **how: Any) -> None:
    """Words at a place: small, level with it, to its right, unless told otherwise."""
    look: dict[str, Any] = {
        "fontsize": theme.chart.small_pt,
        "color": theme.light.ink,
        "ha": "left",
        "va": "center_baseline",
        "zorder": 7,
    }
    axes.text(x, y, text, **{**look, **how})


def fitting(text: str, points: float, room: float) -> float:
    """The size of letters at which a text fits into some room in millimetres: as asked for, or smaller."""
    wide = TextPath((0.0, 0.0), text, size=points).get_extents().width / POINTS * MM if text else 0.0
    return points if wide <= room else points * room / wide


def tell(axes: Axes, x: float, y: float, value: Value, theme: Theme, **how: Any) -> None:
    """A value at a place, heavy where it is beyond its limit."""
    weight = "bold" if value.tone == "beyond-limit" else "normal"
    write(axes, x, y, value.text, theme, weight=weight, **how)


def bare(axes: Axes, theme: Theme, *, keep: tuple[str, ...] = ()) -> None:
    """Axes without frame, but for the sides named."""
    for side, spine in axes.spines.items():
        spine.set_visible(side in keep)
        spine.set_color(theme.light.line)
        spine.set_linewidth(theme.chart.line_pt)
    axes.tick_params(length=0, labelsize=theme.chart.small_pt, colors=theme.light.soft, pad=3)


def scale_x(axes: Axes, axis: Axis, theme: Theme, *, named: bool = True) -> None:
    """The scale along the bottom, with fine upright lines."""
    axes.set_xlim(axis.low, axis.high)
    axes.set_xticks([t for t, _ in axis.ticks], [text for _, text in axis.ticks])
    axes.grid(axis="x", color=theme.light.tint, linewidth=theme.chart.line_pt, zorder=0)
    axes.set_axisbelow(True)
    if named:
        axes.set_xlabel(axis.label, fontsize=theme.chart.small_pt, color=theme.light.soft, labelpad=3)


def scale_y(axes: Axes, axis: Axis, theme: Theme, *, named: bool = True) -> None:
    """The scale up the side, with fine level lines."""
    axes.set_ylim(axis.low, axis.high)
    axes.set_yticks([t for t, _ in axis.ticks], [text for _, text in axis.ticks])
    axes.grid(axis="y", color=theme.light.tint, linewidth=theme.chart.line_pt, zorder=0)
    axes.set_axisbelow(True)
    if named:
        axes.set_ylabel(axis.label, fontsize=theme.chart.small_pt, color=theme.light.soft, labelpad=4)
