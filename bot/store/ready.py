"""A statement made ready once and handed to the driver: looking it up again costs more than it does."""

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, cast

from sqlalchemy import ARRAY, Column, Connection, Executable, Select, any_, bindparam, func, select
from sqlalchemy import cast as sql_cast
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
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
        return found

    def run(self, connection: Connection, row: Row) -> int:
        """Run it with these values; how many rows it touched."""
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.execute(words, _values(order, fixed, row))
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
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
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
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


def among(found: Select[Any], column: Column[Any], name: str, dialect: str) -> Executable:
    """The rows whose column is one of a list: in one statement, however long the list is."""
    if dialect == "postgresql":
        return found.where(column == any_(sql_cast(bindparam(name), ARRAY(column.type))))
    listed = func.json_each(bindparam(name)).table_valued("value")
    return found.where(column.in_(select(listed.c.value)))


def listed(connection: Connection, values: Iterable[Any]) -> Any:
    """A list as such a statement takes it."""
    return list(values) if connection.dialect.name == "postgresql" else json.dumps(list(values))


def _values(order: Sequence[str] | None, fixed: Row, row: Row) -> Any:
    if order is None:
        return {**fixed, **row}
    return tuple([row[name] if name in row else fixed[name] for name in order])


def _faults(dialect: Dialect) -> type[Exception]:
    faults: Any = dialect.dbapi and dialect.dbapi.Error
    return cast("type[Exception]", faults)


def in_house_terms(dialect: Dialect, words: str, error: Exception) -> BaseException:
    """The driver's own fault as everybody else looks for it."""
    return DBAPIError.instance(words, None, error, _faults(dialect), dialect=dialect)
