# SPDX-License-Identifier: GPL-3.0-or-later
"""Sheets and cards in the window: made, filled, named, written on, and laid on pages."""

import driver
from driver import App, pieces, wait
from jobs import new_job


def make(app, kind):
    app.click(app.find("New sheet or card"))
    app.find(kind, "menu item").press()  # the bus does not tell where a popover lies
    app.find("Back to Pages", "push button")


def test_a_sheet_is_filled_and_laid():
    path = new_job("sheet.stickleback", "tomato.png")
    app = App(path)
    make(app, "Sticker Sheet")
    app.drag(app.find("tomato, ", "list item", begins=True), app.centre(app.find("Pages")))
    app.find("tomato, piece 1", begins=True)
    app.click(app.find("Back to Pages", "push button"))
    app.gone("Back to Pages", "push button")
    app.find("Page 1: 1 copies of Sticker sheet")
    job = app.save(path)
    layout, = job["layouts"]
    assert layout["kind"] == "sheet" and len(layout["pieces"]) == 1, layout
    assert pieces(job) == [], "what lies on the sheet lies on no page of its own"
    page, = job["pages"]
    assert page["layout"] == layout["id"] and len(page["placements"]) == 1, page

    # More of them, by the keyboard: the row opens the sheet again.
    app.click(app.find("Sticker sheet", "list item"))
    app.find("Back to Pages", "push button")
    app.fill(app.find("Wanted", "spin button"), "5")
    wait("five to be laid", lambda: "5" in (app.find(
        "Sticker sheet", "list item").description or ""))
    job = app.save(path)
    assert sum(len(page["placements"]) for page in job["pages"]) == 5, job["pages"]

    # On narrower paper they are laid anew, all of them on it.
    def right_edge(job):
        sheet, = job["layouts"]
        return max(laid["x_um"] + sheet["height_um" if laid["turned"] else "width_um"]
                   for page in job["pages"] for laid in page["placements"])
    assert right_edge(job) > 150000
    app.click(app.find("Back to Pages", "push button"))
    app.fill(app.find("Width of the paper", "text"), "150mm")
    job = app.save(path)
    assert right_edge(job) <= 150000, job["pages"]
    assert sum(len(page["placements"]) for page in job["pages"]) == 5, job["pages"]
    app.stop()


def test_text_on_a_header_card():
    path = new_job("card.stickleback")
    app = App(path)
    make(app, "Header Card")
    app.find("Folded, front")
    app.find("Folded, back")
    app.click(app.find("Text on the Back", "push button"))
    words = app.find("Words", "text")
    app.click(words)
    app.key("ctrl+a")
    app.type("Rue")
    wait("the words to be taken", lambda: app.look("Rue, piece 1", begins=True)
         or words.text == "Rue")
    job = app.save(path)
    design, = job["designs"]
    assert design["lettering"]["string"] == "Rue", design
    piece, = job["layouts"][0]["pieces"]
    assert piece["turn_millidegrees"] == 180000, piece
    assert piece["y_um"] < job["layouts"][0]["height_um"] / 2, piece

    # Undo takes the words, the text and the card away again, and so leaves the card.
    for _ in range(6):
        app.key("ctrl+z")
    app.gone("Back to Pages", "push button")
    app.stop()


driver.own_screen()
driver.main(test_a_sheet_is_filled_and_laid, test_text_on_a_header_card)
