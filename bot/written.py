"""Plain data as JSON, and fast: what is stored and sent is written several times a message."""

import json
from typing import Any

import orjson


def encoded(plain: Any) -> bytes:
    """The data as JSON; half characters, which UTF-8 cannot hold, are kept as escapes."""
    try:
        return orjson.dumps(plain)
    except TypeError:  # half characters, and numbers beyond 64 bits
        return json.dumps(plain).encode()


def written(plain: Any) -> str:
    """The same as text."""
    return encoded(plain).decode()
