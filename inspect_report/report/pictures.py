"""Turns a chart or a picture of a view into the data address that a page puts into ``src``."""

from base64 import b64encode
from dataclasses import dataclass, field
from pathlib import Path

from inspect_report.records.problem import CannotRender
from inspect_report.report.chartspec import ChartSpec
from inspect_report.report.photos import photo_uri
from inspect_report.report.reportparts import Picture
from inspect_report.report.theme import Theme

SMALL_SIDE = 800
"""Longest side of logos and signatures, in pixels."""


@dataclass(frozen=True)
class Pictures:
    """
    Where pictures lie and how charts are drawn.

    ``folder`` is the inspection's own and the only one its photos may lie in; ``shop`` the workshop file's.
    ``letters``: see ``charts.svg``. ``longest``: longest side of a photo in pixels.
    """

    folder: Path
    shop: Path
    theme: Theme
    letters: str
    longest: int
    _made: dict[object, str] = field(default_factory=dict, repr=False)

    def __call__(self, thing: ChartSpec | Picture) -> str:
        """
        The data address of a chart, photo, logo or signature.

        Raises:
            CannotRender: a picture cannot be read, or lies outside the folder it may lie in.
        """
        if thing not in self._made:
            self._made[thing] = self._picture(thing) if isinstance(thing, Picture) else self._chart(thing)
        return self._made[thing]

    def _chart(self, spec: ChartSpec) -> str:
        from inspect_report.report.charts import svg

        text = svg(spec, self.theme, "text" if self.letters == "text" else "shapes")
        return f"data:image/svg+xml;base64,{b64encode(text.encode()).decode()}"

    def _picture(self, picture: Picture) -> str:
        home = self.shop if picture.kind == "logo" else self.folder
        path = inside(home, picture.file)
        return photo_uri(path, self.longest if picture.kind == "photo" else SMALL_SIDE)


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
