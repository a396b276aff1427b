"""Turns a view into HTML by the templates; a workshop's own folder of templates is looked into first."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from traceback import extract_tb
from typing import Any, Final, Literal

from jinja2 import FileSystemLoader, StrictUndefined, TemplateError, UndefinedError
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from inspect_report.places import templates_dir
from inspect_report.records.languages import ENGLISH
from inspect_report.records.problem import CannotRender
from inspect_report.report.bound import Bound
from inspect_report.report.compiled import Compiled
from inspect_report.report.fonts import fallback, whole_fonts
from inspect_report.report.spacing import spaced
from inspect_report.report.theme import Theme, custom_properties, sizes, variables
from inspect_report.telling.manner import manner, say, telling

Medium = Literal["screen", "paper", "frame"]
NOTHING: Final = Bound(0, ())
FIGURES: Final = "Inter Figures"
FEW_PAGES: Final = 4
"""So few pages need no list of chapters."""
FACES: Final = (
    ("Inter-Regular.ttf", 400, "normal"),
    ("Inter-Italic.ttf", 400, "italic"),
    ("Inter-SemiBold.ttf", 600, "normal"),
    ("Inter-Bold.ttf", 700, "normal"),
)


def environment(
    own: Path | None, picture: Callable[[Any], str], drawing: Callable[[Any], str] | None = None
) -> ImmutableSandboxedEnvironment:
    """
    The template environment: everything escaped, nothing undefined, nothing of Python to reach.

    Args:
        own: A folder whose files take the place of shipped ones of the same name.
        picture: What the filter ``picture`` does: gives an address.
        drawing: What the filter ``drawing`` does: gives a chart in line; when left out, as ``picture``.
    """
    folders = [*([own] if own else []), templates_dir()]
    made = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(folders),
        autoescape=True,
        undefined=StrictUndefined,
        bytecode_cache=Compiled(),
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters.update(picture=picture, drawing=drawing or picture, stacked=_stacked)
    made.globals["say"] = _said
    return made


def _said(message: str, /, **named: object) -> Markup:
    """A message of a template in the page's language; what is filled in is escaped, as everything is."""
    return Markup(say(message)).format(**named)  # noqa: S704 - our own messages


def _stacked(told: str) -> Markup:
    """An amount told in two units on two lines, for a narrow cell; in one unit it stays as it is."""
    metric, bracket, imperial = told.partition(" (")
    return Markup("{}<br>{}").format(metric, f"({imperial}") if bracket else Markup("{}").format(told)


def page(
    made: ImmutableSandboxedEnvironment,
    template: str,
    view: object,
    medium: Medium,
    css: str,
    inside: Bound = NOTHING,
) -> str:
    """
    A view as HTML.

    Args:
        made: The environment.
        template: Name of the template.
        view: The view.
        medium: What it is made for; ``frame`` is what stands around the pages of a PDF.
        css: Style sheets that go into the page.
        inside: For a frame, what it stands around; the template knows its pages as ``sheets``, its
            ``chapters`` by ``title`` and ``page``.

    Raises:
        CannotRender: a template is missing or at fault; the message names it and the line.
    """
    try:
        styles = Markup(css)  # noqa: S704 - our own files
        inner = {
            "sheets": range(1, inside.pages + 1),
            "chapters": inside.chapters if inside.pages > FEW_PAGES else (),
        }
        with telling(replace(manner(), language=getattr(view, "language", ENGLISH))):
            html = made.get_template(template).render(page=view, medium=medium, css=styles, **inner)
            return spaced(html)
    except TemplateError as fault:
        what = "a name that no view has" if isinstance(fault, UndefinedError) else "a fault in the template"
        raise CannotRender(f"{_where(fault, template)}: {what}: {fault.message or fault}") from None
    except (TypeError, ArithmeticError) as fault:
        if not _frames(fault)[-1][0].endswith(".html"):
            raise
        raise CannotRender(f"{_where(fault, template)}: a fault in the template: {fault}") from None


def _frames(fault: BaseException) -> list[tuple[str, int]]:
    """Files and lines a fault came through; the template library gives those of templates, too."""
    return [(f.filename, f.lineno or 0) for f in extract_tb(fault.__traceback__)]


def _where(fault: BaseException, template: str) -> str:
    """The template and its line, as an editor opens them."""
    line = getattr(fault, "lineno", None)
    name = getattr(fault, "filename", None) or getattr(fault, "name", None)
    if line:
        return f"{name or template}:{line}"
    inside = [f"{path}:{number}" for path, number in _frames(fault) if path.endswith(".html")]
    return inside[-1] if inside else template


def stylesheet(name: str, own: Path | None) -> str:
    """
    The text of a style sheet.

    Raises:
        CannotRender: it cannot be read.
    """
    for folder in (own, templates_dir()):
        if folder is not None and (folder / name).is_file():
            try:
                return (folder / name).read_text(encoding="utf-8")
            except (OSError, UnicodeDecodeError) as fault:
                raise CannotRender(f"{folder / name}: cannot be read: {fault}") from None
    raise CannotRender(f"{name}: no such style sheet in {templates_dir()}")


def _family(theme: Theme) -> str:
    return f'"{theme.family}", "{theme.fallback}", sans-serif'


def with_colours(css: str, theme: Theme) -> str:
    """A style sheet with values in place of its variables, for paper, where looking them up is slow."""
    named = {**custom_properties(theme.light), **sizes(theme.photo)}
    values = {f"var({name})": value for name, value in named.items()}
    for name, value in {**values, "var(--family)": _family(theme)}.items():
        css = css.replace(name, value)
    return css


def root_rules(theme: Theme) -> str:
    """Colours and type of the theme as CSS variables; the dark ones only on screens."""
    family = f"--family: {_family(theme)};"
    return (
        f":root {{ {variables(theme.light)} {family} }}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{ {variables(theme.dark)} }} }}\n"
    )


def font_faces(address: Callable[[Path], str], files: tuple[str, ...] | None = None) -> str:
    """
    Rules that bring the shipped family along.

    Args:
        address: Gives the address of a font file.
        files: Names of the files wanted; all of them when left out.

    Raises:
        CannotRender: a font is missing or damaged.
    """
    paths = {path.name: path for path in whole_fonts()}
    wanted = [face for face in FACES if files is None or face[0] in files]
    return "\n".join(_face("Inter", weight, style, address(paths[name])) for name, weight, style in wanted)


def figure_faces(address: Callable[[Path], str]) -> str:
    """
    Rules that bring the family along once more, with digits all alike in width, for columns on paper.

    Asked for by ``font-variant-numeric`` the same digits cost the printing library memory with every cell.

    Raises:
        CannotRender: a font is missing or damaged.
    """
    paths = {path.name: path for path in whole_fonts()}
    upright = [face for face in FACES if face[2] == "normal"]
    faces = (_face(FIGURES, weight, style, address(paths[name])) for name, weight, style in upright)
    return "\n".join(face.replace("src:", 'font-feature-settings: "tnum"; src:') for face in faces)


def fallback_face(address: Callable[[Path], str]) -> str:
    """
    The rule that brings the font for rare signs along, so that no machine looks for one of its own.

    Raises:
        CannotRender: it is missing.
    """
    return _face("DejaVu Sans", 400, "normal", address(fallback()))


def _face(family: str, weight: int, style: str, address: str) -> str:
    return (
        f'@font-face {{ font-family: "{family}"; font-weight: {weight}; font-style: {style}; '
        f'src: url("{address}") format("truetype"); }}'
    )
