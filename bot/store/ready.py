"""A statement made ready once and handed to the driver: looking it up again costs more than it does."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NoReturn

from sqlalchemy import Connection, Executable, Select, bindparam, text
from sqlalchemy.engine import Dialect
from sqlalchemy.exc import DBAPIError

Row = Mapping[str, Any]


class Ready:
    """One statement of the hot path; `made` is it, or makes it in the words of a database.

    It runs on the driver's own cursor, inside whatever transaction the connection is in.
    """

    def __init__(
        self, made: Executable | Callable[[str], Executable], columns: Sequence[str] | None = None
    ) -> None:
        self._made = made
        self._columns = columns  # of an insertion: those that get a value
        self._for: dict[str, tuple[str, Sequence[str] | None, Row]] = {}

    def rows(self, connection: Connection, row: Row) -> list[Any]:
        """What it finds with these values."""
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.execute(words, _values(order, fixed, row))
            found = list(cursor.fetchall())
        except Exception as error:
            _said_by_the_driver(connection.dialect, words, error)
        return found

    def run(self, connection: Connection, row: Row) -> int:
        """Run it with these values; how many rows it touched."""
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.execute(words, _values(order, fixed, row))
        except Exception as error:
            _said_by_the_driver(connection.dialect, words, error)
        touched: int = cursor.rowcount
        return touched

    def run_each(self, connection: Connection, rows: Sequence[Row]) -> int:
        """Run it once for every row of values; how many rows it touched."""
        if not rows:
            return 0
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.executemany(words, [_values(order, fixed, row) for row in rows])
        except Exception as error:
            _said_by_the_driver(connection.dialect, words, error)
        touched: int = cursor.rowcount
        return touched

    def _ready(self, dialect: Dialect) -> tuple[str, Sequence[str] | None, Row]:
        found = self._for.get(dialect.name)
        if found is None:
            made: Any = self._made(dialect.name) if callable(self._made) else self._made
            compiled = made.compile(dialect=dialect, column_keys=self._columns)
            order = compiled.positiontup if compiled.positional else None
            found = self._for[dialect.name] = (str(compiled), order, compiled.params)
        return found


def among(found: Select[Any], column: Any, name: str, kind: str, dialect: str) -> Executable:
    """The rows whose column is one of a list: in one statement, however long the list is."""
    if dialect == "postgresql":
        return found.where(text(f"{column} = ANY(CAST(:{name} AS {kind}[]))").bindparams(bindparam(name)))
    return found.where(
        text(f"{column} IN (SELECT value FROM json_each(:{name}))").bindparams(bindparam(name))
    )


def listed(connection: Connection, values: Iterable[Any]) -> Any:
    """A list as such a statement takes it."""
    return list(values) if connection.dialect.name == "postgresql" else json.dumps(list(values))


def _values(order: Sequence[str] | None, fixed: Row, row: Row) -> Any:
    if order is None:
        return {**fixed, **row}
    return tuple([row[name] if name in row else fixed[name] for name in order])


def _said_by_the_driver(dialect: Dialect, words: str, error: Exception) -> NoReturn:
    """The driver's own fault in the terms in which everybody else looks for it."""
    faults: Any = dialect.dbapi and dialect.dbapi.Error
    if isinstance(error, faults):
        raise DBAPIError.instance(words, None, error, faults, dialect=dialect) from error
    raise error
