"""The kills of the file's test again, on a database server."""

from tests.chat import test_kills
from tests.chat.conftest import House, house, standin
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["house", "standin"]


async def test_fifty_kills_under_load_on_the_server(standin: Standin, house: House, server: Server) -> None:
    house.database = server.make("kills")
    await test_kills.test_fifty_kills_under_load(standin, house, 2)


async def test_an_update_that_kills_the_process_is_found_out_on_the_server(
    standin: Standin, house: House, server: Server
) -> None:
    house.database = server.make("dies")
    await test_kills.test_an_update_that_kills_the_process_is_found_out(standin, house)
