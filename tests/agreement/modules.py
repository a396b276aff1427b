"""Turns the package into the list of its modules in DEVELOPERS.md: ``python -m tests.agreement.modules``."""

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "inspect_report"
PAGE = ROOT / "DEVELOPERS.md"
START, END = "<!-- modules: made by `python -m tests.agreement.modules` -->\n", "<!-- end of modules -->\n"


def sentence(path: Path) -> str:
    """The first paragraph of a module's docstring in one line, without its full stop."""
    text = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    return " ".join(text.split("\n\n")[0].split()).rstrip(".")


def by_folder(path: Path) -> tuple[Path, str]:
    """Sorts the modules of a folder together."""
    return path.parent, path.name


def modules() -> tuple[Path, ...]:
    """Every module but the packages' own."""
    return tuple(p for p in sorted(PACKAGE.rglob("*.py"), key=by_folder) if p.name != "__init__.py")


def listed() -> str:
    """The list, one line a module, by folder."""
    lines = []
    folder = None
    for path in modules():
        if path.parent != folder:
            folder = path.parent
            lines.append(f"\n**`{folder.relative_to(ROOT)}/`**\n")
        lines.append(f"- `{path.name}`: {sentence(path)}")
    return "\n".join(lines).lstrip("\n") + "\n\n"


def page_with_list() -> str:
    """DEVELOPERS.md with the list as it should be."""
    head, _, rest = PAGE.read_text(encoding="utf-8").partition(START)
    _, _, tail = rest.partition(END)
    return f"{head}{START}\n{listed()}{END}{tail}"


if __name__ == "__main__":
    PAGE.write_text(page_with_list(), encoding="utf-8")
