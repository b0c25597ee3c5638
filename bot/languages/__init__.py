"""The languages that are spoken here: a folder each, named by its two-letter code (ISO 639-1)."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import rtoml

FOLDER = Path(__file__).parent
FIRST = "en"
"""What is spoken where nobody chose; what another language leaves unsaid about the chat is said in it."""
NEEDED = ("words.toml", "cues.toml", "known.txt", "phrases.toml", "whole.toml", "chat.toml")


def folder(language: str) -> Path:
    """Where the words of a language stand."""
    return FOLDER / language


def spoken() -> dict[str, str]:
    """Every language that stands here with all it needs: code and own name, the first language foremost."""
    whole = [path for path in FOLDER.iterdir() if all((path / name).is_file() for name in NEEDED)]
    codes = sorted((path.name for path in whole), key=lambda code: (code != FIRST, code))
    return {code: str(chat(code)["name"]) for code in codes}


@cache
def chat(language: str) -> dict[str, Any]:
    """What the chat says about itself, from chat.toml; what is not there is said in the first language."""
    own = rtoml.loads((folder(language) / "chat.toml").read_text("utf-8"))
    return own if language == FIRST else _over(chat(FIRST), own)


def _over(under: dict[str, Any], own: dict[str, Any]) -> dict[str, Any]:
    tables = {
        name: _over(under[name], table)
        for name, table in own.items()
        if isinstance(table, dict) and name in under
    }
    return {**under, **own, **tables}
