# SPDX-License-Identifier: GPL-3.0-or-later
"""Scans of invented paintings on cream paper, drawn pixel by pixel: no picture library is needed."""

import os
import random
import struct
import zlib

from driver import folder

PAPER = (241, 234, 218)
RADISH = (176, 44, 70)
LEAF = (70, 120, 60)


def write_png(path, width, height, pixel, dpi=300):
    """`pixel` gives the colour at x, y."""
    def chunk(kind, data):
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))
    rows = bytearray()
    for y in range(height):
        rows.append(0)
        for x in range(width):
            rows += bytes(pixel(x, y))
    metre = round(dpi / 0.0254)
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n"
                   + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
                   + chunk(b"pHYs", struct.pack(">IIB", metre, metre, 1))
                   + chunk(b"IDAT", zlib.compress(bytes(rows), 1)) + chunk(b"IEND", b""))
    return path


def grainy(colour, chance):
    step = chance.randint(-2, 2)
    return tuple(min(max(value + step, 0), 255) for value in colour)


def one_painting(name="scan.png", side=360):
    """A ring with a leaf beside it: paper enclosed by artwork, and two specks of dust."""
    chance = random.Random(7)
    middle = side // 2

    def pixel(x, y):
        away = ((x - middle) ** 2 + (y - middle) ** 2) ** 0.5
        if side * 0.16 < away < side * 0.30:
            return grainy(RADISH, chance)
        if abs(x - middle) < side * 0.04 and side * 0.08 < y < side * 0.22:
            return grainy(LEAF, chance)
        if (x - 40) ** 2 + (y - 50) ** 2 < 5 or (x - side + 45) ** 2 + (y - 60) ** 2 < 7:
            return (90, 84, 76)
        return grainy(PAPER, chance)
    return write_png(os.path.join(folder(), name), side, side, pixel)


def sheet_of_paintings(name="sheet.png", columns=3, rows=2, side=150):
    """Dots of 6 mm and more, well apart."""
    chance = random.Random(11)

    def pixel(x, y):
        dx, dy = x % side - side // 2, y % side - side // 2
        number = y // side * columns + x // side
        if dx * dx + dy * dy < (36 + 2 * number) ** 2:
            return grainy(RADISH if number % 2 else LEAF, chance)
        return grainy(PAPER, chance)
    return write_png(os.path.join(folder(), name), columns * side, rows * side, pixel)


# Corners of the sheet below, from the top left one clockwise, px.
SHEET_CORNERS = ((70, 60), (352, 48), (372, 262), (48, 246))


def photo_of_sheet(name="photo.png", width=420, height=300):
    """A sheet seen aslant on a dark table, with a blot on it."""
    chance = random.Random(5)
    corners = SHEET_CORNERS

    def inside(x, y):
        return all((bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0
                   for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1]))

    def pixel(x, y):
        if not inside(x, y):
            return grainy((62, 48, 40), chance)
        return grainy(RADISH if (x - 200) ** 2 + (y - 150) ** 2 < 2500 else PAPER, chance)
    return write_png(os.path.join(folder(), name), width, height, pixel)
