"""Plain data as JSON, and fast: what is stored and sent is written several times a message."""

import json
from typing import Any

from pydantic_core import to_json


def written(plain: Any) -> str:
    """The data as JSON text; half characters, which UTF-8 cannot hold, are kept as escapes."""
    try:
        return to_json(plain).decode()
    except ValueError:  # of which its own faults are kinds
        return json.dumps(plain)
