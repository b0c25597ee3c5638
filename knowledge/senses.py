"""What a number in talk can be: the sizes at which a reading changes its sense (world/senses.toml)."""

from __future__ import annotations

from knowledge.questions import Model

Span = tuple[float, float]


class Sense(Model):
    """Limits of what things measure, in the unit that stands in the file; a region may have its own."""

    metres_most: float
    millimetres_from: float
    wall_shortest: float
    wall_short_bare: float
    wall_thickest: float
    wall_lowest: float
    wall_highest: float
    storey: float
    courses_beside: float
    courses_most: float
    alike_most: float
    millimetres_never: float
    changed: Span
    opening_widest: float
    opening_highest: float
    feet_high_from: float
    storey_highest: float
    opening_bare_metres: float
    door_feet_high: Span
    door_mostly_high: float
    openings_crossed_most: float
    openings_behind_most: float
    openings_most: float
    aircrete_strongest: float
    block_least: float
    block_most: float
    block_thickness_bare: float
    block_thickness_told: float
    block_inches: Span
    block_inches_common: tuple[float, ...]
    block_inches_sure: Span
    block_inches_last: float
    block_centimetres: Span
    block_centimetres_long: float
    block_centimetres_told: Span
    block_flat_most: float
    block_flat_wide: float
    brick_longest_inches: float
    blocks_fewest: float
    mix_parts_most: float
    bed_thickest: float
    bed_widest: float
    joint_widest: float
    gap_widest: float
    joints_most: float
    joint_centres_least: float
    centres_least: float
    centres_widest: float
    coat_thickest: float
    coat_thickest_told: float
    coat_thickest_finish: float
    coat_bare: Span
    coat_bare_behind: Span
    coats_most: float
    cavity_least: float
    cavity_least_behind: float
    crack_widest: float
    bag_mass: Span
    bag_bulk: Span
    brick_slender: float
    bricks_alike: float
    crack_bare: float
    crack_widest_wide: float
    cracks_most: float
    board_sides: Span
    board_long: float
    board_wide: float
    board_feet_long: tuple[float, ...]
    board_feet_wide: tuple[float, ...]
    joint_widths: tuple[float, ...]
    board_longest: float
    board_thickest: float
    boards_most: float
    roll_longest_from: float
    roll_width: Span
    plate_inches: float
    plate_least: float
    bucket_most: float
    mortar_litres_from: float
    pieces_most: float
    hottest: float
    coldest: float
