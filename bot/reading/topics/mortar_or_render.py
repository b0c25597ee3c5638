"""Mortar, render, mesh and boards: which of them is asked where several are named."""

from __future__ import annotations

from bot.reading.topics.named import Named

THIN = ("slot", "joint_thickness", "thin")
SAFE_WORK = ("ppe", "lifting", "dust", "lime", "height")


def render_with_a_mix(named: Named) -> None:
    """'rendered, 6:1?': a mix beside a rendered finish is one for render."""
    if named.others("mortar") or not named.free_ratio() or not named.tagged("slot", "finish", "render"):
        return
    if not named.speaks("mortar.lay_or_mortar"):
        _to_render(named)


def mortar_only_in_passing(named: Named) -> None:
    """Mortar that is named by a word which hints at it as well gives way to render."""
    if not named.has("mortar", "render") or named.speaks("mortar.laid_or_mortar"):
        return
    if not any(
        x.tagged("topic", "mortar", "strong") and not x.tagged("topic", "mortar", "weak") for x in named.items
    ):
        named.drop("mortar")


def mortar_on_the_skin(named: Named) -> None:
    """'gloves for mixing mortar': mortar lends its word to safety."""
    if not named.has("mortar", "safety") or named.ratio is not None or named.tagged("ask", "quantity"):
        return
    if any(
        x.tagged("wants", "safety", w) and x.tagged("topic", "safety", "strong")
        for x in named.items
        for w in SAFE_WORK
    ):
        named.drop("mortar")


def coat_of_millimetres(named: Named) -> None:
    """'12mm on a rendered wall': a small size beside a rendered finish is a coat."""
    if named.has("render") or not ("mortar" in named.strong or "mortar" in named.weak):
        return
    if named.speaks("mortar.lay_or_joint") or not named.tagged("slot", "finish", "render"):
        return
    sizes = [x.size for x in named.items if x.kind == "measure" and not x.used]
    thickest = named.scene.sense.coat_thickest_finish
    if any(size.unit in {"mm", "in"} and size.to_mm() <= thickest for size in sizes):
        _to_render(named)


def mortar_by_its_wishes(named: Named) -> None:
    """Where only wishes speak of mortar, and render is hinted at, it is render."""
    if not named.has("mortar") or "render" not in named.weak or named.has("joints"):
        return
    wishes = all(x.tagged("wants") for x in named.items if x.tagged("topic", "mortar", "strong"))
    if wishes and not named.speaks("mortar.lay_or_mortar"):
        named.strong["render"] = named.strong.pop("mortar")


def mortar_by_the_way(named: Named) -> None:
    """'mortar mix for render': render is asked."""
    by_the_way = named.has("mortar", "render") and named.word("mortar").says("mortar.by_the_way")
    if by_the_way and not named.asked_for("mortar"):
        named.drop("mortar")


def mesh_in_a_coat(named: Named) -> None:
    """'mesh in the base coat', 'rendering a wall, how much mesh': mesh is asked."""
    if not named.has("render", "mesh"):
        return
    word = named.word("render")
    stuff = not named.scene.nouns.isdisjoint(("sand", "cement", "lime", "bag"))
    told = word.says("render.told") and named.asked_for("mesh") and not stuff
    if (word.says("coat.named") or told) and not named.asked_for("render"):
        named.drop("render")


def mortar_for_blocks(named: Named) -> None:
    """'mortar to lay blocks for a garage': mortar is asked."""
    by_the_way = named.has("blocks", "mortar") and named.word("blocks").says("block.for")
    if by_the_way and not named.asked_for("blocks"):
        named.drop("blocks")


def boards_alone(named: Named) -> None:
    """Boards lend a gap to no joint and take no render."""
    if named.has("boards", "joints") and named.word("joints").says("joints.what_gap"):
        named.drop("joints")
    if named.has("boards", "render"):
        named.drop("render")
    if named.has("boards", "joints") and named.tagged("wants", "boards", "at_joint"):
        named.drop("joints")


def _to_render(named: Named) -> None:
    named.drop("mortar")
    named.weak.pop("mortar", None)
    named.strong["render"] = 0


def blocks_to_lay(named: Named) -> None:
    """'lay 600x200x100 blocks 6 x 2.2, how many': the blocks, where nothing of mortar is named."""
    stuff = ("mortar", "bag", "cement", "sand", "lime", "adhesive", "bucket")
    counted = {"blocks", "mortar"} <= set(named.weak) and named.says("topics.how_many")
    mixed = named.ratio is not None or any(named.tagged("noun", thing) for thing in stuff)
    if counted and named.speaks("mortar.lay") and not mixed:
        named.weak.pop("mortar")


def glue_of_blocks(named: Named) -> None:
    """'mortar adhesive bags': of thin joints, where no board is spoken of."""
    if not named.has("mortar") or named.tagged("noun", "board") or "boards" in named.scene.in_force:
        return
    for x in named.items:
        if x.tagged("noun", "adhesive"):
            x.tags += (THIN,)
            named.scene.renew()


def bags_for_blocks(named: Named) -> None:
    """'how many bags for 320 blocks', 'will 14 bags do 320 blocks': of the mortar that lays them."""
    thin = THIN if named.tagged(*THIN) else ()
    if (set(named.strong) | set(named.weak)) - {"weather", *(("joints",) if thin else ())} != {"blocks"}:
        return
    bag = next((i for i, x in enumerate(named.items) if x.tagged("noun", "bag")), None)
    block = next((i for i, x in enumerate(named.items) if x.tagged("topic", "blocks")), None)
    if bag is None or not block:
        return
    before = named.scene.at(bag - 1)
    asked = before is None or before.tagged("ask", "quantity") or before.says("list.and") or bool(thin)
    counted = named.items[block - 1].kind == "measure"
    joined = abs(bag - block) == 2 and named.items[(bag + block) // 2].says("list.and")
    if not ((asked and (counted or joined)) or (counted and before is not None and before.kind == "measure")):
        return
    named.strong["mortar"] = bag
    named.weak.clear()
    if joined:
        named.strong.setdefault("blocks", block)
    else:
        named.drop("blocks", "joints")
    for x in named.items:
        if x.tagged("noun", "adhesive"):  # 'bags of adhesive for 320 blocks'
            x.tags += (THIN,)
    named.scene.renew()
