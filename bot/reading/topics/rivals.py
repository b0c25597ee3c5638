"""Topics that only lend a word to another one: the rules, in the order in which they must be asked."""

from __future__ import annotations

from collections.abc import Callable

from bot.reading.topics import joints_or_ties as joints
from bot.reading.topics import mortar_or_render as mortar
from bot.reading.topics import other_rivals as others
from bot.reading.topics.named import Named

ANY = ""  # of no one topic
# Each with the topic that must be named strongly, or it has nothing to say.
RULES: tuple[tuple[str, Callable[[Named], bool | None]], ...] = (
    (ANY, joints.where_the_joints_are),
    ("crack", others.cracked_mix),
    ("mesh", joints.mesh_beside_reinforcement),
    ("wall", others.take_off_openings),
    (ANY, mortar.render_with_a_mix),
    (ANY, mortar.bags_for_blocks),
    (ANY, mortar.blocks_to_lay),
    ("mortar", mortar.glue_of_blocks),
    ("mortar", mortar.mortar_only_in_passing),
    ("safety", mortar.mortar_on_the_skin),
    (ANY, joints.said_of_the_wall),
    (ANY, joints.ties_across_a_joint),
    ("joints", joints.joints_and_a_mix),
    ("joints", joints.movement_by_the_way),
    ("wall", others.list_of_all),
    ("ties", joints.ties_for_joints),
    ("weather", others.too_hot_a_mix),
    (ANY, mortar.coat_of_millimetres),
    ("mortar", mortar.mortar_by_its_wishes),
    ("joints", joints.joints_before_ties),
    ("reinforcement", joints.reinforcement_at_joints),
    ("crack", others.crack_among_others),
    ("weather", others.weather_among_others),
    ("safety", others.safety_among_others),
    ("bearing", others.bearing_among_others),
    ("thermal", others.heat_among_others),
    ("mortar", mortar.mortar_by_the_way),
    ("mesh", mortar.mesh_in_a_coat),
    ("mortar", mortar.mortar_for_blocks),
    ("boards", mortar.boards_alone),
)


def settle_rivals(named: Named) -> None:
    """Ask every rule; one that says True has settled it."""
    for topic, rule in RULES if named.strong or named.weak else ():
        if (topic in named.strong or topic == ANY) and rule(named):
            return
