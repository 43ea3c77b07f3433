# SPDX-License-Identifier: GPL-3.0-or-later
"""The main job by pointer: artwork in, dragged onto the page, moved, turned, resized, undone,
arranged, proofed, exported, saved and opened again."""

import os
import subprocess

import driver
from driver import App, command, folder, pieces, read_job, wait
from jobs import art, job_with_piece, new_job


def test_artwork_comes_in_by_name():
    """Pictures named on the command line become designs of a new job."""
    app = App(art("radish.png"), art("beetroot.svg"))
    app.find("radish, ", "list item", begins=True)
    app.find("beetroot, ", "list item", begins=True)
    app.stop()


def test_drag_from_the_drawer_places_a_piece():
    path = new_job("place.stickleback", "tomato.png")
    app = App(path)
    row = app.find("tomato, ", "list item", begins=True)
    app.drag(row, app.centre(app.find("Pages")))
    app.find("tomato, piece 1", begins=True)
    piece, = pieces(app.save(path))
    assert 60000 < piece["x_um"] < 150000 and 80000 < piece["y_um"] < 220000, piece
    app.stop()


def test_return_places_a_piece_without_a_pointer():
    path = new_job("keyboard.stickleback", "tomato.png")
    app = App(path)
    app.click(app.find("tomato, ", "list item", begins=True))
    app.key("Return")
    app.find("tomato, piece 1", begins=True)
    assert len(pieces(app.save(path))) == 1
    app.stop()


def test_dragging_moves_a_piece_and_undo_brings_it_back():
    path = job_with_piece("drag.stickleback")
    before, = pieces(read_job(path))
    app = App(path)
    piece = app.find("tomato, piece 1", begins=True)
    x, y = app.centre(piece)
    app.drag((x, y), (x + 60, y - 40))
    wait("the job to be changed", app.is_modified)
    after, = pieces(app.save(path))
    assert after["x_um"] - before["x_um"] > 10000, (before, after)
    assert before["y_um"] - after["y_um"] > 7000, (before, after)
    app.key("ctrl+z")
    wait("the undo", app.is_modified)
    again, = pieces(app.save(path))
    assert again == before, (before, again)
    app.key("ctrl+shift+z")
    wait("the redo", app.is_modified)
    redone, = pieces(app.save(path))
    assert redone == after, (after, redone)
    app.stop()


def test_arrow_keys_nudge_by_a_millimetre():
    path = job_with_piece("nudge.stickleback")
    before, = pieces(read_job(path))
    app = App(path)
    app.click(app.find("tomato, piece 1", begins=True))
    app.find("tomato, piece 1", "label")
    app.key("Right", "shift+Down", "ctrl+Left")
    after, = pieces(app.save(path))
    assert after["x_um"] - before["x_um"] == 1000 - 100, (before, after)
    assert after["y_um"] - before["y_um"] == 10000, (before, after)
    app.stop()


def test_repeating_in_a_grid_is_one_step():
    path = job_with_piece("repeat.stickleback", at="40mm,60mm")
    app = App(path)
    app.click(app.find("tomato, piece 1", begins=True))
    app.key("r")
    app.find("Columns", "spin button")
    app.key("ctrl+a")
    app.type("3")
    app.key("Tab", "ctrl+a")
    app.type("2")
    app.key("Tab")
    app.find("6 pieces. ", begins=True)
    app.key("Return")
    app.find("tomato, piece 6", begins=True)
    job = app.save(path)
    xs = sorted({piece["x_um"] for piece in pieces(job)})
    ys = sorted({piece["y_um"] for piece in pieces(job)})
    assert len(pieces(job)) == 6 and len(xs) == 3 and len(ys) == 2, (xs, ys)
    assert xs[1] - xs[0] == xs[2] - xs[1]
    # The outlines are as far apart as the job asks for, by the proof's own measure and no farther
    # than the drawer's finished size and the gap (both told to a tenth of a millimetre).
    assert "gap" not in command("proof", path, "--json"), "too close"
    size = app.find("tomato, ", "list item", begins=True).name.split(", ")[1].split(" ")
    for step, side in ((xs[1] - xs[0], size[0]), (ys[1] - ys[0], size[2].split("\u2009")[0])):
        assert abs(step / 1000 - float(side) - job["gap_um"] / 1000) <= 0.06, (step, side)
    app.key("ctrl+z")
    app.gone("tomato, piece 2", begins=True)
    app.stop()


def test_details_take_typed_measures():
    """Units are typed freely; the artwork keeps its proportions, the piece its centre."""
    path = job_with_piece("details.stickleback")
    before = read_job(path)
    app = App(path)
    app.click(app.find("tomato, piece 1", begins=True))
    app.fill(app.find("Turn in degrees, clockwise", "text"), "45")
    app.fill(app.find("From left", "text"), "1 in")
    app.fill(app.find("Artwork width", "text"), "2in")
    job = app.save(path)
    design, = job["designs"]
    was, = before["designs"]
    piece, = pieces(job)
    assert abs(design["width_mm"] - 50.8) < 1e-9, design
    assert abs(design["height_mm"] / design["width_mm"] - was["height_mm"] / was["width_mm"]) < 1e-9
    assert piece["turn_millidegrees"] == 45000, piece
    app.stop()


def test_nonsense_is_refused_and_put_back():
    path = job_with_piece("nonsense.stickleback")
    app = App(path)
    app.click(app.find("tomato, piece 1", begins=True))
    entry = app.find("Artwork width", "text")
    held = entry.text
    app.fill(entry, "broad")
    app.key("Escape")
    wait("the old value", lambda: entry.text == held)
    assert not app.is_modified()
    app.stop()


def test_border_width_is_typed():
    path = job_with_piece("border.stickleback")
    app = App(path)
    app.click(app.find("tomato, piece 1", begins=True))
    app.fill(app.find("Border width", "text"), "5mm")
    wait("the border to grow", app.is_modified)
    design, = app.save(path)["designs"]
    assert design["border"]["width_mm"] == 5, design
    app.stop()


def test_wanted_copies_arrange_onto_the_page():
    path = new_job("arrange.stickleback", "tomato.png", "radish.png", count=3)
    app = App(path)
    app.find("radish, ", "list item", begins=True)
    app.key("ctrl+r")
    wait("the layout", lambda: app.look("6 stickers on 1 page", begins=True), 90)
    assert len(pieces(app.save(path))) == 6
    findings = command("proof", path, "--json")
    assert '"stop"' not in findings, findings
    app.stop()


def arrange_until(app, name, key):
    """Starts arranging and ends it by a key of its card, which comes after half a second and would
    stay for five."""
    app.key("ctrl+r")
    app.find(name, "push button")
    app.key(key)
    app.gone(name, "push button")


def test_arranging_is_enough_undone_and_cancelled():
    path = new_job("enough.stickleback", "tomato.png", "radish.png", count=8)
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    arrange_until(app, "Enough", "alt+e")
    app.key("ctrl+z")
    app.gone("tomato, piece 1", begins=True)
    app.key("ctrl+shift+z")
    app.find("tomato, piece 1", begins=True)
    assert len(pieces(app.save(path))) == 16
    app.key("ctrl+z")
    app.gone("tomato, piece 1", begins=True)
    arrange_until(app, "Cancel", "alt+c")
    app.gone("tomato, piece 1", begins=True)
    assert len(pieces(app.save(path))) == 0
    app.stop()


def test_what_if_and_the_size_of_a_freebie():
    path = job_with_piece("what-if.stickleback")
    app = App(path)
    border, nook = (read_job(path)["designs"][0]["border"][key] for key in ("width_mm", "nook_mm"))
    app.click(app.find("tomato, piece 1", begins=True))
    app.find("What If It Were Smaller?", "push button").press()
    app.find("Apply", "push button", patience=90).press()
    app.find("tomato, piece 2", begins=True)
    app.key("ctrl+z")
    app.gone("tomato, piece 2", begins=True)
    app.find("Freebie: only fills what space is left").press()
    largest = app.find("Largest size of the freebie", "text")
    pane = app.centre(app.find("Artwork width", "text"))

    def is_seen():
        if app.place_of(largest)[1] < 770:
            return True
        app.click(pane, times=5, button=5)  # the wheel: the pane may have been filled anew meanwhile
        return False
    wait("the rows to be seen", is_seen)
    app.fill(largest, "0.8in")
    wait("the size", lambda: largest.text.startswith("20.3"))
    design, = app.save(path)["designs"]
    assert design["freebie"], design
    # The sliders that went past below the pointer stayed what they were.
    assert design["border"]["width_mm"] == border and design["border"]["nook_mm"] == nook, design
    assert abs(design["filling"]["greatest_mm"] - 20.32) < 1e-9, design
    app.stop()


def test_proof_shows_the_worst_first_and_moves_it_inside():
    path = new_job("proof.stickleback", "tomato.png")
    command("place", path, "tomato", "--at=105mm,10mm")   # the artwork crosses: stop
    command("place", path, "tomato", "--at=24mm,148mm")   # the border crosses: caution
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    app.key("F8")
    findings = app.find("Findings", "list")
    wait("both findings", lambda: len(findings.children) == 2)
    stop, caution = (finding.name for finding in findings.children)
    assert stop.startswith("Stop: ") and caution.startswith("Caution: "), (stop, caution)
    app.click(app.find("Move inside", "push button"))
    wait("the stop to go", lambda: len(findings.children) == 1)
    app.click(app.find("Move inside", "push button"))
    wait("nothing to be lost", lambda: len(findings.children) == 0)
    app.find("Nothing is lost. Every sticker prints whole.")
    app.save(path)
    assert command("proof", path, "--json").count('"severity"') == 0
    app.stop()


def test_export_writes_a_pdf_of_the_papers_size():
    path = job_with_piece("export.stickleback")
    target = os.path.join(folder(), "out.pdf")
    app = App(path)
    app.find("tomato, piece 1", begins=True)
    app.key("ctrl+e")
    app.type_path("Export", target)
    wait("the file", lambda: os.path.exists(target))
    app.find("Exported out.pdf")
    info = subprocess.run(["pdfinfo", target], capture_output=True, text=True, check=True).stdout
    # A4 (ISO 216: 210 x 297 mm) in points.
    assert "595.27" in info and "841.8" in info, info
    app.stop()


driver.own_screen()
driver.main(test_artwork_comes_in_by_name, test_drag_from_the_drawer_places_a_piece,
            test_return_places_a_piece_without_a_pointer,
            test_dragging_moves_a_piece_and_undo_brings_it_back,
            test_arrow_keys_nudge_by_a_millimetre,
            test_repeating_in_a_grid_is_one_step, test_details_take_typed_measures,
            test_nonsense_is_refused_and_put_back, test_border_width_is_typed,
            test_wanted_copies_arrange_onto_the_page,
            test_arranging_is_enough_undone_and_cancelled,
            test_what_if_and_the_size_of_a_freebie,
            test_proof_shows_the_worst_first_and_moves_it_inside,
            test_export_writes_a_pdf_of_the_papers_size)
