"""Movement joints, ties and reinforcement: which of them is asked where several are named."""

from __future__ import annotations

from bot.reading.topics.named import Named


def mesh_beside_reinforcement(named: Named) -> None:
    """'reinforcement mesh' is one thing."""
    if named.has("mesh", "reinforcement") and abs(named.strong["mesh"] - named.strong["reinforcement"]) == 1:
        named.drop("reinforcement")


def where_the_joints_are(named: Named) -> None:
    """'10 m, render, abutting a brick wall, joint where?': asked of the joints."""
    i = named.weak.get("joints")
    where = named.scene.at(i + 1) if i is not None else None
    if i is not None and not named.strong and where is not None and where.tagged("ask", "where"):
        named.strong["joints"] = i


def said_of_the_wall(named: Named) -> None:
    """'reinforced', 'dry lined': a topic whose word tells of the wall gives way to one that is asked."""
    soft = [topic for topic in named.strong if _only_told(named, topic)]
    for topic in soft:
        if set(named.strong) - set(soft):
            named.drop(topic)
        elif topic in {"reinforcement", "boards"} and "joints" in named.weak:
            named.drop(topic)
            named.strong["joints"] = named.weak["joints"]


def _only_told(named: Named, topic: str) -> bool:
    word = named.word(topic)
    if not word.tagged("slot") or word.tagged("slot", "work") or named.asked_for(topic):
        return False
    if topic == "weather" and any(named.word(other).tagged("slot", "work") for other in named.others(topic)):
        return False  # 'lashing rain, plastering outside?'
    with_it = {"joints", "mortar", "blocks", "wall"} & set(named.strong) or "joints" in named.weak
    return topic != "reinforcement" or bool(with_it)


def ties_across_a_joint(named: Named) -> None:
    """'wall ties at a joint': ties of a movement joint."""
    if "joints" not in named.weak or not ("ties" in named.strong or "ties" in named.weak):
        return
    across = named.tagged("wants", "joints", "tie_count") or named.says("ties.cavity_or_wall")
    if across and named.says("joints.joint") and not _listed_ties(named):
        named.drop("ties")
        named.weak.pop("ties", None)
        named.strong["joints"] = named.weak["joints"]


def joints_and_a_mix(named: Named) -> None:
    """'joints ... and 6:1 ok?': a mix that is asked about is a topic of its own."""
    if not named.has("joints") or not named.free_ratio():
        return
    for i, x in enumerate(named.items):
        behind = named.items[i + 1 : i + 4]
        if x.kind == "ratio" and not x.used and any(y.tagged("wants", "mortar", "verdict") for y in behind):
            named.strong.setdefault("mortar", i)


def movement_by_the_way(named: Named) -> None:
    """'movement' alone names joints only where nothing else is named."""
    if named.has("joints") and named.word("joints").says("joints.movement") and named.others("joints"):
        named.drop("joints")


def _listed_ties(named: Named) -> bool:
    """'joints and ties for a cavity wall': ties of the cavity, listed beside the joints."""
    i = named.strong.get("ties", named.weak.get("ties", 0))
    after = named.scene.at(i + 1)
    if not named.tagged("slot", "leaf", "cavity") or (after is not None and after.says("ties.at_a_joint")):
        return False
    beside = [x for x in (named.scene.at(i - 1), after) if x is not None]
    return any(x.says("list.and") for x in beside)


def ties_for_joints(named: Named) -> None:
    """Ties beside a hint of joints are ties of a joint, unless they are called wall ties."""
    if (
        named.has("ties")
        and "joints" in named.weak
        and not (named.says("ties.wall_ties") or _listed_ties(named))
    ):
        named.strong["joints"] = named.strong.pop("ties")


def joints_before_ties(named: Named) -> None:
    """Joints take the ties with them, unless they are called wall ties."""
    if named.has("joints", "ties") and not (named.says("ties.any_ties") or _listed_ties(named)):
        named.drop("ties")
    if named.has("joints"):
        named.weak.pop("ties", None)


def _with_it(named: Named) -> bool:
    """'block with bed reo, how far apart are the joints': the wall has it."""
    before = named.scene.at(named.strong["reinforcement"] - 1)
    return before is not None and before.says("joints.with_reinforcement") and before.tagged("connect", "and")


def reinforcement_at_joints(named: Named) -> None:
    """'does it go through the joint' asks of reinforcement; 'joints with bed reinforcement' of joints."""
    if named.has("joints", "reinforcement"):
        first = named.strong["reinforcement"] < named.strong["joints"]
        if first and not named.sized() and named.speaks("reinforcement.through"):
            named.drop("joints")
        elif not named.asked_for("reinforcement") or _with_it(named):
            named.drop("reinforcement")
    if named.has("reinforcement", "mesh") and named.word("mesh").tagged("topic", "reinforcement"):
        named.drop("mesh")
