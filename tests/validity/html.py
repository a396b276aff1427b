"""Turns HTML files into the faults that an HTML and CSS checker finds in them."""

import json
import subprocess
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from tests.validity.checkers import HTML_JAR, fetched


def html_faults(paths: Sequence[Path]) -> list[str]:
    """
    Every fault in the pages, each told with file, line and column; empty when all are valid HTML.

    Raises:
        CheckerMissing: the checker was not fetched yet.
        FileNotFoundError: a page does not exist; the checker itself would pass over it in silence.
        RuntimeError: the checker itself failed, so that nothing is known of the pages.
    """
    if absent := [path for path in paths if not path.is_file()]:
        raise FileNotFoundError(f"no such page: {absent[0]}")
    command = ["java", "-jar", str(fetched(HTML_JAR)), "--stdout", "--format", "json", *map(str, paths)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    try:
        messages = json.loads(done.stdout)["messages"]
    except (ValueError, KeyError) as fault:
        raise RuntimeError(f"the HTML checker failed: {done.stderr or done.stdout}") from fault
    faults = list(_told(messages))
    if bool(faults) != bool(done.returncode):
        raise RuntimeError(
            f"the HTML checker contradicts itself: exit {done.returncode}, {len(faults)} faults"
        )
    return faults


def _told(messages: Iterable[dict[str, Any]]) -> Iterable[str]:
    for message in messages:
        if message["type"] != "info":
            name = Path(unquote(urlsplit(message.get("url", "")).path)).name
            place = f"{name}:{message.get('lastLine', 0)}:{message.get('lastColumn', 0)}"
            yield f"{place}: {message['message']}"
