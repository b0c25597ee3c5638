"""One database server for all tests of the service, and people whose updates come over a web hook."""

from collections.abc import Iterator

import pytest

from tests.service.postgres import Server


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A server that runs for the whole session."""
    made = Server()
    yield made
    made.close()
