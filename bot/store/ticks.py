"""Letters that arrived, noted beside the database's file until its next transaction writes them down.

A note outlives a killed process as a transaction does, and takes a tenth of its time.
"""

from collections.abc import Sequence
from contextlib import suppress
from io import FileIO
from pathlib import Path
from struct import Struct

Tick = tuple[int, int | None]
"""A letter's row, and the number of our message where it made one."""

NOTES = "-sent"
"""What the name of the file with the notes ends in."""

_NOTE = Struct("<qq")
_NONE = -1


class Ticks:
    """The notes of a database file; a server is told at once, and none are made.

    What a process that was killed had noted is there again.
    """

    def __init__(self, database: Path | None) -> None:
        self.noted: list[Tick] = []
        self._file: FileIO | None = None
        if database:
            path = database.with_name(database.name + NOTES)
            path.touch(mode=0o600)
            self._file = path.open("r+b", buffering=0)
            self.noted = _read(self._file.read())

    def note(self, ticks: Sequence[Tick]) -> None:
        """Note these; where the disk takes nothing it raises OSError, and they are known until the end."""
        assert self._file
        self._file.seek(len(self.noted) * _NOTE.size)
        self.noted += ticks
        said = b"".join([_NOTE.pack(row, _NONE if ours is None else ours) for row, ours in ticks])
        if self._file.write(said) != len(said):
            raise OSError("no room for a note")

    def clear(self) -> None:
        """All that is noted stands in the database."""
        if self.noted and self._file:
            self.noted = []
            with suppress(OSError):  # what is left there is true, and is written over
                self._file.truncate(0)

    def close(self) -> None:
        """Let go of the file; what is noted in it is read at the next start."""
        if self._file:
            self._file.close()


def _read(found: bytes) -> list[Tick]:
    whole = found[: len(found) // _NOTE.size * _NOTE.size]  # the last one may have been torn
    return [(row, None if ours == _NONE else ours) for row, ours in _NOTE.iter_unpack(whole)]
