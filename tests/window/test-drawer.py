# SPDX-License-Identifier: GPL-3.0-or-later
"""The drawer and what comes into it: search, order, counts, names, artwork from everywhere."""

import json
import os
import struct
import subprocess
import time
import zlib

import driver
from driver import App, command, folder, pieces, read_job, run, wait
from jobs import art, job_with_piece, new_job


def names(job):
    return [design["name"] for design in job["designs"]]


def write_png(path, width, height):
    """A dark disk on nothing, without a word about its physical size (no pHYs)."""
    rows = b""
    for y in range(height):
        rows += b"\0" + b"".join(
            bytes((40, 90, 60, 255 if (x - width / 2) ** 2 + (y - height / 2) ** 2
                   < (min(width, height) / 2 - 2) ** 2 else 0)) for x in range(width))

    def chunk(kind, data):
        return (struct.pack(">I", len(data)) + kind + data
                + struct.pack(">I", zlib.crc32(kind + data)))
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n"
                   + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0))
                   + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def test_search_finds_by_part_of_the_name():
    app = App(new_job("search.stickleback", "tomato.png", "radish.png", "beetroot.svg"))
    top = app.place_of(app.find("tomato, ", "list item", begins=True))
    beetroot = app.find("beetroot, ", "list item", begins=True)
    below = app.place_of(beetroot)
    app.key("ctrl+f")
    app.type("beet")
    wait("the others to go", lambda: app.place_of(beetroot) == top)
    app.key("Escape")
    wait("the others to come back", lambda: app.place_of(beetroot) == below)
    app.stop()


def test_rename_and_undo():
    path = new_job("rename.stickleback", "tomato.png")
    app = App(path)
    app.click(app.find("tomato, ", "list item", begins=True))
    app.key("F2")
    app.find("Name of the design", "text")
    app.key("ctrl+a")
    app.type("Love apple")
    app.key("Return")
    app.find("Love apple, ", "list item", begins=True)
    assert names(app.save(path)) == ["Love apple"]
    app.key("ctrl+z")
    app.find("tomato, ", "list item", begins=True)
    app.stop()


def test_remove_takes_the_pieces_and_undo_brings_all_back():
    path = job_with_piece("remove.stickleback")
    app = App(path)
    app.click(app.find("tomato, ", "list item", begins=True))
    app.key("Delete")
    app.gone("tomato, piece 1", begins=True)
    app.find("Removed tomato and its pieces")
    app.key("ctrl+z")
    app.find("tomato, piece 1", begins=True)
    app.stop()


def test_wanted_copies_by_stepper():
    path = new_job("wanted.stickleback", "tomato.png")
    app = App(path)
    spin = app.find("tomato, Copies wanted", "spin button")
    x, y, width, height = app.resting_place_of(spin)
    app.click((x + width - 12, y + height // 2), times=3)
    wait("four wanted", lambda: app.look("tomato, ", "list item", begins=True).name.endswith(
        "0 of 4 placed"))
    design, = app.save(path)["designs"]
    assert design["wanted"] == 4, design
    app.key("ctrl+z")  # a run of the stepper is one step
    wait("one wanted", lambda: app.look("tomato, ", "list item", begins=True).name.endswith(
        "0 of 1 placed"))
    app.stop()


def test_order_by_drag_and_by_keys():
    path = new_job("order.stickleback", "tomato.png", "radish.png", "beetroot.svg")
    app = App(path)
    beetroot = app.find("beetroot, ", "list item", begins=True)
    x, y, width, height = app.resting_place_of(app.find("tomato, ", "list item", begins=True))
    bx, by = app.centre(beetroot)
    app.drag((bx - 60, by), (bx - 60, y + 8))
    wait("the job to be changed", app.is_modified)
    assert names(app.save(path)) == ["beetroot", "tomato", "radish"]
    app.click(app.find("beetroot, ", "list item", begins=True))
    app.key("alt+Down")
    wait("the job to be changed", app.is_modified)
    assert names(app.save(path)) == ["tomato", "beetroot", "radish"]
    app.stop()


def test_a_freebie_stands_apart():
    path = new_job("freebie.stickleback", "tomato.png", "radish.png")
    app = App(path)
    app.click(app.find("tomato, ", "list item", begins=True))
    app.key("Menu", "f")
    app.find("For the gaps; they never cost a page.")
    designs = {design["name"]: design for design in app.save(path)["designs"]}
    assert designs["tomato"]["freebie"] and not designs["radish"]["freebie"], designs
    app.stop()


def test_a_picture_without_a_size_is_asked_about():
    path = new_job("sizes.stickleback")
    picture = os.path.join(folder(), "disk.png")
    write_png(picture, 300, 300)
    app = App(path)
    app.find("Drop pictures here")
    app.key("ctrl+i")
    app.type_path("Add Artwork", picture)
    app.find("300 × 300 px, only 150 dpi", begins=True)  # at two inches
    app.fill(app.find("Longest side", "text"), "1in")
    app.find("300 × 300 px, 300 dpi at this size")
    app.click(app.find("Add", "push button"))
    app.find("disk, ", "list item", begins=True)
    design, = app.save(path)["designs"]
    assert abs(design["width_mm"] - 25.4) < 1e-6, design
    app.stop()


def test_what_cannot_come_in_is_told_and_the_rest_comes():
    path = new_job("bad.stickleback")
    bad = os.path.join(folder(), "notes.png")
    with open(bad, "w") as file:
        file.write("not a picture")
    app = App(path)
    app.find("Drop pictures here")
    source = subprocess.Popen([os.environ["SB_TEST_DRAG_SOURCE"], bad, art("radish.png")])
    wait("the other program", lambda: app.window_ids("drag source"))
    app.drag((60, 30), app.centre(app.find("Drop pictures here")), steps=25)
    app.find("1 of 2 pictures could not be added")
    app.find("• notes.png", begins=True)
    app.key("Escape")
    app.find("radish, ", "list item", begins=True)
    assert names(app.save(path)) == ["radish"]
    source.kill()
    source.wait()
    app.stop()


def test_files_dropped_on_the_page_lie_there():
    path = new_job("drop.stickleback")
    app = App(path)
    target = app.centre(app.find("Pages"))
    source = subprocess.Popen([os.environ["SB_TEST_DRAG_SOURCE"], art("beetroot.svg")])
    wait("the other program", lambda: app.window_ids("drag source"))
    app.drag((60, 30), target, steps=25)
    app.find("beetroot, piece 1", begins=True)
    source.wait(driver.PATIENCE)  # its window has the keys while it is there
    piece, = pieces(app.save(path))
    assert 60000 < piece["x_um"] < 150000, piece
    app.stop()


def test_several_files_dropped_keep_clear_of_each_other():
    path = new_job("several.stickleback")
    app = App(path)
    target = app.centre(app.find("Pages"))
    vegetables = "beetroot", "carrot", "pea-pod", "sweetcorn"
    source = subprocess.Popen([os.environ["SB_TEST_DRAG_SOURCE"],
                               *(art(f"{name}.svg") for name in vegetables)])
    wait("the other program", lambda: app.window_ids("drag source"))
    app.drag((60, 30), target, steps=25)
    source.wait(driver.PATIENCE)
    for name in vegetables:
        app.find(f"{name}, piece 1", begins=True)
    assert len(pieces(app.save(path))) == 4
    findings = json.loads(command("proof", path, "--json"))["findings"]
    assert not findings, findings
    app.stop()


def test_a_picture_is_pasted():
    path = new_job("paste.stickleback")
    app = App(path)
    app.find("Drop pictures here")
    picture = os.path.join(folder(), "clip.png")
    write_png(picture, 200, 100)
    with open(picture, "rb") as file:
        subprocess.run(["xclip", "-selection", "clipboard", "-t", "image/png"], stdin=file,
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    app.key("ctrl+shift+v")
    app.find("Longest side", "text")
    app.click(app.find("Add", "push button"))
    app.find("Pasted picture, ", "list item", begins=True)
    assert names(app.save(path)) == ["Pasted picture"]
    app.stop()


def clipboard(kind):
    return subprocess.run(["xclip", "-selection", "clipboard", "-t", kind, "-o"],
                          capture_output=True, timeout=20).stdout


def test_a_copied_piece_is_a_picture_for_other_programs():
    """A PNG of its true size: pHYs in pixels a metre (PNG specification, 11.3.5.3) at 300 dpi."""
    app = App(job_with_piece("copy.stickleback"))
    app.click(app.find("tomato, piece 1", begins=True))
    app.key("ctrl+c")
    # Until this program has the clipboard, another may still answer with what it holds.
    png = wait("the picture", lambda: (got := clipboard("image/png")).startswith(
        b"\x89PNG\r\n\x1a\n") and got)
    at = png.index(b"pHYs") + 4
    across, down, unit = struct.unpack(">IIB", png[at:at + 9])
    assert (across, down, unit) == (11811, 11811, 1), (across, down, unit)  # 300 / 0.0254
    width, height = struct.unpack(">II", png[16:24])
    size = app.find("tomato, ", "list item", begins=True).name.split(", ")[1].split(" ")[0]
    assert abs(width / 300 * 25.4 - float(size)) < 0.5, (width, size)
    uri = clipboard("text/uri-list").decode().strip()
    assert uri.startswith("file://") and uri.endswith("/tomato.png"), uri
    with open(uri[len("file://"):], "rb") as file:
        assert file.read() == png
    app.stop()


def test_a_pasted_drawing_stays_a_drawing():
    path = new_job("paste-svg.stickleback")
    app = App(path)
    app.find("Drop pictures here")
    with open(art("beetroot.svg"), "rb") as file:
        subprocess.run(["xclip", "-selection", "clipboard", "-t", "image/svg+xml"], stdin=file,
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    app.key("ctrl+shift+v")
    app.find("Pasted picture, ", "list item", begins=True)
    design, = app.save(path)["designs"]
    assert design["artwork"].endswith(".svg"), design["artwork"]
    app.stop()


def test_a_design_is_dragged_to_another_program():
    app = App(job_with_piece("out.stickleback"))
    taken = os.path.join(folder(), "taken.png")
    target = subprocess.Popen([os.environ["SB_TEST_DRAG_SOURCE"], "--take", taken])
    wait("the other program", lambda: app.window_ids("drag target"))
    app.drag(app.find("tomato, ", "list item", begins=True), (60, 30), steps=25)
    wait("the picture", lambda: os.path.exists(taken) and os.path.getsize(taken) > 0)
    with open(taken, "rb") as file:
        assert file.read(4) == b"\x89PNG"
    target.kill()
    target.wait()
    app.stop()


def test_a_piece_is_dragged_to_another_program_and_back():
    path = job_with_piece("piece-out.stickleback")
    app = App(path)
    before, = pieces(read_job(path))
    taken = os.path.join(folder(), "piece.png")
    target = subprocess.Popen([os.environ["SB_TEST_DRAG_SOURCE"], "--take", taken])
    window, = wait("the other program", lambda: app.window_ids("drag target"))
    run("xdotool", "windowmove", "--sync", window, "1375", "300")  # beside ours
    piece = app.find("tomato, piece 1", begins=True)
    app.drag(piece, (1400, 320), hold=lambda: app.creep(1400, 320))
    wait("the picture", lambda: os.path.exists(taken) and os.path.getsize(taken) > 0)
    with open(taken, "rb") as file:
        assert file.read(4) == b"\x89PNG"
    assert not app.is_modified(), "the piece itself stays where it lay"

    x, y = app.centre(piece)

    def come_back():
        app.creep(1400, y)
        for back in range(1400, x, -20):
            driver.Hand.do("mousemove", back, y + 60)
            time.sleep(0.03)
        app.creep(x, y + 60)
    app.drag((x, y), (1400, y), hold=come_back)
    wait("the move", app.is_modified)
    target.kill()
    target.wait()
    run("xdotool", "windowfocus", "--sync", app.window_ids("piece-out")[0])
    after, = pieces(app.save(path))
    assert after["y_um"] > before["y_um"] + 5000 and after["id"] == before["id"], (before, after)
    app.key("ctrl+z")
    wait("undone", lambda: pieces(app.save(path)) == [before])
    app.stop()


def test_replaced_artwork_keeps_width_and_pieces():
    path = job_with_piece("replace.stickleback")
    before = read_job(path)
    app = App(path)
    app.click(app.find("tomato, ", "list item", begins=True), button=3)
    app.key("a")
    app.type_path("Replace Artwork", art("pumpkin.png"))
    wait("the job to be changed", app.is_modified)
    job = app.save(path)
    old, = before["designs"]
    new, = job["designs"]
    assert new["artwork"] != old["artwork"] and new["width_mm"] == old["width_mm"], (old, new)
    assert new["name"] == "tomato" and len(pieces(job)) == 1
    app.stop()


driver.own_screen()
driver.main(test_search_finds_by_part_of_the_name, test_rename_and_undo,
            test_remove_takes_the_pieces_and_undo_brings_all_back,
            test_wanted_copies_by_stepper, test_order_by_drag_and_by_keys,
            test_a_freebie_stands_apart, test_a_picture_without_a_size_is_asked_about,
            test_what_cannot_come_in_is_told_and_the_rest_comes,
            test_files_dropped_on_the_page_lie_there,
            test_several_files_dropped_keep_clear_of_each_other, test_a_picture_is_pasted,
            test_a_pasted_drawing_stays_a_drawing,
            test_a_copied_piece_is_a_picture_for_other_programs,
            test_a_design_is_dragged_to_another_program,
            test_a_piece_is_dragged_to_another_program_and_back,
            test_replaced_artwork_keeps_width_and_pieces)
