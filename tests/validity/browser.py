"""Turns a fetched Chromium into tabs that tests can look at, by the browser's own protocol over a pipe."""

import fcntl
import json
import os
import select
import subprocess
import tempfile
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final, Self

from tests.validity.checkers import BROWSER, fetched

PATIENCE: Final = 120.0
"""Seconds without a word from the browser after which it counts as stuck."""
_FLAGS: Final = (
    "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update", "--remote-debugging-pipe",
)  # fmt: skip


class BrowserFault(RuntimeError):
    """The browser did not do what it was told, so that nothing is known of the pages."""


def _pipe() -> tuple[int, int]:
    """Both ends of a pipe, clear of the numbers that the browser wants for its own."""
    ends = os.pipe()
    high = tuple(fcntl.fcntl(end, fcntl.F_DUPFD_CLOEXEC, 10) for end in ends)
    for end in ends:
        os.close(end)
    return high[0], high[1]


class Browser:
    """
    One headless Chromium; it reads commands from descriptor 3 and writes what happens to descriptor 4.

    Raises:
        CheckerMissing: it was not fetched yet.
        BrowserFault: it cannot be started, ends, falls silent or refuses a command.
    """

    def __init__(self) -> None:
        program = str(fetched(BROWSER))
        self._profile = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        self._errors = Path(self._profile.name) / "errors"
        (commands, self._commands), (self._events, events) = _pipe(), _pipe()
        line = ["bash", "-c", f'exec "$@" 3<&{commands} 4>&{events}', "browser", program, *_FLAGS]
        with self._errors.open("wb") as errors:
            self._process = subprocess.Popen(
                [*line, f"--user-data-dir={self._profile.name}"],
                pass_fds=(commands, events),
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=errors,
            )
        os.close(commands)
        os.close(events)
        self._count = 0
        self._unread = b""
        self._happened: list[dict[str, Any]] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        os.close(self._commands)
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        os.close(self._events)
        self._profile.cleanup()

    def command(self, method: str, session: str = "", **wanted: Any) -> dict[str, Any]:
        """Give a command to the browser, or to the tab of a session, and wait for what comes of it."""
        self._count += 1
        message = {"id": self._count, "method": method, "params": wanted}
        if session:
            message["sessionId"] = session
        try:
            os.write(self._commands, json.dumps(message).encode() + b"\0")
        except BrokenPipeError:
            raise self._fault("it ended") from None
        while (answer := self._next()).get("id") != self._count:
            self._happened.append(answer)
        if "error" in answer:
            raise self._fault(f"{method}: {answer['error']['message']}")
        return dict(answer["result"])

    def wait(self, method: str, session: str) -> None:
        """Wait until something happens in a tab, or has since it was last asked for."""
        while not self.taken(method, session):
            self._happened.append(self._next())

    def taken(self, method: str, session: str) -> list[dict[str, Any]]:
        """What happened of one kind in a tab since this was last asked."""
        found = [e for e in self._happened if (e["method"], e.get("sessionId")) == (method, session)]
        self._happened = [e for e in self._happened if e not in found]
        return [dict(event["params"]) for event in found]

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._unread:
            if not select.select([self._events], [], [], PATIENCE)[0]:
                raise self._fault(f"it said nothing for {PATIENCE:.0f} s")
            more = os.read(self._events, 1 << 20)
            if not more:
                raise self._fault("it ended")
            self._unread += more
        message, _, self._unread = self._unread.partition(b"\0")
        return dict(json.loads(message))

    def _fault(self, what: str) -> BrowserFault:
        told = self._errors.read_text(errors="replace").splitlines()[-3:]
        return BrowserFault(f"the browser failed: {what}" + "".join(f"\n{line}" for line in told))

    @contextmanager
    def tab(self, page: Path, scripts: bool = True) -> Iterator["Tab"]:
        """
        A page opened in a tab of its own, with the addresses it asks for noted.

        Raises:
            FileNotFoundError: the page does not exist; the browser would show a page of its own.
        """
        if not page.is_file():
            raise FileNotFoundError(f"no such page: {page}")
        target = self.command("Target.createTarget", url="about:blank")["targetId"]
        session = self.command("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        tab = Tab(self, session)
        for domain in ("Page", "Network"):
            tab.command(f"{domain}.enable")
        tab.command("Emulation.setScriptExecutionDisabled", value=not scripts)
        tab.command("Page.navigate", url=page.as_uri())
        self.wait("Page.loadEventFired", session)
        yield tab
        self.command("Target.closeTarget", targetId=target)


class Tab:
    """A page as a reader has it open."""

    def __init__(self, browser: Browser, session: str) -> None:
        self._browser = browser
        self._session = session

    def command(self, method: str, **wanted: Any) -> dict[str, Any]:
        """Give a command to this tab."""
        return self._browser.command(method, self._session, **wanted)

    def show(self, width: int, scheme: str, opened: bool) -> None:
        """Show it in a window of a width in pixels, light or dark, with all that opens open or shut."""
        size = {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": False}
        self.command("Emulation.setDeviceMetricsOverride", **size)
        self.command(
            "Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}]
        )
        self.ask(f"document.querySelectorAll('details').forEach(one => one.open = {json.dumps(opened)})")

    def ask(self, expression: str) -> Any:
        """
        What an expression of JavaScript gives, awaited.

        Raises:
            BrowserFault: it threw something.
        """
        answer = self.command(
            "Runtime.evaluate", expression=expression, awaitPromise=True, returnByValue=True
        )
        if "exceptionDetails" in answer:
            raise BrowserFault(f"the page threw: {answer['exceptionDetails']}")
        return answer["result"].get("value")

    def asked_for(self) -> list[str]:
        """Every address that was asked for since the tab opened, or since this was last asked."""
        return [
            event["request"]["url"]
            for event in self._browser.taken("Network.requestWillBeSent", self._session)
        ]

    def printed(self) -> bytes:
        """What the browser's own print gives, as PDF on A4 unless the page says otherwise."""
        a4 = {"paperWidth": 210 / 25.4, "paperHeight": 297 / 25.4, "preferCSSPageSize": True}
        return b64decode(self.command("Page.printToPDF", **a4)["data"])
