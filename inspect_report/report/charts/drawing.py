"""Turns one chart as data into SVG text whose bytes are the same on every run."""

import io
import re
from collections.abc import Callable
from functools import cache
from typing import Any, Final, Literal

import matplotlib
from matplotlib import font_manager
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure

from inspect_report.places import fonts_dir
from inspect_report.report.charts.bars import draw_bars
from inspect_report.report.charts.curves import draw_gaskets, draw_trend
from inspect_report.report.charts.engine import draw_bores, draw_valves
from inspect_report.report.chartspec import BarChart, BoreMap, ChartSpec, GasketChart, TrendChart, ValveMap
from inspect_report.report.theme import Theme

Letters = Literal["text", "shapes"]
"""``text`` for a page that brings the font along; ``shapes`` look alike anywhere."""

_DRAW: Final[dict[type, Callable[..., Figure]]] = {
    BarChart: draw_bars,
    ValveMap: draw_valves,
    BoreMap: draw_bores,
    TrendChart: draw_trend,
    GasketChart: draw_gaskets,
}
_METADATA: Final = re.compile(r"\s*<metadata>.*?</metadata>", re.DOTALL)
_SPACE_NAMES: Final = re.compile(r' xmlns:(?:cc|dc|rdf)="[^"]*"')
_NO_DATA: Final = {"Date": None, "Creator": None, "Format": None, "Type": None}


@cache
def _fonts_known() -> None:
    for file in sorted(fonts_dir().glob("*.ttf")):
        font_manager.fontManager.addfont(file)


def _settings(theme: Theme, letters: Letters) -> Any:
    return {
        "svg.fonttype": "none" if letters == "text" else "path",
        "svg.hashsalt": "inspect-report",
        "font.family": [theme.family, theme.fallback],
        "font.size": theme.chart.label_pt,
        "text.color": theme.light.ink,
        "hatch.linewidth": 0.8,
        "text.parse_math": False,
        "path.simplify": False,
    }


def svg(spec: ChartSpec, theme: Theme, letters: Letters) -> str:
    """
    A chart as SVG without prolog, date or metadata.

    Args:
        spec: What to draw.
        theme: Colours and sizes.
        letters: ``text`` for a page that brings the font along, else ``shapes``.
    """
    _fonts_known()
    with matplotlib.rc_context(_settings(theme, letters)):
        figure = _DRAW[type(spec)](spec, theme)
        figure.patch.set_facecolor(theme.light.paper)
        buffer = io.StringIO()
        draw: Callable[..., None] = FigureCanvasSVG(figure).print_svg
        draw(buffer, metadata=_NO_DATA)
    text = buffer.getvalue()
    return _SPACE_NAMES.sub("", _METADATA.sub("", text[text.index("<svg") :]))
