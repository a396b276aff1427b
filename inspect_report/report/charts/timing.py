"""Turns a timing chain into a diagram: sprockets, tensioner and how late each camshaft runs."""

import math
from typing import Any, Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Rectangle

from inspect_report.report.charts.ink import fitting, mark, sheet, tell, write
from inspect_report.report.chartspec import LATE_TIMES, ChainCam, ChainDiagram, Value
from inspect_report.report.theme import Theme

HEIGHT_MM, CAM_Y, CAM_R, CRANK_Y, CRANK_R, APART_MM = 64.0, 16.0, 10.0, 56.0, 5.0, 28.0
LINE_MM: Final = 4.6


def draw_chain(spec: ChainDiagram, theme: Theme) -> Figure:
    """Camshafts above, crankshaft below; values of the first camshaft to the left, of others to the right."""
    figure, axes = sheet(theme.chart.width_mm, HEIGHT_MM)
    middle = theme.chart.width_mm / 2
    xs = [middle + (n - (len(spec.cams) - 1) / 2) * APART_MM for n in range(len(spec.cams))]
    _chain(axes, xs, middle, theme)
    axes.add_patch(
        Circle((middle, CRANK_Y), CRANK_R, facecolor=theme.light.tint, edgecolor=theme.light.ink, zorder=3)
    )
    write(axes, middle + CRANK_R + 4.0, CRANK_Y, spec.crank, theme, color=theme.light.soft)
    for n, (x, cam) in enumerate(zip(xs, spec.cams, strict=True)):
        _cam(axes, x, cam, theme)
        _cam_words(axes, x, cam, n, len(xs), theme)
    _tensioner(axes, xs[0], middle, theme)
    _list(axes, _strand(xs[0], middle) - 8.0, 36.0, spec.tensioner, theme, right=True)
    _list(axes, xs[-1] + CAM_R + 6.0, 36.0, spec.chain, theme, right=False)
    return figure


def _chain(axes: Axes, xs: list[float], middle: float, theme: Theme) -> None:
    look: dict[str, Any] = {"color": theme.light.line, "linewidth": 2 * theme.chart.thick_pt}
    axes.plot([middle - CRANK_R, xs[0] - CAM_R], [CRANK_Y, CAM_Y], zorder=2, **look)
    axes.plot([middle + CRANK_R, xs[-1] + CAM_R], [CRANK_Y, CAM_Y], zorder=2, **look)
    if len(xs) > 1:
        axes.plot([xs[0], xs[-1]], [CAM_Y - CAM_R, CAM_Y - CAM_R], zorder=2, **look)


def _cam(axes: Axes, x: float, cam: ChainCam, theme: Theme) -> None:
    """The sprocket: dashed where the camshaft should stand, a hand where it stands, a stroke at the limit."""
    ink, soft = theme.light.ink, theme.light.soft
    axes.add_patch(Circle((x, CAM_Y), CAM_R, facecolor=theme.light.tint, edgecolor=ink, zorder=3))
    axes.plot([x, x], [CAM_Y, CAM_Y - CAM_R], color=soft, linewidth=0.9, linestyle="--", zorder=4)
    if cam.limit is not None:
        inner, outer = (_at(x, cam.limit, r) for r in (CAM_R - 3.0, CAM_R + 1.2))
        axes.plot([inner[0], outer[0]], [inner[1], outer[1]], color=ink, linewidth=2.2, zorder=5)
    if cam.late is not None:
        tip = _at(x, cam.late, CAM_R - 0.8)
        axes.plot([x, tip[0]], [CAM_Y, tip[1]], color=theme.light.accent, linewidth=2.4, zorder=6)
        mark(axes, *_at(x, cam.late, CAM_R - 1.2), cam.text.tone, theme)
    axes.plot([x], [CAM_Y], marker="o", ms=3.0, color=ink, zorder=7)


def _at(x: float, degrees: float, radius: float) -> tuple[float, float]:
    """A place on a sprocket, turned from its top against the way it runs."""
    angle = math.radians(max(-90.0, min(90.0, -LATE_TIMES * degrees)))
    return x + radius * math.sin(angle), CAM_Y - radius * math.cos(angle)


def _cam_words(axes: Axes, x: float, cam: ChainCam, n: int, count: int, theme: Theme) -> None:
    if n == 0:
        tell(axes, x - CAM_R - 6.0, CAM_Y, cam.text, theme, ha="right")
    elif n == count - 1:
        tell(axes, x + CAM_R + 6.0, CAM_Y, cam.text, theme)
    else:
        tell(axes, x, CAM_Y + CAM_R + 3.0 + LINE_MM * (n % 2), cam.text, theme, ha="center")


def _strand(x: float, middle: float) -> float:
    """Where the left strand runs, half way between the sprockets."""
    return (x - CAM_R + middle - CRANK_R) / 2


def _tensioner(axes: Axes, x: float, middle: float, theme: Theme) -> None:
    """A block that presses on the left strand."""
    strand = _strand(x, middle)
    axes.add_patch(
        Rectangle((strand - 6.5, 33.5), 4.5, 5.0, facecolor=theme.light.line, edgecolor=theme.light.ink)
    )
    axes.plot([strand - 2.0, strand - 0.2], [36.0, 36.0], color=theme.light.ink, linewidth=2.0, zorder=3)


def _list(axes: Axes, x: float, y: float, values: tuple[Value, ...], theme: Theme, *, right: bool) -> None:
    """Values one below the other, each with its mark."""
    first = y - LINE_MM * (len(values) - 1) / 2
    room = (x if right else theme.chart.width_mm - x) - 4.0
    for n, value in enumerate(values):
        at = first + n * LINE_MM
        mark(axes, x + (-1.0 if right else 1.0), at - 0.2, value.tone, theme)
        size = fitting(value.text, theme.chart.small_pt, room)
        tell(
            axes,
            x + (-3.6 if right else 3.6),
            at,
            value,
            theme,
            ha="right" if right else "left",
            fontsize=size,
        )
