"""Turns trends and gasket grades into drawings in a plane."""

from typing import Any, Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from inspect_report.report.charts.ink import MM, axes_at, bare, scale_x, scale_y
from inspect_report.report.chartspec import Choice, Edge, GasketChart, Line, TrendChart
from inspect_report.report.theme import Theme

LEFT_MM, TOP_MM, FOOT_MM = 14.0, 5.0, 11.0
HALF: Final = 0.485
"""Trends stand two abreast."""
MARKS = ("o", "s", "^", "D", "v", "P")


def _frame(theme: Theme, share: float, height: float, right: float) -> tuple[Figure, Axes]:
    """Axes in a figure that takes a share of the page's width; height and right margin in millimetres."""
    width = share * theme.chart.width_mm
    figure = Figure(figsize=(width / MM, (TOP_MM + height + FOOT_MM) / MM))
    axes = axes_at(figure, LEFT_MM, TOP_MM, width - LEFT_MM - right, height)
    bare(axes, theme, keep=("left", "bottom"))
    return figure, axes


def draw_trend(spec: TrendChart, theme: Theme) -> Figure:
    """Readings with their uncertainty, the line through them, its band, and the limit."""
    several = any(line.name for line in spec.lines)
    figure, axes = _frame(theme, HALF, 38.0, 17.0 if several and not spec.fit else 4.0)
    scale_x(axes, spec.x_axis, theme)
    scale_y(axes, spec.y_axis, theme)
    if spec.band:
        xs, low, high = zip(*spec.band, strict=True)
        axes.fill_between(xs, low, high, color=theme.light.accent_soft, linewidth=0, zorder=1)
    if spec.fit:
        axes.plot(
            *zip(*spec.fit, strict=True), color=theme.light.accent, linewidth=theme.chart.thick_pt, zorder=2
        )
    for line in spec.lines:
        _points(axes, line, theme, joined=not spec.fit)
    if several and spec.fit:
        _key(axes, spec.lines, theme)
    if spec.limit is not None:
        _level(axes, spec.limit, theme)
    if spec.meets is not None and spec.x_axis.low < spec.meets.at <= spec.x_axis.high:
        axes.axvline(
            spec.meets.at, color=theme.light.soft, linewidth=theme.chart.line_pt, linestyle=":", zorder=2
        )
        axes.annotate(
            spec.meets.text,
            (spec.meets.at, spec.y_axis.low),
            xytext=(-3, 3),
            textcoords="offset points",
            ha="right",
            fontsize=theme.chart.small_pt,
            color=theme.light.ink,
        )
    return figure


def _key(axes: Axes, lines: tuple[Line, ...], theme: Theme) -> None:
    """The marks of several parts above the picture: beside its line their names would hide readings."""
    handles = [Line2D([], [], **_look(line, theme), linestyle="none") for line in lines]
    axes.legend(
        handles,
        [line.name for line in lines],
        loc="lower left",
        bbox_to_anchor=(-0.02, 0.98),
        ncols=len(lines),
        frameon=False,
        fontsize=theme.chart.small_pt,
        handletextpad=0.1,
        columnspacing=1.0,
        borderpad=0.1,
    )


def _look(line: Line, theme: Theme) -> dict[str, Any]:
    """The mark of a line's readings."""
    return {
        "marker": MARKS[line.mark % len(MARKS)],
        "markersize": 4.6,
        "markerfacecolor": theme.light.paper,
        "markeredgecolor": theme.light.ink,
        "markeredgewidth": 1.1,
    }


def _points(axes: Axes, line: Line, theme: Theme, *, joined: bool) -> None:
    xs, ys = [p.x for p in line.points], [p.y for p in line.points]
    axes.errorbar(
        xs,
        ys,
        yerr=[p.half for p in line.points],
        fmt="none",
        ecolor=theme.light.soft,
        elinewidth=0.9,
        capsize=2,
        zorder=4,
        clip_on=False,
    )
    axes.plot(xs, ys, linestyle="none", zorder=4.5, clip_on=False, **_look(line, theme))
    if joined and len(xs) > 1:
        axes.plot(xs, ys, color=theme.light.soft, linewidth=theme.chart.line_pt, linestyle="--", zorder=3)
    if line.name and joined:
        axes.annotate(
            line.name,
            (xs[-1], ys[-1]),
            xytext=(6, -2),
            textcoords="offset points",
            fontsize=theme.chart.small_pt,
            color=theme.light.ink,
            annotation_clip=False,
            zorder=6,
            bbox={"facecolor": theme.light.paper, "edgecolor": "none", "pad": 0.5},
        )


def _level(axes: Axes, edge: Edge, theme: Theme) -> None:
    axes.axhline(
        edge.at, color=theme.light.ink, linewidth=theme.chart.thick_pt, linestyle=(0, (4, 2)), zorder=3
    )
    axes.annotate(
        edge.text,
        (0.0, edge.at),
        xycoords=("axes fraction", "data"),
        xytext=(3, 2),
        textcoords="offset points",
        ha="left",
        va="bottom",
        fontsize=theme.chart.small_pt,
        color=theme.light.ink,
        annotation_clip=False,
        zorder=6,
    )


def draw_gaskets(spec: GasketChart, theme: Theme) -> Figure:
    """Grades as marks between a floor of squish gap and a ceiling of ratio."""
    figure, axes = _frame(theme, 1.0, 36.0, 30.0)
    scale_x(axes, spec.x_axis, theme)
    scale_y(axes, spec.y_axis, theme)
    shade: dict[str, Any] = {
        "facecolor": theme.light.tint,
        "edgecolor": theme.light.line,
        "hatch": "///",
        "linewidth": 0,
        "zorder": 1,
    }
    if spec.floor is not None:
        axes.axvspan(spec.x_axis.low, spec.floor.at, **shade)
        axes.annotate(
            spec.floor.text,
            (spec.floor.at, spec.y_axis.low),
            xytext=(3, 3),
            textcoords="offset points",
            fontsize=theme.chart.small_pt,
            color=theme.light.ink,
        )
    if spec.ceiling is not None:
        axes.axhspan(spec.ceiling.at, spec.y_axis.high, **shade)
        _level(axes, spec.ceiling, theme)
    for choice in spec.choices:
        across = (choice.x - spec.x_axis.low) / (spec.x_axis.high - spec.x_axis.low)
        _choice(axes, choice, theme, left=across > 0.7)
    return figure


def _choice(axes: Axes, choice: Choice, theme: Theme, *, left: bool) -> None:
    face = theme.light.ink if choice.chosen else theme.light.paper
    axes.plot([choice.x], [choice.y], marker="o", ms=6, mfc=face, mec=theme.light.ink, mew=1.2, zorder=4)
    axes.annotate(
        choice.label,
        (choice.x, choice.y),
        xytext=(-6 if left else 6, 5 if left else -8),
        textcoords="offset points",
        ha="right" if left else "left",
        fontsize=theme.chart.small_pt,
        color=theme.light.ink,
        weight="bold" if choice.chosen else "normal",
        annotation_clip=False,
        zorder=5,
    )
