# SPDX-License-Identifier: GPL-3.0-or-later
"""The pictures that shots.sh takes: each function is one, named after it."""

import ctypes
import os
import shutil
import sys

import driver
import scans

SHOTS = {}


def shot(screen="1440x900"):
    def register(function):
        SHOTS[function.__name__] = (function, screen)
        return function
    return register


def demo(name="seed-swap-letter"):
    """A copy, so that no picture changes the demo."""
    path = os.path.join(driver.folder(), "Seed-swap stall.stickleback")
    shutil.copy(os.path.join(driver.SOURCE, "data", "demo", f"{name}.stickleback"), path)
    return path


def settings(text):
    place = os.path.join(os.environ["XDG_CONFIG_HOME"], "gtk-4.0")
    os.makedirs(place, exist_ok=True)
    with open(os.path.join(place, "settings.ini"), "w") as file:
        file.write("[Settings]\n" + text + "\n")


def open_demo(**options):
    app = driver.App(demo(), **options)
    app.find("Designs", "list")
    settle(app)
    return app


def settle(app):
    """Until two looks a moment apart are alike: thumbnails and pages are drawn as they come."""
    import time
    last = None
    for _ in range(60):
        now = driver.subprocess.run(["import", "-window", "root", "rgb:-"],
                                    capture_output=True).stdout
        if now == last:
            return
        last = now
        time.sleep(0.4)


def take(app, name):
    settle(app)
    driver.run("import", "-window", "root", os.path.join(os.environ["SB_SHOTS"], f"{name}.png"))


def some_piece(app):
    return app.find("tomato, piece 1", begins=True)


@shot()
def empty(name):
    app = driver.App()
    app.find("New from paper size")
    take(app, name)
    return app


@shot()
def demo_job(name):
    app = open_demo()
    take(app, name)
    return app


@shot()
def new_job(name):
    app = driver.App()
    app.click(app.find("A4", "push button"))
    app.find("Drop pictures here")
    take(app, name)
    return app


@shot()
def drag_with_overlay(name):
    app = open_demo()
    app.key("ctrl+2", "ctrl+3")
    x, y = app.centre(some_piece(app))
    app.drag((x, y), (x + 40, y + 150), steps=20, hold=lambda: take(app, name))
    return app


@shot()
def details(name):
    app = open_demo()
    app.click(some_piece(app))
    take(app, name)
    return app


@shot()
def measuring(name):
    app = open_demo()
    app.click(some_piece(app))
    app.key("d", "Tab", "Tab", "Tab")
    take(app, name)
    return app


@shot()
def repeating(name):
    app = open_demo()
    app.click(some_piece(app))
    app.key("r")
    app.find("Columns", "spin button")
    take(app, name)
    return app


@shot()
def outline(name):
    """The points of an outline, one of them pulled out, of a sticker with a bleed."""
    app = open_demo()
    app.click(some_piece(app))
    app.fill(app.find("Bleed past the cut", "text"), "2.5 mm")
    app.click(some_piece(app))
    app.key("z", "o", "shift+Left")
    app.find("Outline point 1 of", begins=True)
    take(app, name)
    return app


@shot()
def proof(name):
    """All three severities: a stop, a caution and a note."""
    path = os.path.join(driver.folder(), "proof.stickleback")
    art = os.path.join(driver.SOURCE, "data", "demo", "art")
    driver.command("new", path, "--paper=letter", "--margins=6.35mm,6.35mm,12.7mm,6.35mm")
    driver.command("add", path, os.path.join(art, "tomato.png"), "--size=40mm", "--count=3")
    driver.command("add", path, os.path.join(art, "pea-pod.svg"), "--size=50mm")
    for at in ("100mm,262mm", "24mm,140mm", "107mm,140mm"):
        driver.command("place", path, "tomato", f"--at={at}")
    # The guide alone is lost: the outline ends between the strip and the guide's inner edge.
    figures = driver.json.loads(driver.command("figures", path, "--json"))
    assert figures
    driver.command("place", path, "pea-pod", "--at=150mm,60mm")
    app = driver.App(path)
    app.find("Designs", "list")
    app.click(app.find("pea-pod, piece 1", begins=True))
    app.fill(app.find("From top", "text"), "6.4 mm")
    app.key("F8")
    app.find("Stop: ", "list item", begins=True)
    take(app, name)
    return app


@shot()
def dark(name):
    settings("gtk-application-prefer-dark-theme=1")
    app = open_demo()
    app.click(some_piece(app))
    take(app, name)
    return app


@shot()
def dark_proof(name):
    settings("gtk-application-prefer-dark-theme=1")
    app = open_demo()
    x, y = app.centre(some_piece(app))
    app.drag((x, y), (x - 60, y + 60))
    app.key("F8")
    take(app, name)
    return app


@shot()
def high_contrast(name):
    settings("gtk-theme-name=Default-hc")
    app = open_demo()
    app.click(some_piece(app))
    take(app, name)
    return app


def open_in_long_words():
    driver.PROGRAM = os.environ["SB_SHOTS_LONG"]
    os.environ["LANGUAGE"] = "xx"
    app = driver.App(demo())
    driver.wait("the designs", lambda: app.look("tomato, piece 1", begins=True))
    return app


@shot()
def long_strings(name):
    app = open_in_long_words()
    app.click(some_piece(app))
    take(app, name)
    return app


@shot()
def long_strings_sheet(name):
    app = open_in_long_words()
    take(app, name)
    return app


@shot()
def right_to_left(name):
    """Mirrored, as in a Hebrew locale, which is made here: systems seldom have it. The words are
    those of long_strings."""
    place = os.path.join(driver.folder(), "locales")
    os.makedirs(place)
    driver.run("localedef", "-i", "he_IL", "-f", "UTF-8", os.path.join(place, "he_IL.UTF-8"),
               check=False)
    os.environ.update(LOCPATH=place, LC_ALL="he_IL.UTF-8")
    driver.PROGRAM = os.environ["SB_SHOTS_LONG"]
    app = driver.App(demo())
    driver.wait("the designs", lambda: app.look("tomato, piece 1", begins=True))
    app.click(some_piece(app))
    take(app, name)
    return app


@shot(screen="2880x1800")
def scale_200(name):
    os.environ["GDK_SCALE"] = "2"
    app = open_demo()
    take(app, name)
    return app


def enlarge_text(percent):
    """What a desktop does to the X server's resources for scales between whole ones."""
    x11 = ctypes.CDLL("libX11.so.6")
    x11.XOpenDisplay.restype = ctypes.c_void_p
    x11.XDefaultRootWindow.restype = ctypes.c_ulong
    display = ctypes.c_void_p(x11.XOpenDisplay(None))
    xa_resource_manager, xa_string = 23, 31  # X11/Xatom.h
    told = f"Xft.dpi:\t{96 * percent // 100}\n".encode()
    x11.XChangeProperty(display, ctypes.c_ulong(x11.XDefaultRootWindow(display)),
                        ctypes.c_ulong(xa_resource_manager), ctypes.c_ulong(xa_string), 8, 0, told,
                        len(told))
    x11.XCloseDisplay(display)


def open_enlarged(name, percent):
    enlarge_text(percent)
    app = open_demo()
    app.click(some_piece(app))
    take(app, name)
    return app


@shot(screen="1600x1000")
def scale_125(name):
    return open_enlarged(name, 125)


@shot(screen="1600x1000")
def scale_150(name):
    return open_enlarged(name, 150)


@shot(screen="1024x700")
def small_screen(name):
    app = open_demo()
    take(app, name)
    return app


@shot(screen="3840x2160")
def screen_4k(name):
    app = open_demo()
    window = app.window_ids("Seed-swap")[0]  # no window manager is there to maximize it
    driver.run("xdotool", "windowsize", "--sync", window, "3840", "2160")
    take(app, name)
    return app


@shot()
def arranging(name):
    app = open_demo()
    app.key("ctrl+r")
    app.find("Enough", "push button")
    driver.run("import", "-window", "root", os.path.join(os.environ["SB_SHOTS"], f"{name}.png"))
    return app


@shot()
def preferences(name):
    app = open_demo()
    app.key("ctrl+comma")
    app.find("True size on this screen")
    take(app, name)
    return app


@shot()
def shortcuts(name):
    app = open_demo()
    app.key("ctrl+question")
    app.find("Fill gaps", "label")
    take(app, name)
    return app


@shot()
def close_question(name):
    app = open_demo()
    app.click(some_piece(app))
    app.key("Right", "ctrl+w")
    app.find("Save “Seed-swap stall” before closing?")
    take(app, name)
    return app


@shot()
def context_menu(name):
    app = open_demo()
    app.click(app.find("radish, ", "list item", begins=True), button=3)
    take(app, name)
    return app


def laid_demo():
    """The demo with sheets and a header card."""
    path = demo()
    driver.command("sheet", path, "Garden friends", "--size=4x6", "--with=ladybird", "--with=daisy=3",
                   "--with=bean=3", "--with=clover=2", "--title=Garden friends",
                   "--maker=Radish & Rue, seed-swap fair", "--count=8")
    driver.command("card", path, "Header", "--bag=4in", "--folded=1.5in", "--count=6",
                   "--front=Radish & Rue", "--back=Not for food, skin or mouth",
                   "--background=#fff4d6")
    app = driver.App(path)
    app.find("Garden friends", "list item")
    return app


@shot()
def sheets_on_pages(name):
    app = laid_demo()
    for _ in range(12):
        app.key("Next")
    take(app, name)
    return app


@shot()
def sheet_inside(name):
    app = laid_demo()
    app.click(app.find("Garden friends", "list item"))
    app.find("Back to Pages", "push button")
    take(app, name)
    return app


@shot()
def header_card(name):
    app = laid_demo()
    app.click(app.find("Header", "list item"))
    app.find("Folded, front")
    take(app, name)
    return app


@shot()
def text_piece(name):
    app = laid_demo()
    app.click(app.find("Header", "list item"))
    app.click(app.find("Add Text", "push button"))
    app.find("Words", "text")
    take(app, name)
    return app


def order_window(app):
    app.find("radish, ", "list item", begins=True)
    app.key("F6")
    window = driver.wait("the order", lambda: app.window_ids("^Order and Cost$"))[0]
    driver.run("xdotool", "windowfocus", "--sync", window, check=False)
    app.find("Materials: ", begins=True, patience=60)


@shot()
def order(name):
    """The order of a demo: packs, counts and the figures, one of them open."""
    path = os.path.join(driver.folder(), "order.stickleback")
    shutil.copy(demo(), path)
    driver.command("order", path, "--pack=Harvest pack=40:radish,tomato,garlic,carrot,rue",
                   "--single=bumblebee=6", "--currency=USD", "--rate=stock-price=12.5",
                   "--rate=stock-sheets=20", "--rate=ink-price=48", "--rate=ink-yield=240",
                   "--rate=wage=15", "--rate=pack-asked=4.5")
    app = driver.App(path)
    order_window(app)
    app.find("Ink or toner: ", "push button", begins=True).press()
    take(app, name)
    return app


@shot()
def download(name):
    app = open_demo()
    app.find("radish, ", "list item", begins=True)
    app.key("ctrl+shift+d")
    app.find("Pages for A4")
    take(app, name)
    return app


def open_on_cleanup_page(*pictures):
    """A job of scans, the first of them on the clean-up page."""
    path = os.path.join(driver.folder(), "Seed-swap stall.stickleback")
    driver.command("new", path, "--paper=a4")
    for picture in pictures:
        driver.command("add", path, picture)
    design = os.path.splitext(os.path.basename(pictures[0]))[0]
    app = driver.App(path)
    app.click(driver.wait("the design", lambda: app.look(f"{design}, ", "list item", begins=True)))
    app.key("F7")
    app.find(f"Picture of {design}" if "LANGUAGE" not in os.environ else "Picture of", "image",
             begins=True)
    return app


def open_cleanup():
    return open_on_cleanup_page(scans.one_painting("radish.png"),
                                scans.one_painting("turnip.png", 200))


@shot()
def cleanup(name):
    app = open_cleanup()
    app.key("m")
    take(app, name)
    return app


@shot()
def cleanup_brush(name):
    """A stroke that takes away, under way by keys, on black."""
    app = open_cleanup()
    app.click(app.find("Shown on", "combo box"))
    app.key("Down", "Down", "Return")
    app.click(app.find("Take away", "push button"))
    app.click(app.find("Picture of radish", "image"))
    app.key("space", "shift+Right", "shift+Right", "shift+Down")
    take(app, name)
    return app


@shot()
def cleanup_corners(name):
    app = open_cleanup()
    app.find("Straighten a Photo", "push button").press()
    take(app, name)
    return app


@shot()
def cleanup_alike(name):
    app = open_cleanup()
    app.find("Clean Others Alike…", "push button").press()
    app.find("turnip", "check box")
    take(app, name)
    return app


@shot()
def cleanup_split(name):
    app = open_on_cleanup_page(scans.sheet_of_paintings("sheet.png"))
    app.find("Split into Designs…", "push button").press()
    app.click(app.find("6:", "check box", begins=True))
    take(app, name)
    return app


@shot()
def cleanup_dark(name):
    settings("gtk-application-prefer-dark-theme=1")
    app = open_cleanup()
    app.find("List, to put back", "push button").press()
    take(app, name)
    return app


@shot(screen="1024x700")
def cleanup_long_strings(name):
    driver.PROGRAM = os.environ["SB_SHOTS_LONG"]
    os.environ["LANGUAGE"] = "xx"
    app = open_cleanup()
    take(app, name)
    return app


@shot(screen="2880x1800")
def cleanup_scale_200(name):
    os.environ["GDK_SCALE"] = "2"
    app = open_cleanup()
    take(app, name)
    return app


if sys.argv[1:] == ["--list"]:
    print("\n".join(SHOTS))
    sys.exit(0)
function, size = SHOTS[sys.argv[1]]
driver.own_screen(size)
function(sys.argv[1]).stop()
