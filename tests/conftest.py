"""Turns every run of the tests into the same run: random trials start from one seed, without a deadline."""

from collections.abc import Iterator

import pytest
from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")


@pytest.fixture(scope="session", autouse=True)
def _notes_of_our_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What the tests report is noted in a folder of the tests, not in the user's."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("notes")))
        yield
