"""What one chat has set for its site, and what it has been told once."""

import json
from dataclasses import dataclass, field
from typing import Any

from bot.languages import FIRST, folder
from knowledge.questions import Units


@dataclass(frozen=True)
class Site:
    """Settings of a chat. `slots` are the sizes that this site uses; `names`: the record keeps who asked.

    `units` to answer in; None: as asked. `told`: what was said, or offered, once.
    """

    region: str = "GB"
    units: Units | None = None
    chosen: bool = False  # somebody said that these are the rules; until then words may speak for others
    language: str = "en"
    slots: dict[str, Any] = field(default_factory=dict)
    names: bool = False
    told: tuple[str, ...] = ()
    undo: tuple[dict[str, Any], ...] = ()

    def body(self) -> dict[str, Any]:
        """As it is stored: only what differs from a fresh one."""
        return {name: value for name, value in vars(self).items() if value != _FRESH[name]}


_FRESH = vars(Site())


def read_site(body: str | None) -> Site:
    """Settings read back; what a later edition added is left alone."""
    if body is None:
        return Site()
    stored = {name: value for name, value in json.loads(body).items() if name in Site.__dataclass_fields__}
    for name in ("told", "undo"):
        if name in stored:
            stored[name] = tuple(stored[name])
    language = stored.get("language", FIRST)
    if language != FIRST and not folder(language).is_dir():  # it was taken away since
        del stored["language"]
    return Site(**stored)
