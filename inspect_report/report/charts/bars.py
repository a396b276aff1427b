"""Turns bar charts into drawings: bars one below the other, name before and value behind."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from inspect_report.report.charts.ink import MM, axes_at, bar, bare, fitting, scale_x
from inspect_report.report.chartspec import BarChart, Row
from inspect_report.report.theme import Theme

ROW_MM, HEAD_MM, FOOT_MM, NAMES_MM, VALUES_MM = 4.8, 6.0, 10.0, 62.0, 30.0


def draw_bars(spec: BarChart, theme: Theme) -> Figure:
    """Horizontal bars from zero with their limits as upright lines."""
    width, height = theme.chart.width_mm, ROW_MM * len(spec.rows)
    names = min(NAMES_MM, 6.0 + 1.55 * max(len(r.label) for r in spec.rows))
    values = max(VALUES_MM, 4.0 + 1.5 * max(len(r.text) for r in spec.rows))
    figure = Figure(figsize=(width / MM, (HEAD_MM + height + FOOT_MM) / MM))
    axes = axes_at(figure, names, HEAD_MM, width - names - values, height)
    bare(axes, theme, keep=("bottom",))
    scale_x(axes, spec.axis, theme)
    axes.set_ylim(len(spec.rows) - 0.5, -0.5)
    axes.set_yticks(range(len(spec.rows)), [r.label for r in spec.rows])
    axes.tick_params(axis="y", labelsize=theme.chart.label_pt, labelcolor=theme.light.ink)
    for label in axes.get_yticklabels():
        label.set_fontsize(fitting(label.get_text(), theme.chart.label_pt, names - 2.0))
    for n, row in enumerate(spec.rows):
        _row(axes, n, row, spec.axis.high, theme)
    for edge in spec.edges:
        axes.axvline(
            edge.at, color=theme.light.ink, linewidth=theme.chart.thick_pt, linestyle=(0, (4, 2)), zorder=4
        )
        axes.annotate(
            edge.text,
            (edge.at, -0.5),
            xytext=(0, 3),
            textcoords="offset points",
            ha="center",
            va="bottom",
            fontsize=theme.chart.small_pt,
            color=theme.light.ink,
        )
    return figure


def _row(axes: Axes, n: int, row: Row, most: float, theme: Theme) -> None:
    length = min(row.value, most)
    bar(axes, (0.0, n - 0.31), (length, 0.62), row.tone, theme)
    if row.spread:
        ends = [max(0.0, row.value - row.spread), min(most, row.value + row.spread)]
        axes.plot(ends, [n, n], color=theme.light.paper, linewidth=theme.chart.thick_pt + 1.6, zorder=5)
        axes.plot(ends, [n, n], color=theme.light.soft, linewidth=theme.chart.thick_pt, zorder=6)
    text = row.text if row.value <= most else f"→ {row.text}"
    weight = "bold" if row.tone == "beyond-limit" else "normal"
    reach = min(most, row.value + row.spread)
    axes.annotate(
        text,
        (reach, n),
        xytext=(4, 0),
        textcoords="offset points",
        va="center",
        annotation_clip=False,
        fontsize=theme.chart.label_pt,
        color=theme.light.ink,
        weight=weight,
        zorder=7,
        bbox={"facecolor": theme.light.paper, "edgecolor": "none", "pad": 0.8},
    )
