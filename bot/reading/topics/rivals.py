"""Topics that only lend a word to another one: the rules, in the order in which they must be asked."""

from __future__ import annotations

from collections.abc import Callable

from bot.reading.topics import joints_or_ties as joints
from bot.reading.topics import mortar_or_render as mortar
from bot.reading.topics import other_rivals as others
from bot.reading.topics.named import Named

RULES: tuple[Callable[[Named], bool | None], ...] = (
    others.cracked_mix,
    joints.mesh_beside_reinforcement,
    others.take_off_openings,
    mortar.render_with_a_mix,
    mortar.mortar_only_in_passing,
    mortar.mortar_on_the_skin,
    joints.said_of_the_wall,
    joints.ties_across_a_joint,
    joints.joints_and_a_mix,
    joints.movement_by_the_way,
    others.list_of_all,
    joints.ties_for_joints,
    others.too_hot_a_mix,
    mortar.coat_of_millimetres,
    mortar.mortar_by_its_wishes,
    joints.joints_before_ties,
    joints.reinforcement_at_joints,
    others.crack_among_others,
    others.weather_among_others,
    others.safety_among_others,
    others.bearing_among_others,
    others.heat_among_others,
    mortar.mortar_by_the_way,
    mortar.mesh_in_a_coat,
    mortar.mortar_for_blocks,
    mortar.boards_alone,
)


def settle_rivals(named: Named) -> None:
    """Ask every rule; one that says True has settled it."""
    for rule in RULES if named.strong or named.weak else ():
        if rule(named):
            return
