# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the built program as a maker would: with real pointer and key events (xdotool) on a screen
of its own, finding things by the names that screen readers get (AT-SPI), and looking at the saved
job file. Everything is polled; nothing sleeps for a fixed time and hopes.

A test script begins with `import driver; driver.own_screen()` and then uses App."""

import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import types
import zipfile

import tree

PROGRAM = os.environ.get("SB_TEST_PROGRAM", "")
SOURCE = os.environ.get("SB_TEST_SOURCE_DIR", "")
PATIENCE = 30 * float(os.environ.get("MESON_TEST_PATIENCE", "1"))


def own_screen(screen="1440x900"):
    """Starts the script again on a screen, a session bus and an accessibility bus of its own."""
    if os.environ.get("SB_TEST_ON_SCREEN"):
        return
    for tool in ("Xvfb", "xdotool", "dbus-run-session"):
        if not shutil.which(tool):
            print(tool, "is needed")
            sys.exit(77)
    place = tempfile.mkdtemp(prefix="stickleback-window-")
    env = dict(os.environ)
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_RUNTIME_DIR",
                 "STICKLEBACK_STATE_DIR"):
        env[name] = os.path.join(place, name.lower())
        os.makedirs(env[name], mode=0o700)
    # The server itself finds a number that is free: several tests may run at once.
    reading, writing = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{screen}x24",
                               "-extension", "MIT-SHM", "-r", "-noreset", "-nolisten", "tcp"],
                              pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(writing)
    number = b""
    while not number.endswith(b"\n"):
        more = os.read(reading, 16)
        assert more, "Xvfb did not start"
        number += more
    env.update(SB_TEST_ON_SCREEN="1", SB_TEST_FOLDER=place, DISPLAY=f":{int(number)}",
               GDK_BACKEND="x11", GDK_DEBUG="gl-disable", GTK_A11Y="atspi", GSK_RENDERER="cairo")
    try:
        status = subprocess.run(["dbus-run-session", "--", sys.executable] + sys.argv,
                                env=env).returncode
    finally:
        server.terminate()
        server.wait()
        shutil.rmtree(place, ignore_errors=True)
    sys.exit(status)


def folder():
    return os.environ["SB_TEST_FOLDER"]


def run(*words, check=True):
    return subprocess.run(words, check=check, capture_output=True, text=True).stdout


def command(*words, check=True):
    """The same program without a window."""
    return run(PROGRAM, *words, check=check)


def wait(what, question, patience=None):
    """Asks again until the answer is true; returns it."""
    end = time.monotonic() + (patience or PATIENCE)
    pause = 0.02  # and longer and longer: asking costs the program time too
    while True:
        answer = question()
        if answer:
            return answer
        if time.monotonic() > end:
            raise AssertionError(f"waited in vain: {what}")
        time.sleep(pause)
        pause = min(pause * 1.3, 0.25)


def read_job(path):
    """The saved job, or None while there is none that can be read."""
    try:
        with zipfile.ZipFile(path) as archive:
            return json.loads(archive.read("job.json"))
    except (OSError, zipfile.BadZipFile, KeyError):
        return None


def pieces(job):
    return [piece for page in job["pages"] for piece in page["pieces"]]


class Hand:
    """Pointer and keyboard: one xdotool that is told line by line."""

    process = None

    @classmethod
    def do(cls, *words):
        """Returns once the server has had the events."""
        if cls.process is None:
            cls.process = subprocess.Popen(["xdotool", "-"], stdin=subprocess.PIPE,
                                           stdout=subprocess.PIPE, text=True, bufsize=1)
        print(*words, file=cls.process.stdin)
        # Any question will do that is not about a window, which may go meanwhile.
        print("getdisplaygeometry", file=cls.process.stdin)
        assert cls.process.stdout.readline(), f"xdotool does not know {words}"


class App:
    """The program with its window."""

    running = []

    def __init__(self, *arguments, name="", env=None):
        self.log = open(os.path.join(folder(), f"log-{time.monotonic_ns()}"), "w+")
        self.process = subprocess.Popen([PROGRAM, *arguments], stdout=self.log, stderr=self.log,
                                        env={**os.environ, **(env or {})})
        App.running.append(self)
        self.root = wait("the program on the accessibility bus", self._find_root)
        window = wait("a window", lambda: self.window_ids(name))[0]
        # What a window manager would do with a new window.
        run("xdotool", "windowfocus", "--sync", window, check=False)

    def _find_root(self):
        assert self.process.poll() is None, "the program ended: " + self.read_log()
        return tree.find_program(self.process.pid)

    def read_log(self):
        self.log.seek(0)
        return self.log.read()

    # Windows

    def window_ids(self, name=""):
        """X windows of the program that are seen, by a part of their title."""
        out = run("xdotool", "search", "--onlyvisible", "--name", name or ".", check=False)
        return out.split()

    def _box_of(self, node):
        """In device pixels: the bus tells those of the program, which at 200 % are twice as large."""
        scale = int(os.environ.get("GDK_SCALE", "1"))
        return types.SimpleNamespace(**{side: length * scale
                                        for side, length in vars(node.box).items()})

    def place_of(self, node):
        """A node's box on the screen. The bus tells boxes within the window; where the window's
        contents begin follows from the X window of the same title."""
        frame = node.frame
        box = self._box_of(node)
        whole = self._box_of(frame)
        title = frame.name

        def misfit(window):
            """Dialogs without a title are known by their size."""
            return (0 if window.title == title else 1, abs(window.width - whole.width)
                    + abs(window.height - whole.height))
        window = min(wait("its window", self._list_windows), key=misfit)
        x = window.x + (window.width - whole.width) // 2
        y = window.y + (window.height - whole.height) // 2
        return x + box.x, y + box.y, box.width, box.height

    def _list_windows(self):
        """Title and place of each X window of the program that is seen, by one run of xdotool."""
        lines = run("xdotool", "search", "--all", "--onlyvisible", "--pid", str(self.process.pid),
                    "--name", "", "getwindowname", "%@", "getwindowgeometry", "--shell", "%@",
                    check=False).splitlines()
        n = len(lines) // 7  # a title, then six lines of KEY=number
        windows = []
        for i in range(n):
            told = dict(line.split("=") for line in lines[n + 6 * i:n + 6 * i + 6])
            windows.append(types.SimpleNamespace(
                title=lines[i], x=int(told["X"]), y=int(told["Y"]), width=int(told["WIDTH"]),
                height=int(told["HEIGHT"])))
        return windows

    # Finding

    def look(self, name, role=None, begins=False, within=None):
        """The node of this name that is shown now, or None. Buttons with a mnemonic are named twice
        by GTK 4.8 ("_Save Save")."""
        def fits(told):
            plain = told.replace("_", "")
            return plain in (name, f"{name} {name}") or (begins and plain.startswith(name))
        for node, told in (within or self.root).walk():
            if fits(told) and (role is None or node.role == role):
                box = node.box
                if box.width > 0 and box.height > 0:
                    return node
        return None

    def find(self, name, role=None, begins=False, patience=None):
        return wait(f"“{name}”", lambda: self.look(name, role, begins), patience)

    def gone(self, name, role=None, begins=False):
        wait(f"“{name}” to go", lambda: not self.look(name, role, begins))

    # Pointer and keys

    def resting_place_of(self, node):
        """What still slides or grows is waited for."""
        def resting():
            before = self.place_of(node)
            time.sleep(0.08)
            now = self.place_of(node)
            return now if now == before and now[2] > 0 and now[3] > 0 else None
        return wait("its place", resting)

    def centre(self, node):
        """Where to click."""
        x, y, width, height = self.resting_place_of(node)
        return x + width // 2, y + height // 2

    def click(self, node, button=1, times=1):
        x, y = node if isinstance(node, tuple) else self.centre(node)
        Hand.do("mousemove", x, y)
        time.sleep(0.05)  # a hand arrives before it presses
        Hand.do("click --repeat", times, "--delay 60", button)

    def drag(self, start, end, steps=12, hold=None):
        x0, y0 = start if isinstance(start, tuple) else self.centre(start)
        x1, y1 = end if isinstance(end, tuple) else self.centre(end)
        Hand.do("mousemove", x0, y0, "mousedown 1")
        for i in range(1, steps + 1):
            Hand.do("mousemove", x0 + (x1 - x0) * i // steps, y0 + (y1 - y0) * i // steps)
            time.sleep(0.03)  # as fast as a hand; events closer together are merged
        if hold:
            hold()
        Hand.do("mouseup 1")

    def creep(self, x, y):
        """Goes on by a few pixels, as a hand does that is still: a drag between programs begins
        with the next event."""
        for step in range(12):
            Hand.do("mousemove", x + step % 2, y)
            time.sleep(0.05)

    def key(self, *keys):
        for key in keys:
            Hand.do("key --clearmodifiers", key)

    def type(self, text):
        run("xdotool", "type", "--delay", "20", text)

    def fill(self, node, text):
        """Types over what an entry holds."""
        self.click(node, times=3)
        self.key("ctrl+a")
        self.type(text)
        self.key("Return")

    def type_path(self, title, path, keys=False):
        """Answers a file dialog; with `keys` without the pointer."""
        wait(f"the dialog “{title}”", lambda: self.window_ids(f"^{title}$"))

        def entry():
            for frame in self.root.children:
                if frame.name == title:
                    return self.look("", "text", begins=True, within=frame)
            return None

        def begun():
            found = entry()
            if not found and not title.startswith(("Export", "Save")):
                self.key("slash")  # a dialog to open has no entry until a path is begun
                time.sleep(0.5)
            return found
        entry = wait("its entry", begun)
        if not keys:
            self.click(entry, times=3)
        self.key("ctrl+a")
        self.type(path)
        wait("the path to be typed", lambda: entry.text == path)
        self.key("Return")

    # The job

    def save(self, path):
        """Saves with Ctrl+S and reads the file once it is written anew."""
        before = os.stat(path).st_ino if os.path.exists(path) else 0

        def written():
            return os.path.exists(path) and os.stat(path).st_ino != before and read_job(path)
        self.key("ctrl+s")
        return wait(f"{path} to be saved", written)

    def is_modified(self):
        return bool(self.look("• ", "frame", begins=True))

    # The end

    def stop(self):
        """Ends the program and looks at what it said."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(20)
        said = self.read_log()
        bad = [line for line in said.splitlines()
               if "CRITICAL" in line or "runtime error" in line or "Sanitizer" in line]
        assert not bad, said[:20000]


class Skip(Exception):
    """What a test needs is not there; the message says what."""


def main(*tests):
    """Runs the tests, each in order, and says how they went."""
    failed = 0
    only = sys.argv[1:]
    for test in tests:
        if only and test.__name__ not in only:
            continue
        try:
            test()
            print("ok", test.__name__, flush=True)
        except Skip as reason:
            print("SKIPPED", test.__name__, reason, flush=True)
        except Exception as error:  # a failed test must not keep the others from running
            failed += 1
            picture = os.environ.get("SB_TEST_PICTURES")
            if picture:
                run("import", "-window", "root", f"{picture}/{test.__name__}.png", check=False)
            import traceback
            traceback.print_exc()
            for app in App.running:
                if app.process.poll() is None:
                    print("shown:", *(name for _, name in app.root.walk() if name), sep=" | ",
                          file=sys.stderr)
                print(app.read_log()[-4000:], file=sys.stderr)
            print("FAILED", test.__name__, error, flush=True)
        for app in App.running:
            if app.process.poll() is None:
                app.process.kill()
                app.process.wait()
        App.running.clear()
        # A program that was killed leaves its job for the next one to recover.
        shutil.rmtree(os.environ["STICKLEBACK_STATE_DIR"], ignore_errors=True)
    sys.exit(1 if failed else 0)
