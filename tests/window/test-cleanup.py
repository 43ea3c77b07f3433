# SPDX-License-Identifier: GPL-3.0-or-later
"""Cleaning scans and photos in the window, with every tool of the page by pointer and some by key.
What the job file says is what counts. The program is started once: each step begins with the
recipe of the step before, and takes back what would be in the way of the next."""

import math
import os

import driver
import scans
from driver import App, command, folder, wait

SIDE = 360  # px of the first scan


def open_page(app, design):
    app.click(app.find(f"{design}, ", "list item", begins=True))
    app.find("Clean Up…", "push button")
    app.key("F7")
    app.find("Keep", "push button")


def recipe(app, path, design=0):
    return app.save(path)["designs"][design]["cleanup"]


def set_number(app, name, value):
    """The middle of a spin button is its minus sign, so its text is clicked."""
    x, y, width, height = app.resting_place_of(app.find(name, "spin button"))
    app.click((x + 12, y + height // 2), times=2)
    app.key("ctrl+a")
    app.type(value)
    app.key("Return")


def strokes(recipe):
    return [stroke["kind"] for stroke in recipe.get("strokes", [])]


def picture(app):
    return app.find("Picture of ", begins=True)


def shown(app, px_width, px_height):
    """Where a px of the fitted picture is on the screen."""
    x, y, width, height = app.resting_place_of(picture(app))
    scale = min((width - 48) / px_width, (height - 48) / px_height)
    return lambda px, py: (round(x + width / 2 + (px - px_width / 2) * scale),
                           round(y + height / 2 + (py - px_height / 2) * scale))


def pressed(app, name):
    button = app.find(name, "push button")
    return button.has_state("pressed") or button.has_state("checked")


def brushes_and_undo(app, path):
    set_number(app, "Tolerance", "20")
    assert recipe(app, path)["tolerance"] == 20

    # A brush by pointer, then one by keys alone.
    app.click(app.find("Take away", "push button"))
    x, y = app.centre(picture(app))
    app.drag((x, y + 120), (x + 80, y + 120))
    app.key("2", "Down", "space", "Right", "Right", "Right", "space")
    made = recipe(app, path)
    assert strokes(made) == ["remove", "keep"], made
    assert made["tolerance"] == 20

    # Strokes outlive a change of tolerance, and each is a step of its own.
    set_number(app, "Tolerance", "12")
    made = recipe(app, path)
    assert strokes(made) == ["remove", "keep"] and made["tolerance"] == 12, made
    app.key("ctrl+z", "ctrl+z", "ctrl+z")
    assert not strokes(recipe(app, path))

    # The keep brush by pointer, outside the ring; then a retouch.
    at = shown(app, SIDE, SIDE)
    app.click(app.find("Keep", "push button"))
    app.drag(at(20, 330), at(60, 330))
    app.click(app.find("Retouch", "push button"))
    app.drag(at(180, 90), at(200, 90))
    made = recipe(app, path)
    assert strokes(made) == ["keep", "retouch"], made
    x, y = made["strokes"][0]["points"][:2]
    assert abs(x - 20 / SIDE) < 0.01 and abs(y - 330 / SIDE) < 0.01, made["strokes"]
    app.key("ctrl+z", "ctrl+z")


def before_and_after(app, path):
    assert not pressed(app, "Before")
    app.click(app.find("Before", "push button"))
    wait("before", lambda: pressed(app, "Before"))
    app.click(app.find("Before", "push button"))
    wait("after", lambda: not pressed(app, "Before"))


def whites_and_specks(app, path):
    app.find("2 specks and 0 hairs taken away")
    app.click(app.find("Click whites away", "push button"))
    app.click(picture(app))  # the middle of the ring is paper
    assert strokes(recipe(app, path)) == ["open"]
    app.find("List, to put back", "push button").press()
    app.find("Put Back: ", "push button", begins=True).press()
    app.find("1 speck and 0 hairs taken away")
    assert strokes(recipe(app, path)) == ["open", "put_back"]
    app.key("ctrl+z")
    app.find("2 specks and 0 hairs taken away")

    # The same by a click on the mark.
    app.click(app.find("Put specks back", "push button"))
    app.click(shown(app, SIDE, SIDE)(40, 50))
    app.find("1 speck and 0 hairs taken away")
    app.key("ctrl+z", "ctrl+z")
    assert not strokes(recipe(app, path))


def paper_is_picked_and_whitened(app, path):
    app.click(app.find("Pick the paper’s colour", "push button"))
    app.click(shown(app, SIDE, SIDE)(30, 180))
    app.find("picked by you")
    rgb = recipe(app, path)["paper_rgb"]
    for shift, want in zip((16, 8, 0), scans.PAPER):
        assert abs((rgb >> shift & 255) - want) <= 2, hex(rgb)
    app.click(app.find("Whiten the paper", "check box"))
    made = recipe(app, path)
    assert made["whiten"] and made["remove_paper"], made
    app.key("ctrl+z", "ctrl+z")
    made = recipe(app, path)
    assert not made["whiten"] and "paper_rgb" not in made, made


def a_line_is_made_level(app, path):
    app.find("Make a Line Level", "push button").press()
    app.find("Apply", "push button")
    at = shown(app, SIDE, SIDE)
    # The line lies across the middle, from 0.16 to 0.84 of the width.
    app.drag(at(0.84 * SIDE, SIDE / 2), at(0.84 * SIDE, SIDE / 2 - 40))
    app.click(app.find("Apply", "push button"))
    corners = recipe(app, path)["frame"]["corners"]
    turned = math.atan2(corners[3] - corners[1], corners[2] - corners[0])
    assert abs(turned + math.atan2(40, 0.68 * SIDE)) < 0.02, math.degrees(turned)
    app.key("ctrl+z")


def a_length_sets_the_size(app, path):
    app.find("Size from a Length", "push button").press()
    entry = app.find("Length of the line", "text")
    app.fill(entry, "20 mm")
    app.click(app.find("Apply", "push button"))
    width = app.save(path)["designs"][0]["width_mm"]
    assert abs(width - 20 / 0.68) < 0.1, width
    app.key("ctrl+z")


def a_crop_keeps_the_scale(app, path):
    app.find("Crop", "push button").press()
    app.find("Apply", "push button")
    at = shown(app, SIDE, SIDE)
    app.drag(at(0.92 * SIDE, 0.92 * SIDE), at(240, 300))
    app.click(app.find("Apply", "push button"))
    after = app.save(path)["designs"][0]
    # 8 % of 360 px go at the left and above.
    assert abs(after["width_mm"] - (240 - 0.08 * SIDE) / 300 * 25.4) < 0.2, after
    assert abs(after["height_mm"] - (300 - 0.08 * SIDE) / 300 * 25.4) < 0.2, after
    app.key("ctrl+z")


def others_are_cleaned_alike(app, path):
    set_number(app, "Tolerance", "17")
    app.find("Clean Others Alike…", "push button").press()
    app.click(app.find("other", "check box"))
    app.click(app.find("Clean Alike", "push button"))
    app.find("1 design is cleaned alike now")
    assert recipe(app, path, 1)["tolerance"] == 17


def a_strip_of_variants(app, path):
    before = app.save(path)
    app.find("Test Strip", "push button").press()
    app.find("A page at the end has the strip", begins=True)
    after = app.save(path)
    assert len(after["pages"]) == len(before["pages"]) + 1
    new = after["designs"][len(before["designs"]):]
    assert sorted(round(design["cleanup"]["brightness"]) for design in new)[0] < 0
    assert len(driver.pieces({"pages": after["pages"][-1:]})) >= 3
    app.key("ctrl+z")


def a_sheet_is_found_and_corrected(app, path):
    """On another picture: four corners found, one of them then dragged."""
    app.key("Escape")
    open_page(app, "photo")
    app.find("Straighten a Photo", "push button").press()
    app.find("Find the Sheet", "push button")
    app.click(app.find("Apply", "push button"))
    found = recipe(app, path, 2)["sheet"]["corners"]
    for i, (x, y) in enumerate(scans.SHEET_CORNERS):
        assert math.hypot(found[2 * i] * 420 - x, found[2 * i + 1] * 420 - y) < 6, found
    app.find("Straighten a Photo", "push button").press()
    app.find("Apply", "push button")
    at = shown(app, 420, 300)
    app.drag(at(found[4] * 420, found[5] * 420), at(found[4] * 420 - 30, found[5] * 420 - 20))
    app.click(app.find("Apply", "push button"))
    moved = recipe(app, path, 2)["sheet"]["corners"]
    assert abs((found[4] - moved[4]) * 420 - 30) < 3, (found, moved)
    assert abs((found[5] - moved[5]) * 420 - 20) < 3, (found, moved)
    app.key("Escape")


def a_split_is_offered(app, path):
    """As soon as a scan with six paintings is added; one click splits it."""
    before = len(app.save(path)["designs"])
    app.key("ctrl+i")
    app.type_path("Add Artwork", scans.sheet_of_paintings("dots.png"))
    app.find("6 paintings found on dots")
    app.click(app.find("Split", "push button"))
    app.find("dots was split into designs")
    names = [design["name"] for design in app.save(path)["designs"]]
    assert names[before:] == [f"dots {i}" for i in range(1, 7)], names
    app.key("ctrl+z")


def a_split_is_corrected(app, path):
    """Six dots: one is left out, two are joined; the scan itself goes."""
    before = len(app.save(path)["designs"]) - 1
    open_page(app, "dots")
    picture(app)
    app.find("Split into Designs…", "push button").press()
    app.find("6 paintings were found. ", begins=True)
    app.click(app.find("6:", "check box", begins=True))
    app.find("Make 5 Designs", "push button")
    x, y, width, height = app.resting_place_of(app.find("Paintings on the scan", "image"))
    # The sheet is three wide and two high, fitted into the view.
    side = min((width - 48) / 3, (height - 48) / 2)
    app.click(app.find("Join", "push button"))
    app.click((int(x + width / 2 - side), int(y + height / 2 - side / 2)))
    app.click((int(x + width / 2), int(y + height / 2 - side / 2)))
    app.find("5 paintings were found. ", begins=True)
    app.click(app.find("Make 4 Designs", "push button"))
    app.find("4 designs were made")
    app.find("Pages")  # the scan is gone, and its page with it
    designs = app.save(path)["designs"][before:]
    assert len(designs) == 4, [design["name"] for design in designs]
    # A dot is 72 px across at 300 dpi; two joined ones lie 150 px apart.
    widths = sorted(design["width_mm"] for design in designs)
    assert abs(widths[-1] - (150 + 36 + 38) / 300 * 25.4) < 0.3, widths
    assert len({design["artwork"] for design in designs}) == 1, "all share the scan"


def test_every_tool():
    path = os.path.join(folder(), "tools.stickleback")
    command("new", path, "--paper=a4")
    for made in (scans.one_painting(), scans.one_painting("other.png", 200),
                 scans.photo_of_sheet()):
        command("add", path, made)
    app = App(path)
    open_page(app, "scan")
    app.find("2 specks and 0 hairs taken away")
    for step in (brushes_and_undo, before_and_after, whites_and_specks,
                 paper_is_picked_and_whitened, a_line_is_made_level, a_length_sets_the_size,
                 a_crop_keeps_the_scale, others_are_cleaned_alike, a_strip_of_variants,
                 a_sheet_is_found_and_corrected, a_split_is_offered, a_split_is_corrected):
        print("#", step.__name__, flush=True)
        step(app, path)
    app.stop()


driver.own_screen()
driver.main(test_every_tool)
