"""A size under its dimension word: of the wall, or of the block, board, crack, joint or coat named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.put import put, small_unit
from bot.reading.slots.settling import ranged, say_unit, settle
from bot.reading.units import LENGTH, believable, candidates
from knowledge.units import kind

MILLIMETRES = {"mm", ""}
SMALL = {"mm", "cm", "in"}
OF_A_PADSTONE = {"thickness": "width", "width": "width", "height": "height", "depth": "height"}


@dataclass(frozen=True)
class Under:
    """One size, the dimension word that it goes with, and the thing that the word speaks of."""

    scene: Scene
    item: Item
    dim: str
    thing: str
    behind: Item | None  # what stands behind the dimension word

    @property
    def size(self) -> Measure:
        """The size itself."""
        return self.item.size

    def about(self, noun: str) -> bool:
        """Whether the thing, or what stands behind the word, is of this kind."""
        return self.thing == noun or (self.behind is not None and self.behind.tagged("noun", noun))

    def put(self, slot: str, part: str) -> bool:
        """Fill a part of a slot. Always True."""
        put(self.scene, slot, part, plain(self.size, self.size.unit or small_unit(self.item)), self.item)
        return True

    def claim(self, slot: str) -> bool:
        """Fill a slot with millimetres, where no unit is said. Always True."""
        unit = self.size.unit or small_unit(self.item)
        self.scene.claim(slot, plain(self.size, unit), self.item)
        return True

    def aside(self, why: str) -> bool:
        """Say that it fills no slot. Always True."""
        self.scene.aside(self.item, why)
        return True


def set_dimension(scene: Scene, item: Item, dim: str, word_at: int) -> None:
    """Put a size under its dimension word; width is the length of a wall, the gap of a joint or crack.

    What is no length ('thk 25kg') is left to its unit.
    """
    if any(size.unit and kind(size.unit) != LENGTH for size in item.sizes):
        return
    nxt = scene.right(word_at)
    behind = scene.at(nxt)
    of_wall = scene.at(scene.right(nxt)) if nxt is not None else None
    walled = of_wall is not None and of_wall.tagged("noun", "wall")  # '60 long cmu wall'
    thing = _object(scene, word_at - 1)
    if behind is not None and behind.tagged("noun", "block") and not behind.tagged("noun", "wall"):
        thing = thing if walled else "block"
    if (
        behind is not None
        and behind.says("again.ones")
        and "blocks" in scene.topics
        and not item.size.decimal
    ):
        thing = "block" if not item.size.unit or item.size.unit in SMALL else thing  # '620 long ones'
    if _of_a_part(scene, item):
        return
    if item.kind == "range":
        ranged(scene, item, "length" if dim == "width" else dim)
        return
    under = Under(scene, item, dim, thing, behind)
    next(rule for rule in RULES if rule(under))


def _of_a_part(scene: Scene, item: Item) -> bool:
    """'scaffold 1.8 high', told beside a wall: of what stands right before it."""
    i = scene.items.index(item)
    before = scene.at(i - 1)
    told = before is not None and before.says("parts.thing") and not before.tagged("noun")
    if before is None or item.before or not told or scene.in_force:  # in a conversation it is asked
        return False
    scene.aside(item, f"the size of the {before.low}")
    return True


NOUNS = ("padstone", "block", "coat", "joint", "mortar_joint", "wall", "crack", "cavity")


def _object(scene: Scene, i: int) -> str:
    """What a dimension word speaks of: the nearest noun before it, else the wall."""
    for j in range(i, -1, -1):
        item = scene.items[j]
        if item.kind == "mark" and item.text in {".", "?", ";"}:
            break
        for name in NOUNS if item.tags else ():
            if item.tagged("noun", name):
                return name
    return "wall"


def _crack(at: Under) -> bool:
    """How long or wide a crack is."""
    topics, sense = at.scene.topics, at.scene.sense
    if at.dim == "length" and topics == ["crack"] and not at.scene.tagged("noun", "wall"):
        return at.aside("how long the crack is")
    narrow = at.size.unit in MILLIMETRES and at.size.value < sense.crack_widest_wide
    wide = at.dim == "width" and (at.thing == "crack" or ("crack" in topics and narrow))
    return wide and at.put("crack", "width")


def _padstone(at: Under) -> bool:
    """A side of a padstone."""
    spoken = at.thing == "padstone" or (
        at.scene.topics == ["bearing"] and not at.scene.tagged("noun", "wall")
    )
    thick = at.dim == "thickness" and at.thing != "padstone"
    if thick and at.size.value in at.scene.region.known.get("thickness", ()):
        return False  # '215 thick' under a load: the block
    if not spoken or at.size.unit not in {*SMALL, ""} or at.size.decimal:
        return False
    large = at.size.value >= at.scene.sense.plate_least
    return large and at.put("padstone", OF_A_PADSTONE.get(at.dim, "length"))


def _board(at: Under) -> bool:
    """'boards are 900 wide', 'boards 900 wide': a side of the board, which stands right before."""
    if at.dim not in {"length", "width", "height"}:
        return False
    i = at.scene.items.index(at.item)
    before = at.scene.at(i - 1)
    told = before is not None and before.says("boards.told")
    board = at.scene.at(i - 2) if told else before
    if board is None or not board.tagged("noun", "board") or not (told or at.dim == "width"):
        return False
    fits = believable(at.scene, plain(at.size, at.size.unit or "mm"), "board")
    return fits and at.put("board", "width" if at.dim == "width" else "height")


def _roll(at: Under) -> bool:
    """'roll 1m wide', 'rolls are 25m long': a side of the roll, which stands right before."""
    i = at.scene.items.index(at.item)
    before = at.scene.at(i - 1)
    roll = at.scene.at(i - 2) if before is not None and before.says("boards.told") else before
    if at.dim not in {"length", "width"} or roll is None or not roll.tagged("noun", "roll"):
        return False
    put(at.scene, "roll", at.dim, plain(at.size, at.size.unit or at.scene.region.units["wall"]), at.item)
    return True


def _block(at: Under) -> bool:
    """The length or height of a block; a bare number must be one in millimetres."""
    if at.thing != "block" or at.dim not in {"length", "height"} or at.item.kind != "measure":
        return False
    least, most = at.scene.sense.block_least, at.scene.sense.block_most
    if at.scene.feet and not at.size.unit:
        return False  # '12 inch cmu 8 ft high 40 long'
    if at.size.unit:
        fits = at.size.unit in SMALL and least <= at.size.to_mm() <= most
    else:
        fits = not at.size.decimal and least <= at.size.value <= most
    return fits and at.put("block", at.dim)


def _joint(at: Under) -> bool:
    """How wide a movement joint is."""
    spoken = at.thing == "joint" or (at.scene.in_force == ("joints",) and "wall" not in at.scene.nouns)
    if not spoken or at.dim not in {"width", "thickness"} or "joints" not in at.scene.topics:
        return False
    if at.thing != "joint" and (at.dim != "width" or at.size.unit != "mm"):
        return False  # '12mm wide' in talk of joints
    if at.dim == "width" and _thickness_of_a_block(at):
        return False
    fits = at.size.unit in MILLIMETRES and at.size.value <= at.scene.sense.joint_widest
    return fits and at.aside("the joint width that was asked about")


def _thickness_of_a_block(at: Under) -> bool:
    """Whether a width of a block is its thickness."""
    if at.thing != "block" and not (at.scene.in_force and not at.size.unit):
        return False
    if not at.size.unit:
        return at.size.whole and at.size.value in at.scene.region.known.get("thickness", ())
    return at.size.unit in SMALL and at.size.to_mm() <= at.scene.sense.wall_thickest


def _thickness(at: Under) -> bool:
    """How thick a mortar joint, a coat or the wall is."""
    if at.dim != "thickness" and not (at.dim == "width" and _thickness_of_a_block(at)):
        return False
    thickest = at.scene.sense.coat_thickest
    board = at.scene.topics == ["boards"] and at.size.unit in MILLIMETRES
    if board and at.size.value <= at.scene.sense.board_thickest:
        return at.put("board", "thickness")
    render = "render" in at.scene.topics
    if at.about("mortar_joint"):
        return at.claim("joint_thickness")
    if render and at.size.unit in SMALL and at.size.to_mm() <= thickest:
        return at.claim("coat_thickness")
    if render and at.about("coat") and at.size.value <= thickest:
        return at.claim("coat_thickness")
    thin, thick = at.scene.sense.coat_bare_behind
    of_the_wall = at.scene.tagged("noun", "block") or at.scene.tagged("noun", "wall")
    if (
        at.scene.topics == ["render"]
        and not at.size.unit
        and thin <= at.size.value <= thick
        and not of_the_wall
    ):
        return at.claim("coat_thickness")  # '10 thick' in talk of render
    _wall_thickness(at.scene, at.item)
    return True


def _wall_thickness(scene: Scene, item: Item) -> None:
    options = candidates(scene, item.size, "unit")
    kept = [c for c in options if believable(scene, c, "unit")] or options
    if len(kept) == 1:
        say_unit(scene, "thickness", item, kept[0])
        scene.claim("thickness", kept[0], item)
    elif item.size.unit:
        scene.claim("thickness", plain(item.size, item.size.unit), item)
    else:
        choices = [(show(c), {"thickness": c}) for c in kept]
        scene.doubt("thickness", f"How thick is {item.text}?", choices, item)


def _shallow(at: Under) -> bool:
    """A depth that is none of a wall."""
    shallow = at.size.unit in MILLIMETRES and at.size.value < at.scene.sense.wall_lowest
    return at.dim == "depth" and shallow and at.aside("a depth that no slot of the wall takes")


def _of_the_wall(at: Under) -> bool:
    """The length or height of the wall."""
    high = at.dim in {"height", "depth"}
    settle(at.scene, "height" if high else "length", at.item, "height" if high else "wall")
    return True


RULES: tuple[Callable[[Under], bool], ...] = (  # the first that is True has settled it
    _crack,
    _padstone,
    _board,
    _roll,
    _block,
    _joint,
    _thickness,
    _shallow,
    _of_the_wall,
)
