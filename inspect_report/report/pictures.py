"""Turns charts and pictures of a view into what a page holds: data addresses, and drawings in line."""

import re
from base64 import b64encode
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from pathlib import Path
from typing import Final

from markupsafe import Markup, escape

from inspect_report.records.problem import CannotRender
from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.photos import photo_uri, print_pixels
from inspect_report.report.reportparts import Picture
from inspect_report.report.theme import Theme, custom_properties

_GROUND: Final = re.compile(r'(?<=<rect x="0" y="0" width="73" height="73" )fill="(#[0-9a-f]{6})"')
"""What lies below the strokes of a pattern, the one thing coloured by an attribute instead of a style."""
_PAINT: Final = re.compile(r"\b((?:fill|stroke): )(#[0-9a-f]{6})\b")
DRAWING: Final = "drawing:"
"""Begins the address of a chart on paper, which a page names before the chart is drawn."""
_NAMED: Final = re.compile(rf"\b{DRAWING}(\d+)\b")
SMALL_SIDE: Final = 800
"""Longest side of logos and signatures, in pixels."""


@dataclass(frozen=True)
class Pictures:
    """
    Where pictures lie, and every one made so far, so that screen and paper share the work.

    ``folder`` is the inspection's own and the only one its photos may lie in; ``shop`` the workshop file's.
    """

    folder: Path
    shop: Path
    theme: Theme
    _made: dict[object, str] = field(default_factory=dict, repr=False)
    _drawn: dict[ChartSpec, str] = field(default_factory=dict, repr=False)
    _numbers: dict[ChartSpec, int] = field(default_factory=dict, repr=False)

    def __call__(self, thing: ChartSpec | Picture) -> str:
        """
        The data address of a chart, photo, logo or signature.

        Raises:
            CannotRender: a picture cannot be read, or lies outside the folder it may lie in.
        """
        if thing not in self._made:
            self._made[thing] = (
                self._picture(thing) if isinstance(thing, Picture) else _address(self._svg(thing))
            )
        return self._made[thing]

    def named(self, thing: ChartSpec | Picture) -> str:
        """
        As a call, but a chart has an address of its own: it need not be drawn before the page stands.

        What such addresses stand for ``drawings_in`` gives.
        """
        if isinstance(thing, Picture):
            return self(thing)
        return f"{DRAWING}{self._numbers.setdefault(thing, len(self._numbers))}"

    def drawings_in(self, html: str) -> dict[str, bytes]:
        """The charts, as SVG, whose own addresses stand in a page, by address."""
        charts = tuple(self._numbers)
        return {
            found[0]: self._svg(charts[int(found[1])]).encode()
            for found in _NAMED.finditer(html)
            if int(found[1]) < len(charts)
        }

    def drawing(self, spec: ChartSpec) -> Markup:
        """A chart to stand in a page itself, where it finds the page's font and colours, light or dark."""
        label = f'<svg role="img" aria-label="{escape(spec.alt)}" '
        return Markup(in_page_colours(self._svg(spec), self.theme).replace("<svg ", label, 1))  # noqa: S704 - our own drawing, texts escaped

    def know(self, drawings: Mapping[ChartSpec, str]) -> None:
        """Take drawings that were made elsewhere."""
        self._drawn.update(drawings)

    def _svg(self, spec: ChartSpec) -> str:
        if spec not in self._drawn:
            self.know(drawn((spec,), self.theme, len(self._drawn)))
        return self._drawn[spec]

    def _picture(self, picture: Picture) -> str:
        home = self.shop if picture.kind in ("logo", "reference") else self.folder
        path = inside(home, picture.file)
        most = print_pixels(self.theme) if picture.kind == "photo" else (SMALL_SIDE, SMALL_SIDE)
        return photo_uri(path, most, picture.marks, self.theme)


def charts_in(view: object) -> tuple[ChartSpec, ...]:
    """The charts of a view, each once, in the order they are met."""
    return tuple(dict.fromkeys(_charts(view)))


def _charts(thing: object) -> Iterator[ChartSpec]:
    if isinstance(thing, ChartSpec):
        yield thing
    elif isinstance(thing, tuple):
        for part in thing:
            yield from _charts(part)
    elif is_dataclass(thing):
        for one in fields(thing):
            yield from _charts(getattr(thing, one.name))


def drawn(specs: Sequence[ChartSpec], theme: Theme, first: int = 0) -> dict[ChartSpec, str]:
    """
    Charts as SVG.

    Args:
        specs: The charts.
        theme: Colours and sizes.
        first: Number of the first, by which its ids differ from those of others in one page.
    """
    if not specs:
        return {}
    from inspect_report.report.charts import svg

    return {spec: svg(spec, theme, f"c{number}-") for number, spec in enumerate(specs, first)}


def in_page_colours(svg: str, theme: Theme) -> str:
    """
    A drawing whose colours of the light theme are the page's variables, so that they follow the screen.

    A colour that the theme does not name stays as it is.
    """
    from PIL.ImageColor import getrgb

    named = {getrgb(value)[:3]: name for name, value in reversed(custom_properties(theme.light).items())}

    def paint(colour: str) -> str:
        name = named.get(getrgb(colour)[:3])
        return f"var({name})" if name else colour

    in_style = _GROUND.sub(r'style="fill: \1"', svg)
    return _PAINT.sub(lambda found: f"{found[1]}{paint(found[2])}", in_style)


def _address(text: str) -> str:
    return f"data:image/svg+xml;base64,{b64encode(text.encode()).decode()}"


def inside(home: Path, name: str) -> Path:
    """
    The file of a name below a folder, links followed.

    Raises:
        CannotRender: it lies elsewhere.
    """
    root = home.resolve()
    path = (root / name).resolve()
    if not path.is_relative_to(root):
        raise CannotRender(f"{name}: pictures must lie in the folder {home} or below it")
    return path
