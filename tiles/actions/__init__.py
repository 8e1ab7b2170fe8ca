from tiles.actions.acknowledgements import acknowledge
from tiles.actions.causes import change_causes, change_remedy, drop_remedy, plan_remedy, restore_causes
from tiles.actions.clay import archive, change_body, change_kiln, create_body, create_kiln
from tiles.actions.combinations import change_combination
from tiles.actions.evidence import set_witness_cones
from tiles.actions.firings import change_firing, plan_firing
from tiles.actions.kiln_parts import note_part_change, read_meter, take_part_change_back
from tiles.actions.layers import add_layer, change_layer, create_tile_whole, remove_layer, set_layers
from tiles.actions.loading import load_tile, take_out
from tiles.actions.making import make_run, mark_tiles
from tiles.actions.many import glaze_many, hang, load_many, repeat_tile
from tiles.actions.marks import mark_touched, undo_marks
from tiles.actions.moving import move_firing
from tiles.actions.numbers import add_tile, next_number, reserve_numbers
from tiles.actions.outcomes import archive_photo, record_outcome, take_look_back
from tiles.actions.photos import add_photo, prepare_photo
from tiles.actions.pieces import load_piece, take_piece_out
from tiles.actions.schedules import archive_schedule, change_schedule, create_schedule
from tiles.actions.searches import archive_search, change_search, save_search
from tiles.actions.sets import lay_set_down, set_in_hand, take_set
from tiles.actions.stepping_back import step_back
from tiles.actions.stops import override_stop
from tiles.actions.tiles import change_tile, in_hand, lay_down, may_edit, possible_states, take_in_hand

__all__ = [
    "acknowledge",
    "add_layer",
    "add_photo",
    "add_tile",
    "archive",
    "archive_photo",
    "archive_schedule",
    "archive_search",
    "change_body",
    "change_causes",
    "change_combination",
    "change_firing",
    "change_kiln",
    "change_layer",
    "change_remedy",
    "change_schedule",
    "change_search",
    "change_tile",
    "create_body",
    "create_kiln",
    "create_schedule",
    "create_tile_whole",
    "drop_remedy",
    "glaze_many",
    "hang",
    "in_hand",
    "lay_down",
    "lay_set_down",
    "load_many",
    "load_piece",
    "load_tile",
    "make_run",
    "mark_tiles",
    "mark_touched",
    "may_edit",
    "move_firing",
    "next_number",
    "note_part_change",
    "override_stop",
    "plan_firing",
    "plan_remedy",
    "possible_states",
    "prepare_photo",
    "read_meter",
    "record_outcome",
    "remove_layer",
    "repeat_tile",
    "reserve_numbers",
    "restore_causes",
    "save_search",
    "set_in_hand",
    "set_layers",
    "set_witness_cones",
    "step_back",
    "take_in_hand",
    "take_look_back",
    "take_out",
    "take_part_change_back",
    "take_piece_out",
    "take_set",
    "undo_marks",
]
