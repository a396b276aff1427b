"""Turns planted faults into proof that the checkers of pages on a screen see them, each only where it is."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.validity import browser as browsers
from tests.validity import checkers
from tests.validity.browser import Browser, BrowserFault
from tests.validity.screens import DESK, LOOKS, PHONE, barriers, printed, shown_without_scripts, ways_out
from tests.validity.test_checkers import page

GOOD_PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Bores</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>body { color: #111; background: #fff }
@media (prefers-color-scheme: dark) { body { color: #eee; background: #111 } }
/* planted style */</style></head>
<body><main><h1>Bores</h1><p>All four measured.</p>
<details><summary>why</summary><p>By bore gauge.</p></details></main></body></html>
"""
TEXT = "<p>All four measured.</p>"
STYLE = "/* planted style */"
HINT = "p { color: #888; background: #777 }"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One browser for all pages."""
    with Browser() as started:
        yield started


def test_a_good_page_has_no_fault(tmp_path: Path, browser: Browser) -> None:
    """A small page without barriers passes every look, and one sheet of paper takes it."""
    path = page(tmp_path, GOOD_PAGE)
    assert barriers(browser, path) == []
    assert shown_without_scripts(browser, path) == []
    assert ways_out(path) == []
    assert printed(browser, path).startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("fine", "planted", "rule"),
    [
        (TEXT, '<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">', "image-alt"),
        ('<html lang="en">', "<html>", "html-has-lang"),
        (TEXT, '<p style="color: #777; background: #777">Bore 4 is worn.</p>', "color-contrast"),
        (
            TEXT,
            '<div style="height: 2em; overflow-y: auto"><br><br><br><br>Bore 4</div>',
            "scrollable-region",
        ),
        (TEXT, '<p><button style="width: 9px; height: 9px"></button></p>', "button-name"),
        ("<main>", "<div>", "landmark-one-main"),
    ],
)
def test_a_planted_barrier_is_told(
    tmp_path: Path, browser: Browser, fine: str, planted: str, rule: str
) -> None:
    """What keeps a reader out is told by the rule it breaks, in every look."""
    faults = barriers(browser, page(tmp_path, GOOD_PAGE.replace(fine, planted)))
    assert len([fault for fault in faults if f": {rule}" in fault]) == len(LOOKS), faults


@pytest.mark.parametrize(
    "planted", ["<svg></svg>", '<svg role="img"></svg>', '<svg aria-label="Bores"></svg>']
)
def test_a_drawing_without_a_text_is_told(tmp_path: Path, browser: Browser, planted: str) -> None:
    """Who cannot see a chart is told of it by its label."""
    faults = barriers(browser, page(tmp_path, GOOD_PAGE.replace(TEXT, planted)), LOOKS[:1])
    assert faults == ["page.html: 1 drawings without a text"]


@pytest.mark.parametrize(
    ("planted", "where"),
    [
        (f"@media (prefers-color-scheme: dark) {{ {HINT} }}", "dark, "),
        (f"@media (prefers-color-scheme: light) {{ {HINT} }}", "light, "),
        (f"@media (max-width: 500px) {{ {HINT} }}", f" {PHONE} px"),
        (f"@media (min-width: 500px) {{ {HINT} }}", f" {DESK} px"),
        (f"details {HINT}", "all opened"),
    ],
)
def test_faint_text_is_told_in_the_looks_that_have_it(
    tmp_path: Path, browser: Browser, planted: str, where: str
) -> None:
    """Colours of a dark screen, of a phone and of what opens are looked at, too."""
    looks = {str(look) for look in LOOKS if where in f" {look}"}
    assert len(looks) == len(LOOKS) / 2
    faults = barriers(browser, page(tmp_path, GOOD_PAGE.replace(STYLE, planted)))
    assert {fault.split(": ")[1] for fault in faults if ": color-contrast (serious)" in fault} == looks


@pytest.mark.parametrize(
    ("planted", "told"),
    [
        ('<img src="http://127.0.0.1:9/bore.png" alt="">', "asks for http://127.0.0.1:9/bore.png"),
        (
            '<p style="background: url(http://127.0.0.1:9/ground.png)">Bore</p>',
            "asks for http://127.0.0.1:9/ground.png",
        ),
        ("<p hidden>Bore 3 is worn.</p>", "text that is not shown: 'Bore 3 is worn.'"),
        ('<p style="width: 500px">Bore 3</p>', "all closed: scrolls sideways by"),
        ("<details><p style='width: 500px'>Bore</p></details>", "all opened: scrolls sideways by"),
        (
            "<div style='overflow: hidden'><p style='white-space: nowrap'>"
            + "Bore 3 is worn. " * 9
            + "</p></div>",
            "all closed: runs beyond the edge: 'Bore 3",
        ),
    ],
)
def test_what_goes_wrong_without_scripts_is_told(
    tmp_path: Path, browser: Browser, planted: str, told: str
) -> None:
    """Addresses outside, hidden text, pages wider than a phone: each is told."""
    faults = shown_without_scripts(browser, page(tmp_path, GOOD_PAGE.replace(TEXT, planted)))
    assert any(told in fault for fault in faults), faults


def test_what_only_a_script_opens_is_told(tmp_path: Path, browser: Browser) -> None:
    """Scripts are off: a page that shows itself by one shows nothing."""
    shows = "<p id='bore' hidden>Bore 3</p><script>document.getElementById('bore').hidden = false</script>"
    path = page(tmp_path, GOOD_PAGE.replace(TEXT, shows))
    assert any("not shown: 'Bore 3'" in fault for fault in shown_without_scripts(browser, path))


@pytest.mark.parametrize(
    "planted",
    [
        "<script>1</script>",
        '<link rel="icon" href="data:,">',
        '<base href="data:,">',
        '<a href="bore.html">Bore</a>',
        "<img src=bore.png alt=''>",
        '<p onclick="1">Bore</p>',
        '<p style="background: url(bore.png)">Bore</p>',
        "<style>@import 'bore.css';</style>",
        '<meta http-equiv="refresh" content="1">',
        '<svg><use xlink:href="bore.svg#ring"></use></svg>',
    ],
)
def test_a_way_out_is_told(tmp_path: Path, planted: str) -> None:
    """Whatever could lead out of the file or run is found in its text."""
    assert ways_out(page(tmp_path, GOOD_PAGE.replace(TEXT, planted))) != []


def test_a_missing_page_is_never_passed(tmp_path: Path, browser: Browser) -> None:
    """A page that does not exist stops the check; the browser would show a faultless one of its own."""
    with pytest.raises(FileNotFoundError, match=r"no such page: .*absent\.html"):
        barriers(browser, tmp_path / "absent.html")


def test_a_browser_that_ends_is_never_passed(tmp_path: Path) -> None:
    """Where the browser is gone, or going, nothing is known of the page."""
    path = page(tmp_path, GOOD_PAGE)
    with Browser() as own:
        own.command("Browser.close")
        with pytest.raises(BrowserFault, match=r"the browser failed: (it ended|Target\.createTarget: )"):
            barriers(own, path)


def test_a_missing_browser_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The message names the command that fetches it."""
    monkeypatch.setattr(browsers, "BROWSER", checkers.ROOT / ".tools/absent")
    with pytest.raises(checkers.CheckerMissing, match=r"absent is not there; run  \.ci/setup test"):
        Browser()
