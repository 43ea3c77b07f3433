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


def test_a_pack_is_ordered_laid_and_reckoned():
    path = new_job("stall.stickleback", "tomato.png", "beetroot.svg")
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    app.key("F6")
    focus(app, "Order and Cost")
    app.click(app.find("Add Pack", "button"))
    app.fill(app.find("Pack 1: ordered", "spin button"), "6")
    app.fill(app.find("tomato in each Pack 1", "spin button"), "2")
    app.fill(app.find("beetroot: singles", "spin button"), "3")
    app.find("tomato: 12 to print, with spares 14, on the pages 0", "label", begins=True)
    app.click(app.find("Lay Out", "button"))
    app.find("tomato: 12 to print, with spares 14, on the pages 14", "label", begins=True,
             patience=60)
    app.press(app.find("Ink or toner: ", "toggle button", begins=True)
              if app.look("Ink or toner: ", "toggle button", begins=True)
              else app.find("Ink or toner: ", begins=True))
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
    path = new_job("stall.stickleback", "tomato.png")
    app = App(path)
    app.find("tomato, ", "list item", begins=True)
    app.key("ctrl+shift+d")
    focus(app, "Download to Print at Home")
    app.fill(app.find("Title of the set", "text"), "Tomatoes")
    app.click(app.find("Pages for Letter", "check box"))
    app.click(app.find("Pages for A4", "check box"))
    make = app.find("Make…", "button")
    sensitive = App.at_spi.STATE_SENSITIVE
    wait("no paper, no download", lambda: not make.getState().contains(sensitive))
    app.click(app.find("Pages for A4", "check box"))
    wait("one paper is enough", lambda: make.getState().contains(sensitive))
    app.key("Escape")
    app.gone("Make…", "button")
    app.stop()


driver.main(test_a_pack_is_ordered_laid_and_reckoned, test_the_download_needs_a_paper)
