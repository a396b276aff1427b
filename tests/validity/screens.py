"""Turns HTML pages into the faults that a reader in front of a screen would meet, as a browser shows them."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from tests.validity.browser import Browser, Tab
from tests.validity.checkers import AXE, fetched

PHONE: Final = 390
DESK: Final = 1280
"""Widths of a window in CSS pixels."""

_RULES: Final = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa", "best-practice")
_AXE: Final = """axe.run({exclude: [['svg']]}, {
    resultTypes: ['violations', 'incomplete'], selectors: false, runOnly: {type: 'tag', values: %s}
}).then(found => ({
    tried: found.passes.length,
    broken: [...found.violations, ...found.incomplete].flatMap(rule => rule.nodes.map(node => ({
        id: rule.id, impact: rule.impact, help: rule.help, place: node.html.slice(0, 300),
        undecided: node.any.map(check => check.data && check.data.messageKey).find(key => key) || ''
    })))
}))"""
"""
Rules are tried on all but drawings: axe-core takes what lies behind a whole one for the ground of its
letters. The tests of charts try their colours; whether each drawing has a text is asked beside.
"""
_MUTE_DRAWINGS: Final = """[...document.querySelectorAll('svg')].filter(
    one => !(one.getAttribute('role') === 'img' && (one.getAttribute('aria-label') || '').trim())
).length"""
_LEFT_TO_THE_EYE: Final = ("imgNode", "shortTextContent", "elmPartiallyObscured")
"""Why axe-core leaves a contrast open: text over a picture, a single sign, partly scrolled out of its box."""
_CUT_OFF: Final = """(() => {
    const edge = document.documentElement.clientWidth, found = new Set();
    const scrolls = one => one && (getComputedStyle(one).overflowX === 'auto' || scrolls(one.parentElement));
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    const beyond = r => r.width > 1 && (r.right > edge + 0.5 || r.left < -0.5);
    while (texts.nextNode()) {
        range.selectNodeContents(texts.currentNode);
        const outside = [...range.getClientRects()].some(beyond);
        if (outside && texts.currentNode.data.trim() && !scrolls(texts.currentNode.parentElement)) {
            found.add(texts.currentNode.data.trim().slice(0, 60));
        }
    }
    return {too_wide: document.documentElement.scrollWidth - edge, cut_off: [...found]};
})()"""
_UNSEEN: Final = """(() => {
    const found = [], range = document.createRange();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
        const text = texts.currentNode.data.trim();
        range.selectNodeContents(texts.currentNode);
        if (text && !range.getClientRects().length) found.push(text);
    }
    return found;
})()"""
_LEADS_OUT: Final = re.compile(
    r"""<(?:script|link|base|iframe|object|embed|form)\b[^>]*>"""
    r"""|<meta[^>]+http-equiv[^>]*>"""
    r"""|\b(?:src|srcset|href|data|action|poster|background)=(?!"(?:data:|#))[^\s>]*"""
    r"""|\burl\((?!"?(?:data:|#))[^)]{0,80}"""
    r"""|@import[^;]*|\son\w+="[^"]*" """.strip()
)


@dataclass(frozen=True, slots=True)
class Look:
    """How a reader has a page in front of them."""

    width: int
    scheme: str
    opened: bool

    def __str__(self) -> str:
        return f"{self.scheme}, {self.width} px, all {'opened' if self.opened else 'closed'}"


LOOKS: Final = tuple(
    Look(width, scheme, opened)
    for width in (DESK, PHONE)
    for scheme in ("light", "dark")
    for opened in (False, True)
)


def barriers(browser: Browser, page: Path, looks: tuple[Look, ...] = LOOKS) -> list[str]:
    """
    Every place where a page breaks, or may break, a rule of WCAG 2.2 A and AA or of good practice.

    Raises:
        CheckerMissing, FileNotFoundError, BrowserFault: nothing is known of the page.
    """
    with browser.tab(page) as tab:
        tab.ask(fetched(AXE).read_text(encoding="utf-8") + "; 0")
        count = tab.ask(_MUTE_DRAWINGS)
        mute = [f"{page.name}: {count} drawings without a text"] if count else []
        return mute + [f"{page.name}: {look}: {fault}" for look in looks for fault in _broken(tab, look)]


def _broken(tab: Tab, look: Look) -> Iterator[str]:
    tab.show(look.width, look.scheme, look.opened)
    found: dict[str, Any] = tab.ask(_AXE % list(_RULES))
    if not found["tried"]:
        raise RuntimeError("axe-core tried no rule on the page")
    for fault in found["broken"]:
        if fault["undecided"] not in _LEFT_TO_THE_EYE:
            yield f"{fault['id']} ({fault['impact']}): {fault['help']}: {fault['place']}"


def shown_without_scripts(browser: Browser, page: Path) -> list[str]:
    """
    What goes wrong with scripts switched off: addresses asked for, text not shown, lines beyond the edge.

    Raises:
        FileNotFoundError, BrowserFault: nothing is known of the page.
    """
    with browser.tab(page, scripts=False) as tab:
        faults = [*_unseen(tab), *_too_wide(tab)]
        own = page.as_uri()
        asked = [address for address in tab.asked_for() if address != own and not address.startswith("data:")]
    return [f"{page.name}: {fault}" for fault in [*faults, *(f"asks for {address}" for address in asked)]]


def _unseen(tab: Tab) -> Iterator[str]:
    tab.show(DESK, "light", opened=True)
    for text in tab.ask(_UNSEEN):
        yield f"text that is not shown: {text[:80]!r}"


def _too_wide(tab: Tab) -> Iterator[str]:
    for opened in (False, True):
        look = Look(PHONE, "light", opened)
        tab.show(look.width, look.scheme, look.opened)
        found = tab.ask(_CUT_OFF)
        if found["too_wide"] > 0:
            yield f"{look}: scrolls sideways by {found['too_wide']} px"
        for text in found["cut_off"]:
            yield f"{look}: runs beyond the edge: {text!r}"


def ways_out(page: Path) -> list[str]:
    """Everything in the text of a page that could lead out of its file, or that runs."""
    text = page.read_text(encoding="utf-8")
    return [f"{page.name}: leads out or runs: {found[0][:120]}" for found in _LEADS_OUT.finditer(text)]


def printed(browser: Browser, page: Path) -> bytes:
    """
    A page by the browser's own print, as it opens.

    Raises:
        FileNotFoundError, BrowserFault: nothing is known of the page.
    """
    with browser.tab(page) as tab:
        return tab.printed()
