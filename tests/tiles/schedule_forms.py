"""The form of a schedule as a browser sends it."""


def sent(*rows, **fields):
    """`rows` are (rate, to, hold) as they are typed."""
    found = {"name": "Glaze to 6", "kind": "glaze", "target_cone": "6", "remark": "", **fields}
    found |= {"segments-TOTAL_FORMS": str(len(rows)), "segments-INITIAL_FORMS": "0"}
    for n, row in enumerate(rows):
        found |= {
            f"segments-{n}-{name}": text
            for name, text in zip(("rate_c_per_h", "to_c", "hold_min"), row, strict=True)
        }
    return found
