# SPDX-License-Identifier: GPL-3.0-or-later
"""The order by pointer and keys: a pack, its recipe, pages laid, figures that open, undo; and the
download's dialog."""

import driver
from driver import App, run, wait
from jobs import new_job


def focus(app, title):
    """What a window manager would do with a new window."""
    window = wait(f"the window “{title}”", lambda: app.window_ids(f"^{title}$"))[0]
    run("xdotool", "windowfocus", "--sync", window, check=False)


def set_number(app, name, number):
    """The number is at the start of its box, the buttons at the end."""
    x, y, _, height = app.resting_place_of(app.find(name, "spin button"))
    app.click((x + 14, y + height // 2))
    app.key("ctrl+a")
    app.type(number)
    app.key("Return")


def test_a_pack_is_ordered_laid_and_reckoned():
    path = new_job("stall.stickleback", "tomato.png", "beetroot.svg")
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    app.key("F6")
    focus(app, "Order and Cost")
    app.click(app.find("Add Pack", "push button"))
    app.centre(app.find("Pack 1: ordered", "spin button"))  # it rests
    set_number(app, "Pack 1: ordered", "6")
    set_number(app, "tomato in each Pack 1", "2")
    set_number(app, "beetroot: singles", "3")
    app.find("tomato: 12 to print, with spares 14, on the pages 0", "label", begins=True)
    app.click(app.find("Lay Out", "push button"))
    app.find("tomato: 12 to print, with spares 14, on the pages 14", "label", begins=True,
             patience=60)
    app.click(app.find("Ink or toner: ", "push button", begins=True))
    app.find("An estimate from coverage is good to 50 % either way.", "label", begins=True)
    app.key("Escape")
    app.gone("Order and Cost", "frame")
    focus(app, ".*stall.*")
    job = app.save(path)
    pack, = job["order"]["packs"]
    assert pack["wanted"] == 6 and pack["recipe"][0]["count"] == 2, pack
    placed = len(driver.pieces(job))
    assert placed >= 18, placed  # 14 tomatoes and 4 beetroots: 3 and a spare
    app.key("ctrl+z")
    wait("the undo", app.is_modified)
    assert not driver.pieces(app.save(path))
    app.stop()


def test_the_download_needs_a_paper():
    path = new_job("download.stickleback", "tomato.png")
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    app.key("ctrl+shift+d")
    focus(app, "Download to Print at Home")
    app.fill(app.find("Title of the set", "text"), "Tomatoes")
    app.click(app.find("Pages for Letter", "check box"))
    app.click(app.find("Pages for A4", "check box"))
    make = app.find("Make…", "push button")
    wait("no paper, no download", lambda: not make.has_state("sensitive"))
    app.click(app.find("Pages for A4", "check box"))
    wait("one paper is enough", lambda: make.has_state("sensitive"))
    app.key("Escape")
    app.gone("Make…", "push button")
    app.stop()


driver.own_screen()
driver.main(test_a_pack_is_ordered_laid_and_reckoned, test_the_download_needs_a_paper)
