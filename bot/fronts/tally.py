"""What is worth counting; this one counts nothing, so that who is not watched pays nothing for it."""

from typing import Any

from bot.store.rows import Letter


class Tally:
    """The occasions; each names kinds only, never a person, a chat or a word."""

    def update(self, update: dict[str, Any]) -> None:
        """An update came."""

    def began(self, row: int, at: float) -> None:
        """An update that came at this moment is being worked."""

    def turn(self, reply: Any) -> None:
        """A turn of talk was taken."""

    def misread(self, way: str) -> None:
        """A person put a reading right: by button, by editing, by typing."""

    def call(self, letter: Letter, end: str) -> None:
        """A call ended: Done, Wait (too fast), Again (trouble), Never (refused)."""

    def inline(self, seconds: float | None) -> None:
        """An inline question was answered within so many seconds, or not."""

    def held_back(self, what: str) -> None:
        """A person was faster than he may be."""

    def paused(self, paused: bool) -> None:
        """A foreman had tools put down or taken up."""

    def turned_away(self) -> None:
        """An update of a chat that is not on the list."""
