from inventory.actions.classes import (
    add_class_entry,
    change_class_list,
    close_class_list,
    create_class_list,
    new_address,
)
from inventory.actions.decant import pour_into_empty
from inventory.actions.ending import end_fill
from inventory.actions.fills import add_reading, change_fill, start_fill
from inventory.actions.flag_photos import add_flag_photo, raise_flag_with_photos
from inventory.actions.flags import add_note, clear_flag, may_withdraw, raise_flag, withdraw_flag
from inventory.actions.labels import note_labels_printed
from inventory.actions.life import revive, top_up, transfer, treat, wash_out
from inventory.actions.mistaken_label import withdraw_label
from inventory.actions.rounds import finish_round, measure_stop, pass_stop, set_cup, start_round
from inventory.actions.shelf import (
    archive,
    change_bucket,
    change_glaze,
    change_place,
    create_bucket,
    create_glaze,
    create_place,
)
from inventory.actions.stock import add_stock_entry
from inventory.actions.substances import may_take_back, note_substance, take_back_substance

__all__ = [
    "add_class_entry",
    "add_flag_photo",
    "add_note",
    "add_reading",
    "add_stock_entry",
    "archive",
    "change_bucket",
    "change_class_list",
    "change_fill",
    "change_glaze",
    "change_place",
    "clear_flag",
    "close_class_list",
    "create_bucket",
    "create_class_list",
    "create_glaze",
    "create_place",
    "end_fill",
    "finish_round",
    "may_take_back",
    "may_withdraw",
    "measure_stop",
    "new_address",
    "note_labels_printed",
    "note_substance",
    "pass_stop",
    "pour_into_empty",
    "raise_flag",
    "raise_flag_with_photos",
    "revive",
    "set_cup",
    "start_fill",
    "start_round",
    "take_back_substance",
    "top_up",
    "transfer",
    "treat",
    "wash_out",
    "withdraw_flag",
    "withdraw_label",
]
