"""One region's habits of reading and writing, and whose figures it borrows where it has none."""

from __future__ import annotations

from typing import Any

from pydantic import Field

from knowledge.questions import Model
from knowledge.senses import Sense


class Speech(Model):
    """Words that speak for a region: one that stands `alone`, or several different ones `together`."""

    alone: tuple[str, ...] = ()
    together: tuple[str, ...] = ()
    units: tuple[str, ...] = ()  # units of which any speaks as one word of `together`


class Lot(Model):
    """A measure by the lot ('5 brass'): so many of a unit of area where a face is covered, else of volume."""

    of: float
    area: str
    volume: str


class Borrowed(Model):
    """Figures that another region lends: of these topics, where there is none of its own; `note` says so."""

    region: str
    topics: tuple[str, ...]
    note: str


class Region(Model):
    """One region. `code` is ISO 3166-1."""

    code: str
    name: str
    units: dict[str, str]  # what it shows: wall, unit, mass, ...
    bare: dict[str, dict[str, Any]]  # what a number without a unit may be, by slot
    decimal_comma: bool = False
    mix_order: str = "cement:lime:sand"
    known: dict[str, tuple[Any, ...]] = Field(default_factory=dict)  # bare numbers a unit is known by
    thin_joint: dict[str, Any] | None = None  # what "thin joint" means where no size is said
    called: tuple[str, ...] = ()  # other names of it that people type
    offered: dict[str, tuple[dict[str, Any], ...]] = Field(default_factory=dict)  # sizes goods are sold in
    lots: dict[str, Lot] = Field(default_factory=dict)  # measures by the lot, by their word
    sense: Sense  # what a number can be, where no word settles it
    speaks: Speech = Field(default_factory=Speech)
    borrows: Borrowed | None = None
