# SPDX-License-Identifier: GPL-3.0-or-later
"""Comfort: the main job by keyboard alone, units, switches, the windows beside the main one."""

import os

import driver
from driver import App, command, folder, pieces, read_job, wait
from jobs import art, job_with_piece, new_job


def walk_to(app, node):
    """Tab until the focus is in a node, as a maker without a pointer does."""
    for _ in range(80):
        if any(at.has_state("focused") for at, _ in node.walk()):
            return
        app.key("Tab")
    raise AssertionError(f"Tab never came to “{node.name}”")


def test_the_main_job_without_a_pointer():
    """Artwork in, its border, three wanted, arranged, proofed, saved, exported and up to the print
    dialog: keys only."""
    path = os.path.join(folder(), "keys.stickleback")
    app = App()
    app.find("New from paper size")
    app.key("ctrl+n")
    app.find("Drop pictures here")
    app.key("ctrl+i")
    app.type_path("Add Artwork", art("tomato.png"), keys=True)
    app.find("tomato, ", "list item", begins=True)

    walk_to(app, app.find("tomato, ", "list item", begins=True))
    walk_to(app, app.find("tomato, Copies wanted", "spin button"))
    app.key("ctrl+a")
    app.type("3")
    app.key("Return")
    wait("three wanted", lambda: app.look("tomato, ", "list item", begins=True).name.endswith(
        "0 of 3 placed"))
    walk_to(app, app.find("Border width", "text"))
    app.key("ctrl+a")
    app.type("4mm")
    app.key("Return")
    app.key("ctrl+r")
    app.find("tomato, piece 3", begins=True, patience=90)
    app.key("F8")
    app.find("Nothing is lost. Every sticker prints whole.") if not app.look(
        "Note: ", "list item", begins=True) else None
    app.key("ctrl+s")
    app.type_path("Save Job", path, keys=True)
    job = wait("the file", lambda: read_job(path))
    assert len(pieces(job)) == 3 and job["designs"][0]["border"]["width_mm"] == 4, job
    pdf = os.path.join(folder(), "keys.pdf")
    app.key("ctrl+e")
    app.type_path("Export", pdf, keys=True)
    app.find("Exported keys.pdf")
    assert os.path.getsize(pdf) > 1000
    app.key("ctrl+p")
    wait("the print dialog", lambda: app.window_ids("^Print$"))
    app.stop()


def test_units_follow_the_preference():
    app = App(job_with_piece("units.stickleback"))
    app.click(app.find("tomato, piece 1", begins=True))
    entry = app.find("Artwork width", "text")
    wait("millimetres", lambda: entry.text == "40.0 mm")
    app.key("ctrl+comma")
    app.find("True size on this screen")
    app.click(app.find("Unit of length", "combo box"))
    app.key("Down", "Down", "Down", "Return")
    wait("inches", lambda: entry.text.endswith("in"))
    app.key("Escape")
    app.stop()


def test_drawer_and_details_fold_away():
    app = App(job_with_piece("panes.stickleback"))
    pages = app.find("Pages")
    width = app.place_of(pages)[2]
    app.key("F9")
    wait("the drawer to go", lambda: app.place_of(pages)[2] > width + 200)
    app.key("shift+F9")
    wait("Details to go", lambda: app.place_of(pages)[2] > width + 500)
    app.key("F9", "shift+F9")
    wait("both to come back", lambda: app.place_of(pages)[2] == width)
    app.stop()


def test_pages_are_added_turned_and_removed():
    path = job_with_piece("pages.stickleback")
    app = App(path)
    app.find("A4, page 1 of 1")
    app.key("ctrl+shift+p")
    app.find("A4, page 2 of 2")  # the new one is in view
    app.key("ctrl+Prior")
    app.find("A4, page 1 of 2")
    assert len(app.save(path)["pages"]) == 2
    app.key("ctrl+z")
    app.find("A4, page 1 of 1")
    app.stop()


def test_paper_is_typed():
    path = new_job("paper.stickleback", "tomato.png")
    app = App(path)
    app.fill(app.find("Width of the paper", "text"), "8in")
    job = app.save(path)
    assert job["paper"]["width_um"] == 203200, job["paper"]
    app.fill(app.find("Strip at the foot", "text"), "0.5in")
    job = app.save(path)
    assert job["margins"]["bottom_um"] == 12700 and job["margins"]["source"] == "typed", job
    app.stop()


driver.own_screen()
driver.main(test_the_main_job_without_a_pointer, test_units_follow_the_preference,
            test_drawer_and_details_fold_away, test_pages_are_added_turned_and_removed,
            test_paper_is_typed)
