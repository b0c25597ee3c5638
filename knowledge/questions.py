"""What is asked: slots of a wall and a topic. The same names as the machine-readable answer."""

from dataclasses import dataclass
from typing import Any, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field

from knowledge.units import convert

TOPICS = (
    "joints", "mortar", "render", "mesh", "blocks", "reinforcement", "ties", "boards",
    "bearing", "crack", "weather", "safety", "thermal", "wall",
)  # fmt: skip

Bound = Literal["over", "under", "about"]
Material = Literal["aac", "aggregate", "clay_brick", "calcium_silicate", "stone"]
End = Literal["return", "free", "column"]
Place = Literal["internal", "external", "below_dpc", "parapet", "freestanding"]
Leaf = Literal["solid", "inner", "outer", "cavity"]
Finish = Literal["render", "plaster", "boards", "fair_faced"]
Units = Literal["metric", "feet"]


class Model(BaseModel):
    """Frozen, and it refuses what it does not know; made ready when first used, for a quick cold answer."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, defer_build=True)

    def plain(self) -> dict[str, Any]:
        """As JSON has it, what was not said left out."""
        return self.model_dump(exclude_none=True)


@dataclass(frozen=True)
class Quantity:
    """A number with its unit as it was said, and a bound where one was said.

    Checked where it stands in a reading; an answer makes ten of its own, and those are sound.
    """

    __pydantic_config__: ClassVar[ConfigDict] = ConfigDict(extra="forbid", allow_inf_nan=False)

    value: float
    unit: str
    bound: Bound | None = None

    def to(self, unit: str) -> float:
        """The value in another unit of its kind."""
        return convert(self.value, self.unit, unit)

    def plain(self) -> dict[str, Any]:
        """As JSON has it."""
        bound = {} if self.bound is None else {"bound": self.bound}
        return {"value": self.value, "unit": self.unit, **bound}


class Block(Model):
    material: Material | None = None
    strength: Quantity | None = None
    length: Quantity | None = None
    height: Quantity | None = None
    thickness: Quantity | None = None
    density: Quantity | None = None
    mass: Quantity | None = None
    laid: Literal["flat"] | None = None


class Opening(Model):
    kind: Literal["window", "door", "opening"] = "opening"
    count: int = 1
    width: Quantity | None = None
    height: Quantity | None = None
    area: Quantity | None = None
    from_left: Quantity | None = None
    from_right: Quantity | None = None
    sill: Quantity | None = None


class Mix(Model):
    """Parts by volume; 0 where a part is absent."""

    cement: float = 0
    lime: float = 0
    sand: float = 0


class Counted(Model):
    """Bags or buckets of one material."""

    count: float
    of: Literal["cement", "lime", "sand", "adhesive"] = "cement"


class Size(Model):
    """A roll, a board or a padstone."""

    length: Quantity | None = None
    width: Quantity | None = None
    height: Quantity | None = None
    thickness: Quantity | None = None


class Crack(Model):
    width: Quantity | None = None
    count: int | None = None
    pattern: Literal["vertical", "horizontal", "stepped", "diagonal", "map"] | None = None
    where: str | None = None
    growing: bool | None = None
    leaning: bool | None = None


class Layer(Model):
    """One layer of a wall for its U-value; conductivity in W/(m·K) where the asker gave it."""

    material: str
    thickness: Quantity
    conductivity: Quantity | None = None


class Reading(Model):
    """Only what the asker said; nothing assumed."""

    length: Quantity | None = None
    height: Quantity | None = None
    thickness: Quantity | None = None
    area: Quantity | None = None
    wall_volume: Quantity | None = None  # of the wall itself, as brickwork is measured by the cubic metre
    walls: int | None = None
    shape: Literal["triangle"] | None = None
    faces: int | None = None
    courses: int | None = None
    openings: tuple[Opening, ...] | None = None
    block: Block | None = None
    block_count: int | None = None
    ends: tuple[End | None, End | None] | None = None
    place: Place | None = None
    leaf: Leaf | None = None
    cavity: Quantity | None = None
    finish: Finish | None = None
    coat_thickness: Quantity | None = None
    mix: Mix | None = None
    mortar_class: str | None = None
    mortar_volume: Quantity | None = None
    bags: Counted | None = None
    buckets: Counted | None = None
    bag_size: Quantity | None = None
    bucket_size: Quantity | None = None
    joint_thickness: Quantity | None = None
    plasticiser: bool | None = None
    bed_reinforcement: bool | None = None
    joint_at: tuple[Quantity, ...] | None = None
    joint_count: int | None = None
    spacing: Quantity | None = None
    spacing_up: Quantity | None = None
    spacing_courses: int | None = None
    roll: Size | None = None
    rolls: float | None = None
    board: Size | None = None
    boards: int | None = None  # in hand
    load: Quantity | None = None
    padstone: Size | None = None
    crack: Crack | None = None
    temperature: Quantity | None = None
    trend: Literal["rising", "falling"] | None = None
    rain: bool | None = None
    wind: bool | None = None
    frost: Literal["coming", "frozen"] | None = None  # frost to come; or the blocks, sand or wall are frozen
    work: Literal["lay", "render"] | None = None
    pack_size: int | None = None
    severe: bool | None = None
    waste: Quantity | None = None
    lap: Quantity | None = None
    layers: tuple[Layer, ...] | None = None


class Question(Model):
    """One topic about one wall. `wants` names the results asked for, the first foremost; empty: all.

    `units` to answer in; None: the asker's own, else the region's.
    """

    topic: str
    reading: Reading = Field(default_factory=Reading)
    wall: str | None = None
    wants: tuple[str, ...] = ()
    confirmed: tuple[str, ...] = ()
    units: Units | None = None
