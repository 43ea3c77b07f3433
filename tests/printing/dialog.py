# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints through the window and the system's own print dialog with real key and pointer events, and
measures what the virtual printers received. Run by with-queues.sh. One program has a window for
each case, so that it starts only once."""

import os
import re
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "window"))
import driver  # noqa: E402
from driver import App, command, wait  # noqa: E402

LAB = os.environ["SB_LAB"]
MEASURE = os.environ["SB_MEASURE"]
INCH = 600  # px of the virtual printers


def received(printer):
    place = os.path.join(LAB, "received", printer)
    return [os.path.join(place, name) for name in sorted(os.listdir(place))
            if not name.startswith(".")]


def waiting(printer):
    """Jobs in the queue that were not printed."""
    return subprocess.run(["lpstat", "-o", printer], capture_output=True, text=True).stdout


def arrived(printer, before):
    return wait(f"a document on {printer}", lambda: received(printer)[before:])[0]


def measure(path, page=1):
    """Width and height of the page and the dark box, px at 600 dpi."""
    if path.endswith(".pdf"):
        stem = os.path.join(LAB, "work", "page")
        driver.run("pdftoppm", "-r", str(INCH), "-f", str(page), "-singlefile", "-gray", "-aa",
                   "no", "-aaVector", "no", path, stem)
        path = stem + ".pgm"
    return [int(word) for word in driver.run(MEASURE, path).split()]


def check_square(path, x, y, page=1):
    """A 2 in square with its corner at x, y in: 1200 px to a pixel."""
    width, height, x0, y0, x1, y1 = measure(path, page)
    told = f"{x1 - x0} x {y1 - y0} px at {x0}, {y0} on {width} x {height}"
    assert abs(x1 - x0 - 1200) <= 1 and abs(y1 - y0 - 1200) <= 1, told
    assert abs(x0 - x * INCH) <= 2 and abs(y0 - y * INCH) <= 2, told


def ticket(path):
    """What the job asked the printer for (IPP attributes)."""
    name = os.path.splitext(os.path.basename(path))[0]
    return open(path.replace("/received/", "/tickets/").replace(os.path.basename(path), name)).read()


def black():
    path = os.path.join(LAB, "work", "black.png")
    if not os.path.exists(path):
        driver.run(MEASURE, "--black", "1200", path)
    return path


def make(name, paper, *places, size="2in", picture=None):
    """A job with black squares: (x, y, page) of each one's corner in inches."""
    path = os.path.join(LAB, "work", name + ".stickleback")
    picture = picture or black()
    design = os.path.splitext(os.path.basename(picture))[0]
    command("new", path, "--paper=" + paper, "--replace")
    command("add", path, picture, "--size=" + size, "--border=0mm", "--guide=off")
    for x, y, page in places:
        command("place", path, design, f"--at={x + 1}in,{y + 1}in", f"--page={page}")
    return path


class Window:
    """The window of one job, in the program that has those of all."""

    app = None

    def __init__(self, path):
        self.title = os.path.splitext(os.path.basename(path))[0]
        if Window.app is None:
            # Its window stays to the end: the program lives as long as it has one.
            Window.app = App(make("first", "letter"))
            App.running.remove(Window.app)  # which are ended after each test
        self.app = Window.app
        driver.run(driver.PROGRAM, path)
        self.window = wait("its window", lambda: self.app.window_ids(f"^{self.title}$"))[0]
        self.focus()
        wait("the job", lambda: self.look(self.title, "frame"))

    def focus(self):
        driver.run("xdotool", "windowfocus", "--sync", self.window, check=False)

    def look(self, name, role=None, begins=False, dialogs=False):
        """Like App.look, but only in this window or in dialogs: that is quicker."""
        for frame in self.app.root.children:
            is_dialog = frame.role == "dialog"
            if is_dialog == dialogs and (is_dialog or frame.name.endswith(self.title)):
                found = self.app.look(name, role, begins, within=frame)
                if found:
                    return found
        return None

    def find(self, name, role=None, begins=False):
        return wait(f"“{name}”", lambda: self.look(name, role, begins))

    def find_in_dialog(self, name, role=None, begins=False):
        return wait(f"“{name}” in a dialog", lambda: self.look(name, role, begins, dialogs=True))

    def no_dialog(self):
        wait("the dialogs to close",
             lambda: not any(frame.role == "dialog" for frame in self.app.root.children))

    def open_dialog(self, printer=None):
        """The system's dialog, with a printer chosen and its papers known."""
        self.app.key("ctrl+p")
        wait("the print dialog", lambda: self.app.window_ids("^Print$"))
        if printer:
            self.app.click(self.find_in_dialog(printer, "label"))
            wait("the Print button", self.can_print)

    def proof_for(self, printer):
        """Opens the proof and chooses a printer there, by keys: the list begins with none."""
        names = driver.run("lpstat", "-e").split()
        self.app.key("F8")
        self.app.click(self.find("Printer to proof for", "combo box"))
        self.app.key("Home", *["Down"] * (sorted(names).index(printer) + 1), "Return")
        self.find(printer, "label")

    def can_print(self):
        button = self.look("Print", "push button", dialogs=True)
        return button and button.has_state("sensitive")

    def print(self, printer):
        before = len(received(printer))
        self.open_dialog(printer)
        self.app.key("alt+p")
        return arrived(printer, before)

    def close(self):
        """It still answers: it closes when it is told to."""
        self.no_dialog()
        self.focus()
        self.app.key("ctrl+w")
        question = wait("the window to close", lambda: self.window not in self.app.window_ids()
                        or self.look("Discard", "push button", True, True))
        if question is not True:
            question.press()
        wait("the window to close", lambda: self.window not in self.app.window_ids())


def keep(test):
    """A test that leaves the program running for the next one, unless it fails."""
    def run():
        try:
            test()
        except BaseException:
            if Window.app:
                App.running.append(Window.app)
                Window.app = None
            raise
    run.__name__ = test.__name__
    return run


def admin(*words):
    subprocess.run(words, check=True, capture_output=True)


def test_page_ranges_copies_and_the_kind_that_is_asked_once():
    path = make("pages", "letter", (1.5, 2, 1), (2, 3, 2), (3, 4, 3))
    window = Window(path)
    window.open_dialog("ink")
    window.app.click(window.find_in_dialog("Pages:", "check box"))
    window.app.click(window.find_in_dialog("GtkEntry", "text"))
    window.app.type("2-3")
    window.app.key("Tab", "ctrl+a")  # to the copies
    window.app.type("2")
    window.app.key("alt+p")
    window.find_in_dialog("What kind of printer is ink?", "label")
    assert not received("ink") and not waiting("ink"), "sent before the kind was told"
    window.app.key("alt+i")
    got = arrived("ink", 0)
    pages = int(driver.run("pdfinfo", got).split("Pages:")[1].split()[0])
    copies = [line for line in ticket(got).splitlines() if line.startswith("IPP_COPIES=")]
    copies = int(copies[0].split("=")[1]) if copies else 1
    assert pages * copies == 4, (pages, copies)
    check_square(got, 2, 3, page=1)
    check_square(got, 3, 4, page=2)
    window.close()


def test_a_queue_that_fits_by_default_prints_true_size():
    window = Window(make("letter", "letter", (1.5, 2, 1)))
    admin("lpadmin", "-p", "ink", "-o", "print-scaling-default=fit")
    got = window.print("ink")
    admin("lpadmin", "-p", "ink", "-R", "print-scaling-default")
    check_square(got, 1.5, 2)
    window.close()


def test_landscape_on_a_queue_that_fits_to_the_page():
    window = Window(make("wide", "11x8.5in", (1.5, 2, 1)))
    admin("lpadmin", "-p", "ink", "-o", "fit-to-page-default=true")
    got = window.print("ink")
    admin("lpadmin", "-p", "ink", "-R", "fit-to-page-default")
    check_square(got, 4.5, 1.5)
    window.close()


def media_margins(path):
    """What the printer was asked for, in 1/100 mm: top, right, bottom, left."""
    told = [line for line in ticket(path).splitlines() if line.startswith("IPP_MEDIA_COL=")][0]
    return [int(re.search(f"media-{edge}-margin=(\\d+)", told)[1])
            for edge in ("top", "right", "bottom", "left")]


def test_a4_with_margins_on_a_printer_that_offers_both():
    window = Window(make("a4", "a4", (1.5, 2, 1)))
    got = window.print("edge")
    check_square(got, 1.5, 2)
    assert media_margins(got) == [305] * 4, media_margins(got)
    window.close()


def test_index_card_on_a_raster_only_printer():
    window = Window(make("index", "4x6", (0.7, 1.3, 1)))
    check_square(window.print("tail"), 0.7, 1.3)
    window.close()


def test_a_stop_asks_once_more_and_no_is_at_hand():
    window = Window(make("stop", "letter", (-0.1, 2, 1)))
    before = len(received("ink"))
    window.app.key("ctrl+p")
    window.find_in_dialog("The proof says stop. Print all the same?", "label")
    assert not window.app.window_ids("^Print$"), "the print dialog came before the question"
    window.app.key("Return")
    window.no_dialog()
    assert len(received("ink")) == before and not waiting("ink")
    window.app.key("ctrl+p")
    window.find_in_dialog("The proof says stop. Print all the same?", "label")
    window.app.key("alt+p")
    wait("the print dialog", lambda: window.app.window_ids("^Print$"))
    window.app.key("Escape")
    window.close()


def test_borderless_is_warned_of_and_chosen_in_the_proof():
    window = Window(make("borderless", "letter", (1.5, 2, 1)))
    before = len(received("edge"))
    window.proof_for("edge")
    window.app.click(window.find("Borderless (not true size)", "check box"))
    window.find("Overshoot at each edge", "text")
    # 8.5 in with 3 mm more at both sides is 102.78 %: 2 in become 2.06 in (handbook 5.2).
    window.find("Caution: This paper prints without margins", None, begins=True)
    window.app.key("ctrl+p")
    wait("the print dialog", lambda: window.app.window_ids("^Print$"))
    wait("the Print button", window.can_print)
    window.app.key("alt+p")
    window.find_in_dialog("Print borderless?", "label")
    assert len(received("edge")) == before and not waiting("edge")
    window.app.key("alt+p")
    got = arrived("edge", before)
    assert media_margins(got) == [0] * 4, media_margins(got)
    check_square(got, 1.5, 2)
    window.close()


def test_calibration_is_typed_shown_and_cleared():
    window = Window(make("ruler", "letter", (1.5, 2, 1)))
    before = len(received("ink"))

    def strip():
        label = window.look("Cannot print:", "label", begins=True)
        return label and label.name
    window.proof_for("ink")
    window.find("Not calibrated for this paper and stock", "label")
    driver_says = wait("its margins", strip)
    window.find("Calibrate the printer", "push button", begins=True).press()

    def calibration(name, role):
        return wait(f"“{name}”", lambda: window.app.look(name, role, begins=True))
    calibration("Print the sheet of rulers", "push button").press()
    arrived("ink", before)
    window.app.fill(calibration("Ruler across (150 mm)", "text"), "141.2mm")
    calibration("The ruler of 150 mm reads 141.2 mm, that is 94.1 %. A setting is shrinking",
                "label")
    window.app.fill(calibration("Ruler across (150 mm)", "text"), "152.25mm")
    window.app.fill(calibration("Ruler along (200 mm)", "text"), "197.6mm")
    window.app.fill(calibration("Lowest mark left", "text"), "5mm")
    calibration("It prints 101.50 % across, 98.80 % along", "label")
    calibration("Keep the calibration", "push button").press()
    window.find("Calibrated: prints 101.50 % across", "label", begins=True)
    # The 20 mm line was not moved, so all is 0.3 mm to the left: the 5 mm mark lies at 4.8 mm, and
    # 1 mm more is left free (handbook section 12).
    wait("the margins", lambda: re.search("5[.]7[78]\u2009mm left", strip() or ""))
    window.find("Calibrate the printer", "push button", begins=True).press()
    calibration("Clear the calibration", "push button").press()
    window.find("Not calibrated for this paper and stock", "label")
    wait("the margins", lambda: strip() == driver_says)
    window.close()


def test_refusals_are_told_in_words():
    """One window for all of them: it is alive after each."""
    window = Window(make("refused", "letter", (1.5, 2, 1)))
    before = len(received("ink"))

    admin("cupsdisable", "ink")
    window.open_dialog("ink")
    window.app.key("alt+p")
    window.find_in_dialog("ink is stopped", "label", begins=True)
    window.app.key("Escape")
    window.no_dialog()
    admin("cupsenable", "ink")

    admin("cupsreject", "ink")
    window.app.key("ctrl+p")
    window.app.click(window.find_in_dialog("ink", "label"))
    window.find_in_dialog("Rejecting Jobs", "label")
    assert not window.can_print(), "Print can be pressed for a queue that rejects"
    window.app.key("Escape")
    window.no_dialog()
    admin("cupsaccept", "ink")
    assert len(received("ink")) == before and not waiting("ink")

    window.open_dialog("gone")
    window.app.key("alt+p")
    window.find("gone has the job and says: The printer may not exist", "label", begins=True)
    admin("cancel", "-a", "gone")
    window.close()


def test_a_job_too_large_for_the_queue():
    noise = os.path.join(LAB, "work", "noise.png")
    driver.run(MEASURE, "--noise", "1500", noise)
    window = Window(make("large", "letter", (3, 3, 1), size="5in", picture=noise))
    window.open_dialog("ink")
    window.app.key("alt+p")
    window.find_in_dialog("The pages did not get to ink", "label")
    window.app.key("Escape")
    window.close()


def test_the_program_ends_without_complaints():
    Window.app.stop()


def test_no_print_service():
    path = make("alone", "letter", (1.5, 2, 1))
    app = App(path, env={"CUPS_SERVER": os.path.join(LAB, "nobody.sock")})
    app.find("black, piece 1", begins=True)
    app.key("ctrl+p")
    wait("the print dialog", lambda: app.window_ids("^Print$"))
    app.find("Print to File", "label")
    app.key("Escape")
    wait("the dialog to close", lambda: not app.window_ids("^Print$"))
    app.key("ctrl+w")
    wait("the program to end", lambda: app.process.poll() is not None)
    app.stop()


os.makedirs(os.path.join(LAB, "work"), exist_ok=True)
driver.own_screen("1280x1000")
for printer in ("tail", "edge", "gone"):
    command("calibrate", make("kinds", "letter"), "--printer=" + printer, "--kind=inkjet")
admin("lpadmin", "-p", "gone", "-E", "-v", "ipp://127.0.0.1:9/ipp/print", "-P",
      os.path.join(LAB, "root", "ppd", "ink.ppd"))
driver.main(keep(test_page_ranges_copies_and_the_kind_that_is_asked_once),
            keep(test_a_queue_that_fits_by_default_prints_true_size),
            keep(test_landscape_on_a_queue_that_fits_to_the_page), keep(test_a4_with_margins_on_a_printer_that_offers_both),
            keep(test_index_card_on_a_raster_only_printer),
            keep(test_a_stop_asks_once_more_and_no_is_at_hand),
            keep(test_borderless_is_warned_of_and_chosen_in_the_proof),
            keep(test_calibration_is_typed_shown_and_cleared),
            keep(test_refusals_are_told_in_words), keep(test_a_job_too_large_for_the_queue),
            test_the_program_ends_without_complaints, test_no_print_service)
