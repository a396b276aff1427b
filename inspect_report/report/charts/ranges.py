"""Turns values within their ranges, and sums made of kinds of cost, into rows one below the other."""

from typing import Any, Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from inspect_report.report.charts.ink import MM, axes_at, bare, mark, scale_x
from inspect_report.report.chartspec import RangeChart, RangeRow, StackChart
from inspect_report.report.theme import Theme

ROW_MM, HEAD_MM, FOOT_MM, VALUES_MM = 4.8, 3.0, 10.0, 26.0
STACK_MM, KEY_MM = 9.0, 7.0
HATCHES: Final = ("", "////", "---", "")


def draw_ranges(spec: RangeChart, theme: Theme) -> Figure:
    """A pale band for new parts, an upright stroke for each limit, a mark and its doubt for the value."""
    width, height = theme.chart.width_mm, ROW_MM * len(spec.rows)
    names = 6.0 + 1.55 * max(len(r.label) for r in spec.rows)
    figure = Figure(figsize=(width / MM, (HEAD_MM + height + FOOT_MM) / MM))
    axes = axes_at(figure, names, HEAD_MM, width - names - VALUES_MM, height)
    bare(axes, theme, keep=("bottom",))
    scale_x(axes, spec.axis, theme)
    axes.set_ylim(len(spec.rows) - 0.5, -0.5)
    axes.set_yticks(range(len(spec.rows)), [r.label for r in spec.rows])
    axes.tick_params(axis="y", labelsize=theme.chart.label_pt, labelcolor=theme.light.ink)
    for n, row in enumerate(spec.rows):
        _range(axes, n, row, spec, theme)
    return figure


def _range(axes: Axes, n: int, row: RangeRow, spec: RangeChart, theme: Theme) -> None:
    colours, chart = theme.light, theme.chart
    if row.new_low is not None or row.new_high is not None:
        low = spec.axis.low if row.new_low is None else row.new_low
        high = spec.axis.high if row.new_high is None else row.new_high
        look: dict[str, Any] = {"facecolor": colours.accent_soft, "edgecolor": colours.line, "linewidth": 0.6}
        axes.add_patch(Rectangle((low, n - 0.3), high - low, 0.6, zorder=2, **look))
    for limit in (row.low, row.high):
        if limit is not None:
            axes.plot([limit] * 2, [n - 0.42, n + 0.42], color=colours.ink, linewidth=chart.thick_pt + 0.6)
    ends = [row.value - row.half, row.value + row.half]
    axes.plot(ends, [n, n], color=colours.soft, linewidth=chart.line_pt, zorder=4)
    if row.after is not None:
        axes.plot([row.after], [n], marker="^", ms=5.4, mfc="none", mec=colours.ink, mew=0.9, zorder=4)
    mark(axes, row.value, n, row.tone, theme)
    axes.annotate(
        row.text,
        (1.0, n),
        xycoords=("axes fraction", "data"),
        xytext=(5, 0),
        textcoords="offset points",
        va="center",
        fontsize=chart.label_pt,
        color=colours.ink,
        weight="bold" if row.tone == "beyond-limit" else "normal",
    )


def draw_stacks(spec: StackChart, theme: Theme) -> Figure:
    """Bars made of kinds of cost, each kind with its pattern, the total behind."""
    width, height = theme.chart.width_mm, STACK_MM * len(spec.stacks)
    names = 6.0 + 1.55 * max(len(s.label) for s in spec.stacks)
    values = 6.0 + 1.7 * max(len(s.text) for s in spec.stacks)
    figure = Figure(figsize=(width / MM, (KEY_MM + height + FOOT_MM) / MM))
    axes = axes_at(figure, names, KEY_MM, width - names - values, height)
    bare(axes, theme, keep=("bottom",))
    scale_x(axes, spec.axis, theme)
    axes.set_ylim(len(spec.stacks) - 0.5, -0.5)
    axes.set_yticks(range(len(spec.stacks)), [s.label for s in spec.stacks])
    axes.tick_params(axis="y", labelsize=theme.chart.label_pt, labelcolor=theme.light.ink)
    for n in range(len(spec.stacks)):
        _stack(axes, n, spec, theme)
    _key(axes, spec, theme)
    return figure


def _look(kind: int, theme: Theme) -> dict[str, Any]:
    faces = (theme.light.accent_soft, theme.light.paper, theme.light.paper, theme.light.line)
    at = kind % len(faces)
    return {"facecolor": faces[at], "edgecolor": theme.light.accent, "hatch": HATCHES[at]}


def _stack(axes: Axes, n: int, spec: StackChart, theme: Theme) -> None:
    stack, start = spec.stacks[n], 0.0
    span = spec.axis.high - spec.axis.low
    for piece in stack.segments:
        box = Rectangle((start, n - 0.3), piece.value, 0.6, linewidth=theme.chart.line_pt, zorder=3)
        box.set(**_look(piece.kind, theme))
        axes.add_patch(box)
        if piece.value > 0.02 * len(piece.text) * span:
            axes.text(
                start + piece.value / 2,
                n,
                piece.text,
                ha="center",
                va="center",
                fontsize=theme.chart.small_pt,
                zorder=5,
                bbox={"facecolor": theme.light.paper, "edgecolor": "none", "pad": 0.8},
            )
        start += piece.value
    if stack.reaches > start:
        axes.plot([start, stack.reaches], [n, n], color=theme.light.ink, linewidth=theme.chart.thick_pt)
    axes.annotate(
        stack.text,
        (max(start, stack.reaches), n),
        xytext=(4, 0),
        textcoords="offset points",
        va="center",
        annotation_clip=False,
        fontsize=theme.chart.label_pt,
        weight="bold",
        zorder=6,
    )


def _key(axes: Axes, spec: StackChart, theme: Theme) -> None:
    """The kinds by name, above the bars, in the order they follow each other."""
    patches = []
    for kind, name in enumerate(spec.kinds):
        patch = Rectangle((0, 0), 1, 1, linewidth=theme.chart.line_pt, label=name)
        patch.set(**_look(kind, theme))
        patches.append(patch)
    axes.legend(
        handles=patches,
        loc="lower left",
        bbox_to_anchor=(0.0, 1.0),
        ncols=len(patches),
        frameon=False,
        fontsize=theme.chart.small_pt,
        borderpad=0.1,
        borderaxespad=0.2,
        columnspacing=1.6,
    )
