"""A small drawing that stands where a demo tile's photo would: the same bytes every time."""

import io
import math

from PIL import Image, ImageDraw

SIZE = (480, 800)
ROOM = "#aeaeae"


def draw_tile(row: dict[str, str]) -> bytes:
    """JPEG of an upright tile on grey: `upper_colour` runs down over `lower_colour` by `flow` mm."""
    picture = Image.new("RGB", SIZE, ROOM)
    pen = ImageDraw.Draw(picture)
    left, top, right, bottom = 60, 40, 420, 760
    pen.rounded_rectangle((left, top, right, bottom), radius=18, fill=row["body_colour"])
    foot, line = bottom - 90, 360
    pen.rectangle((left, 400, right, foot), fill=row["lower_colour"])
    flow = float(row["flow"]) * 10
    edge = [(x, _edge(x, line, flow, foot)) for x in range(left, right + 1, 4)]
    pen.polygon([(left, 110), *edge, (right, edge[-1][1]), (right, 110)], fill=row["upper_colour"])
    pen.ellipse((215, 62, 265, 112), fill=ROOM)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=88)
    return out.getvalue()


def _edge(x: int, line: int, flow: float, foot: int) -> float:
    """Where the upper glaze stops: a wavy line that runs further at some places than at others."""
    wave = 0.55 + 0.3 * math.sin(x / 23) + 0.15 * math.sin(x / 9 + 1)
    return min(line + 60 + flow * wave, foot + flow * 0.3, 755)
