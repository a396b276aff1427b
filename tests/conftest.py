"""Turns every run of the tests into the same run: random trials start from one seed, without a deadline."""

from collections.abc import Iterator
from functools import partial

import pytest
from hypothesis import settings

from tests.made import Reported, report_of

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What takes longest comes first, so that no worker is left alone with it at the end."""
    items.sort(key=lambda item: "validity" not in item.path.parts)


@pytest.fixture(scope="session", autouse=True)
def _notes_of_our_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What the tests report is noted in a folder of the tests, not in the user's."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("notes")))
        yield


@pytest.fixture(scope="session")
def reported(tmp_path_factory: pytest.TempPathFactory) -> Reported:
    """Gives a sample's report by its ending; made once, to be looked at only."""
    return partial(report_of, own=tmp_path_factory.mktemp("reports"))
