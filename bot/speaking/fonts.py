"""The one font family of pictures and sheets, from its package (SIL Open Font License); no system fonts."""

from __future__ import annotations

from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

FAMILY = "Source Sans Pro"
_FILES = {False: "SourceSansPro-Regular.ttf", True: "SourceSansPro-Semibold.ttf"}


def path(bold: bool = False) -> Path:
    """The font file. Raises FileNotFoundError where the package is not installed."""
    # The package's own import lists its folder and makes forty globals: only its place is wanted.
    spec = find_spec("font_source_sans_pro")
    if spec is None or not spec.submodule_search_locations:
        raise FileNotFoundError("the package font-source-sans-pro is not installed; it holds the font")
    return Path(spec.submodule_search_locations[0]) / "files" / _FILES[bold]


@cache
def face(size: float, bold: bool = False) -> FreeTypeFont:
    """The font at a size in pixels."""
    from PIL import ImageFont

    return ImageFont.truetype(str(path(bold)), size, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=2048)
def _letter(letter: str, bold: bool) -> float:
    return face(100, bold).getlength(letter) / 100


@lru_cache(maxsize=8192)
def _word(words: str, bold: bool) -> float:
    return sum(_letter(letter, bold) for letter in words)


def length(words: str, size: float, bold: bool = False) -> float:
    """Width of a line of words in pixels or points, as the size is."""
    return _word(words, bold) * size
