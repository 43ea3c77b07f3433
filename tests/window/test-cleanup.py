# SPDX-License-Identifier: GPL-3.0-or-later
"""Cleaning a scan in the window: settings, brushes by pointer and by key, what was taken away put
back, and undo. What the job file says is what counts."""

import os

import driver
import scans
from driver import App, command, folder, wait


def scan_job(name, *pictures):
    path = os.path.join(folder(), name)
    command("new", path, "--paper=a4")
    for picture in pictures:
        command("add", path, picture)
    return path


def open_page(path, design):
    app = App(path)
    app.click(app.find(f"{design}, ", "list item", begins=True))
    app.find("Clean Up…", "push button")
    app.key("F7")
    app.find("Keep", "push button")
    return app


def recipe(app, path, design=0):
    return app.save(path)["designs"][design]["cleanup"]


def set_tolerance(app, value):
    """The middle of a spin button is its minus sign, so its text is clicked."""
    x, y, width, height = app.place_of(app.find("Tolerance", "spin button"))
    app.click((x + 12, y + height // 2), times=2)
    app.key("ctrl+a")
    app.type(value)
    app.key("Return")


def strokes(recipe):
    return [stroke["kind"] for stroke in recipe.get("strokes", [])]


def picture(app):
    return app.find("Picture of ", begins=True)


def test_settings_brushes_and_undo():
    path = scan_job("brush.stickleback", scans.one_painting())
    app = open_page(path, "scan")
    app.find("2 specks and 0 hairs taken away")
    view = picture(app)
    set_tolerance(app, "20")
    assert recipe(app, path)["tolerance"] == 20

    # A brush by pointer, then one by keys alone.
    app.click(app.find("Take away", "push button"))
    x, y = app.centre(view)
    app.drag((x, y + 120), (x + 80, y + 120))
    app.key("2", "Down", "space", "Right", "Right", "Right", "space")
    made = recipe(app, path)
    assert strokes(made) == ["remove", "keep"], made
    assert made["tolerance"] == 20

    # Strokes outlive a change of tolerance, and each is a step of its own.
    set_tolerance(app, "12")
    made = recipe(app, path)
    assert strokes(made) == ["remove", "keep"] and made["tolerance"] == 12, made
    app.key("ctrl+z", "ctrl+z")
    made = recipe(app, path)
    assert strokes(made) == ["remove"] and made["tolerance"] == 20, made
    app.key("Escape")
    app.find("Pages")
    app.stop()


def test_whites_and_specks_are_clicked():
    path = scan_job("click.stickleback", scans.one_painting())
    app = open_page(path, "scan")
    app.find("2 specks and 0 hairs taken away")
    app.click(app.find("Click whites away", "push button"))
    app.click(picture(app))  # the middle of the ring is paper
    assert strokes(recipe(app, path)) == ["open"]
    app.press(app.find("List, to put back", "push button"))
    button = app.find("Put Back: ", "push button", begins=True)
    app.press(button)
    app.find("1 speck and 0 hairs taken away")
    assert strokes(recipe(app, path)) == ["open", "put_back"]
    app.key("ctrl+z")
    app.find("2 specks and 0 hairs taken away")
    app.stop()


def test_others_are_cleaned_alike():
    path = scan_job("alike.stickleback", scans.one_painting(), scans.one_painting("other.png", 200))
    app = open_page(path, "scan")
    app.find("2 specks and 0 hairs taken away")
    set_tolerance(app, "17")
    app.press(app.find("Clean Others Alike…", "push button"))
    app.click(app.find("other", "check box"))
    app.click(app.find("Clean Alike", "push button"))
    app.find("1 design is cleaned alike now")
    assert recipe(app, path, 1)["tolerance"] == 17
    app.stop()


def test_a_crop_keeps_the_scale():
    path = scan_job("crop.stickleback", scans.one_painting())
    app = open_page(path, "scan")
    app.find("2 specks and 0 hairs taken away")
    app.press(app.find("Crop", "push button"))
    app.click(app.find("Apply", "push button"))
    after = app.save(path)["designs"][0]
    # 8 % of 360 px go on each side: from 28 px to 332.
    assert abs(after["width_mm"] - 304 / 300 * 25.4) < 0.01, after
    app.stop()


def test_a_scan_is_split_and_corrected():
    """Six dots: one is left out, two are joined; the scan itself goes."""
    path = scan_job("split.stickleback", scans.sheet_of_paintings())
    app = open_page(path, "sheet")
    picture(app)
    app.press(app.find("Split into Designs…", "push button"))
    app.find("6 paintings were found. ", begins=True)
    app.click(app.find("6:", "check box", begins=True))
    app.find("Make 5 Designs", "push button")
    x, y, width, height = app.place_of(app.find("Paintings on the scan", "image"))
    # The sheet is three wide and two high, fitted into the view.
    side = min((width - 48) / 3, (height - 48) / 2)
    app.click(app.find("Join", "push button"))
    app.click((int(x + width / 2 - side), int(y + height / 2 - side / 2)))
    app.click((int(x + width / 2), int(y + height / 2 - side / 2)))
    app.find("5 paintings were found. ", begins=True)
    app.click(app.find("Make 4 Designs", "push button"))
    app.find("4 designs were made")
    app.find("Pages")  # the scan is gone, and its page with it
    designs = app.save(path)["designs"]
    assert len(designs) == 4, [design["name"] for design in designs]
    # A dot is 72 px across at 300 dpi; two joined ones lie 150 px apart.
    widths = sorted(design["width_mm"] for design in designs)
    assert abs(widths[-1] - (150 + 36 + 38) / 300 * 25.4) < 0.3, widths
    assert len({design["artwork"] for design in designs}) == 1, "all share the scan"
    app.stop()


driver.own_screen()
driver.main(test_settings_brushes_and_undo, test_whites_and_specks_are_clicked,
            test_others_are_cleaned_alike, test_a_crop_keeps_the_scale,
            test_a_scan_is_split_and_corrected)
