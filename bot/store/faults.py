"""What a fault of the database means: it is of one row, it may pass, or the database as a whole is gone."""

import sqlite3

from sqlalchemy.exc import DataError, DBAPIError, IntegrityError, InterfaceError, OperationalError

_PASSING = {
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_NOMEM,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_CANTOPEN,
}
"""Locked, full, or a disk that does not answer."""
_PASSING_STATES = ("40", "53", "55")
"""Classes of a server's codes: undone for another's sake, no room (disk, memory), locked."""
_LIMITS = "54"
"""The class of a row that is too large for an index or a page."""


def is_of_a_row(error: BaseException) -> bool:
    """Whether the same would be refused again, and something else not."""
    if isinstance(error, DBAPIError):
        return isinstance(error, DataError | IntegrityError) or _state(error).startswith(_LIMITS)
    # what a driver cannot put into its own terms: a number beyond 64 bits, half a character
    return isinstance(error, ValueError | TypeError | OverflowError)


def may_pass(error: BaseException) -> bool:
    """Whether the session is sound and the very same may be taken later."""
    if not isinstance(error, DBAPIError) or is_of_a_row(error):
        return False
    if isinstance(error.orig, sqlite3.Error):
        code = getattr(error.orig, "sqlite_errorcode", 0) or 0
        return code & 0xFF in _PASSING
    return _state(error).startswith(_PASSING_STATES)


def is_lost(error: BaseException) -> bool:
    """Whether the database as a whole is gone, or the session with it."""
    if not isinstance(error, OperationalError | InterfaceError) or is_of_a_row(error):
        return False
    return not may_pass(error)


def _state(error: DBAPIError) -> str:
    """A server's own code of a fault; empty where it gave none, as when the line was cut."""
    return getattr(error.orig, "sqlstate", None) or ""
