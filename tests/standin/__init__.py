"""A strict stand-in for the Bot API, over real HTTP on loopback."""

from tests.standin.server import Standin

__all__ = ["Standin"]
