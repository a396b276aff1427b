"""Labels of charts in every language, measured as they are drawn."""

from collections.abc import Callable
from itertools import pairwise

import matplotlib
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from inspect_report.places import languages
from inspect_report.report.charts import drawing
from inspect_report.report.charts.engine import draw_valves
from inspect_report.report.chartspec import Axis, Gap, ValveMap, ValveRow
from inspect_report.report.theme import theme
from inspect_report.telling.manner import Manner, telling
from inspect_report.telling.positions import valve_in_short


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("side", ["inlet", "exhaust"])
@pytest.mark.parametrize(("cylinders", "valves"), [(4, 2), (3, 3), (6, 1)])
def test_labels_below_valves_do_not_run_into_each_other(
    language: str, side: str, cylinders: int, valves: int
) -> None:
    """Nor over the edge of the drawing."""
    look = theme()
    with telling(Manner(language)):
        names = [valve_in_short(f"{side}-{n}") for n in range(1, valves + 1)]
    gaps = tuple(Gap(name, 0.2, "0.20", "as-new", 0.1, 0.3) for name in names)
    row = ValveRow("", (gaps,) * cylinders)
    chart = ValveMap("", "", "", Axis(0.0, 0.4, (), ""), ("",) * cylinders, (row,))
    drawing._fonts_known()
    with matplotlib.rc_context(drawing._settings(look)):
        figure = draw_valves(chart, look)
        draw: Callable[[], None] = FigureCanvasAgg(figure).draw
        draw()
    boxes = [label.get_window_extent() for axes in figure.axes for label in axes.get_xticklabels()]
    assert len(boxes) == cylinders * valves
    assert all(left.x1 + 2.0 < right.x0 for left, right in pairwise(boxes))
    assert figure.bbox.x0 <= boxes[0].x0
    assert boxes[-1].x1 <= figure.bbox.x1
