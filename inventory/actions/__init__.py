from inventory.actions.fills import add_reading, add_stock_entry, change_fill, end_fill, start_fill
from inventory.actions.flags import add_note, clear_flag, may_withdraw, raise_flag, withdraw_flag
from inventory.actions.shelf import (
    archive,
    change_bucket,
    change_glaze,
    change_place,
    create_bucket,
    create_glaze,
    create_place,
)

__all__ = [
    "add_note",
    "add_reading",
    "add_stock_entry",
    "archive",
    "change_bucket",
    "change_fill",
    "change_glaze",
    "change_place",
    "clear_flag",
    "create_bucket",
    "create_glaze",
    "create_place",
    "end_fill",
    "may_withdraw",
    "raise_flag",
    "start_fill",
    "withdraw_flag",
]
