"""Turns one chart as data into SVG text whose bytes are the same on every run."""

import io
import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, Final

import matplotlib
from matplotlib import font_manager
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.rcsetup import cycler

from inspect_report.report.charts.bars import draw_bars
from inspect_report.report.charts.curves import draw_gaskets, draw_trend
from inspect_report.report.charts.engine import draw_bores, draw_valves
from inspect_report.report.charts.plan import draw_plan
from inspect_report.report.charts.ranges import draw_ranges, draw_stacks
from inspect_report.report.charts.timing import draw_chain
from inspect_report.report.chartspec import (
    BarChart,
    BoreMap,
    ChainDiagram,
    ChartSpec,
    EnginePlan,
    GasketChart,
    RangeChart,
    StackChart,
    TrendChart,
    ValveMap,
)
from inspect_report.report.fonts import whole_fonts
from inspect_report.report.theme import Theme

_DRAW: Final[dict[type, Callable[..., Figure]]] = {
    BarChart: draw_bars,
    ValveMap: draw_valves,
    BoreMap: draw_bores,
    TrendChart: draw_trend,
    GasketChart: draw_gaskets,
    EnginePlan: draw_plan,
    RangeChart: draw_ranges,
    ChainDiagram: draw_chain,
    StackChart: draw_stacks,
}
_METADATA: Final = re.compile(r"\s*<metadata>.*?</metadata>", re.DOTALL)
_SPACE_NAMES: Final = re.compile(r' xmlns:(?:cc|dc|rdf)="[^"]*"')
_STYLE: Final = re.compile(r"\s*<defs>\s*<style.*?</style>\s*</defs>", re.DOTALL)
_LINES: Final = 'stroke-linejoin="round" stroke-linecap="butt"'
"""What the style sheet taken out says, which would else hold for the whole page around the chart."""
_EMPTY: Final = re.compile(r'\s*<g id="[^"]*"/>')
_GROUP: Final = re.compile(r'<g id="[^"]*">')
_GROUPS: Final = re.compile(r"(<g(?: [^>]*)?>|</g>)")
_NAME: Final = re.compile(r'(\bid="|url\(#|href="#)')
_NO_DATA: Final = {"Date": None, "Creator": None, "Format": None, "Type": None}


@cache
def _fonts_known() -> None:
    for file in whole_fonts():
        font_manager.fontManager.addfont(file)


def _settings(theme: Theme) -> Any:
    return {
        "svg.fonttype": "none",
        "svg.hashsalt": "inspect-report",
        "font.family": [theme.family, theme.fallback],
        "font.size": theme.chart.label_pt,
        "text.color": theme.light.ink,
        "axes.prop_cycle": cycler(color=[theme.light.ink]),
        "hatch.linewidth": 0.8,
        "text.parse_math": False,
        "path.simplify": False,
    }


def svg(spec: ChartSpec, theme: Theme, name: str = "") -> str:
    """
    A chart as SVG without prolog, date, metadata or style sheet; letters stay text.

    Args:
        spec: What to draw, for a page that brings the font along.
        theme: Colours and sizes.
        name: Put before every id, so that several charts can stand in one page.
    """
    _fonts_known()
    with matplotlib.rc_context(_settings(theme)):
        figure = _DRAW[type(spec)](spec, theme)
        figure.patch.set_facecolor(theme.light.paper)
        buffer = io.StringIO()
        draw: Callable[..., None] = FigureCanvasSVG(figure).print_svg
        draw(buffer, metadata=_NO_DATA)
    text = buffer.getvalue()
    return _tidied(text[text.index("<svg") :], name)


def _tidied(text: str, name: str) -> str:
    for needless in (_METADATA, _SPACE_NAMES, _STYLE, _EMPTY):
        text = needless.sub("", text)
    plain = "".join(_without_bare_groups(_GROUP.sub("<g>", text))).replace("<svg ", f"<svg {_LINES} ", 1)
    return _NAME.sub(rf"\g<1>{name}", plain) if name else plain


def _without_bare_groups(text: str) -> Iterator[str]:
    """Groups that say nothing cost as much to print as those that do."""
    telling: list[bool] = []
    for piece in _GROUPS.split(text):
        if piece.startswith("<g"):
            telling.append(piece != "<g>")
            yield piece if telling[-1] else ""
        elif piece == "</g>":
            yield piece if telling.pop() else ""
        else:
            yield piece
