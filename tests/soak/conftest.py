"""The database server of the service's tests."""

from tests.service.conftest import server

__all__ = ["server"]
