"""All rows of a database carried into another: a copy of a server is a file that one process can work on."""

from sqlalchemy import Connection, Engine, delete, insert, select, text

from bot.store.opening import StoreFault, bring_up_to_date, edition
from bot.store.tables import EDITION, metadata

AT_ONCE = 1000


def carry(source: Connection, target: Connection) -> int:
    """Put every row of the source in the place of what the target holds; how many there were."""
    if edition(source) != EDITION:
        raise StoreFault("the database is of another edition: start this version of the bot on it once")
    count = 0
    for table in metadata.sorted_tables:
        target.execute(delete(table))
        rows = source.execution_options(yield_per=AT_ONCE).execute(select(table))
        for part in rows.mappings().partitions():
            target.execute(insert(table), [dict(row) for row in part])
            count += len(part)
    if target.dialect.name == "postgresql":
        for name in ("inbox", "walls"):  # the next number comes after those that were brought along
            target.execute(
                text(
                    f"SELECT setval(pg_get_serial_sequence('{name}', 'id'),"  # noqa: S608
                    f" (SELECT coalesce(max(id), 0) + 1 FROM {name}), false)"
                )
            )
    return count


def from_server(server: Engine, file: Engine) -> int:
    """Copy a server's database as it stands at one moment, while workers go on, into a fresh file."""
    bring_up_to_date(file)
    with server.connect() as source, file.begin() as target:
        source = source.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
        return carry(source, target)


def to_server(file: Engine, server: Engine) -> int:
    """Put a copy in the place of what a server's database holds; all of it or nothing."""
    bring_up_to_date(file)
    bring_up_to_date(server)
    with file.connect() as source, server.begin() as target:
        return carry(source, target)


def workers_on(server: Engine) -> int:
    """How many workers have this database open at the moment."""
    asked = text(
        "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database()"
        " AND application_name = 'perpend' AND pid <> pg_backend_pid()"
    )
    with server.connect() as connection:
        return int(connection.scalar(asked) or 0)


def is_empty(server: Engine) -> bool:
    """Whether there is nothing in it that could be lost."""
    with server.connect() as connection:
        if edition(connection) is None:
            return True
        return all(
            connection.execute(select(table).limit(1)).first() is None for table in metadata.sorted_tables
        )
