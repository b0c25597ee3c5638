"""Words that tell how to read what stands beside them: cues.toml, both ways."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import rtoml

ByName = dict[str, tuple[str, ...]]
ByWord = dict[str, frozenset[str]]
NONE: frozenset[str] = frozenset()


def read_cues(folder: Path) -> tuple[ByName, ByWord]:
    """Words by the name of their list, 'table.key'; and the lists that a word is in."""
    tables: dict[str, Any] = rtoml.loads((folder / "cues.toml").read_text(encoding="utf-8"))
    named: ByName = {}
    lists: dict[str, set[str]] = {}
    for table, keys in tables.items():
        for key, words in keys.items():
            name = f"{table}.{key}"
            named[name] = tuple(words)
            for word in words:
                lists.setdefault(word, set()).add(name)
    return named, {word: frozenset(names) for word, names in lists.items()}
