# SPDX-License-Identifier: GPL-3.0-or-later
"""The life of a job: new, saved, opened, closed with the question, changed outside, recovered."""

import os
import shutil
import signal
import subprocess

import driver
from driver import App, command, folder, pieces, read_job, wait
from jobs import job_with_piece


def nudge(app):
    """Some work: moves the tomato by a millimetre."""
    app.click(app.find("tomato, piece 1", begins=True))
    app.find("tomato, piece 1", "label")
    app.key("Right")
    wait("the job to be changed", app.is_modified)


def test_new_from_paper_size_and_save_as():
    path = os.path.join(folder(), "fresh.stickleback")
    app = App()
    app.click(app.find("A5", "push button"))
    app.find("A5, page 1 of 1")
    app.key("ctrl+s")
    app.type_path("Save Job", path)
    job = wait("the file", lambda: read_job(path))
    assert job["paper"]["name"] == "iso_a5_148x210mm", job["paper"]
    app.find("Saved as fresh.stickleback")
    wait("the title", lambda: app.window_ids("^fresh$"))
    app.stop()


def test_save_as_gives_the_ending():
    path = os.path.join(folder(), "bare")
    app = App(job_with_piece("ending.stickleback"))
    app.find("tomato, piece 1", begins=True)
    app.key("ctrl+shift+s")
    app.type_path("Save Job", path)
    wait("the file", lambda: read_job(path + ".stickleback"))
    app.stop()


def test_close_asks_and_can_be_taken_back():
    path = job_with_piece("close.stickleback")
    before = read_job(path)
    app = App(path)
    nudge(app)
    app.key("ctrl+w")
    app.find("Save “close” before closing?")
    app.click(app.find("Cancel", "push button"))
    app.gone("Save “close” before closing?")
    assert app.process.poll() is None
    app.key("ctrl+w")
    app.click(app.find("Discard", "push button"))
    wait("the program to end", lambda: app.process.poll() is not None)
    assert read_job(path) == before
    app.stop()


def test_close_saves():
    path = job_with_piece("close-save.stickleback")
    before, = pieces(read_job(path))
    app = App(path)
    nudge(app)
    app.key("ctrl+w")
    app.find("Save “close-save” before closing?")
    app.key("Return")
    wait("the program to end", lambda: app.process.poll() is not None)
    after, = pieces(read_job(path))
    assert after["x_um"] == before["x_um"] + 1000
    app.stop()


def test_a_job_without_changes_closes_at_once():
    app = App(job_with_piece("quiet.stickleback"))
    app.find("tomato, piece 1", begins=True)
    app.key("ctrl+w")
    wait("the program to end", lambda: app.process.poll() is not None)
    app.stop()


def test_work_survives_kill_9():
    """Nothing but the last seconds is lost, and the job's file is untouched until it is saved."""
    path = job_with_piece("killed.stickleback")
    before, = pieces(read_job(path))
    app = App(path)
    nudge(app)
    state = os.environ["STICKLEBACK_STATE_DIR"]

    def kept():
        return any("job.json" in files for _, _, files in os.walk(state))
    wait("the autosave", kept)
    app.process.send_signal(signal.SIGKILL)
    app.process.wait()
    assert pieces(read_job(path)) == [before]

    app = App()
    app.find("Bring back your work?")
    app.click(app.find("Bring Back", "push button"))
    app.find("tomato, piece 1", begins=True)
    assert app.is_modified()
    after, = pieces(app.save(path))
    assert after["x_um"] == before["x_um"] + 1000, (before, after)
    wait("what was kept to be cleared", lambda: not kept())
    app.key("ctrl+w")
    wait("the program to end", lambda: app.process.poll() is not None)
    app.stop()

    app = App()
    app.find("New from paper size")
    assert not app.look("Bring back your work?")
    app.stop()


def test_the_same_file_twice_is_one_window():
    path = job_with_piece("twice.stickleback")
    app = App(path)
    app.find("tomato, piece 1", begins=True)
    driver.run(driver.PROGRAM, path)  # asks the running program, and ends
    app.find("This job is already open in this window.")
    assert len(app.window_ids("^twice$")) == 1
    app.stop()


def test_two_jobs_are_two_windows():
    first, second = job_with_piece("first.stickleback"), job_with_piece("second.stickleback")
    app = App(first, name="^first$")
    driver.run(driver.PROGRAM, second)
    wait("the second window", lambda: app.window_ids("^second$"))
    assert app.window_ids("^first$")
    app.stop()


def test_a_change_by_another_program_is_told():
    path = job_with_piece("outside.stickleback")
    app = App(path)
    app.find("tomato, piece 1", begins=True)
    command("place", path, "tomato", "--at=60mm,60mm")
    app.find("Another program has changed this job’s file.")
    app.click(app.find("Read It Again", "push button"))
    app.find("tomato, piece 2", begins=True)
    assert not app.is_modified()
    app.key("ctrl+z")
    app.gone("tomato, piece 2", begins=True)
    app.stop()


def test_a_damaged_file_is_told_and_leaves_the_window_empty():
    path = job_with_piece("broken.stickleback")
    with open(path, "r+b") as file:
        file.truncate(os.path.getsize(path) // 2)
    app = App(path)
    app.find("The job could not be opened")
    app.key("Escape")
    app.find("New from paper size")
    app.stop()


class ReadOnly:
    """A folder with one file in which nobody can write: root, who may write everywhere, gets a file
    system that is mounted read-only."""

    def __init__(self, place, path):
        self.place, self.path, self.root = place, path, os.geteuid() == 0

    def __enter__(self):
        if self.root and subprocess.run(["mount", "-t", "tmpfs", "-o", "size=16m", "tmpfs",
                                         self.place], capture_output=True).returncode != 0:
            raise driver.Skip("root writes everywhere and may not mount here")
        shutil.move(self.path, self.place)
        if self.root:
            driver.run("mount", "-o", "remount,ro", self.place)
        else:
            os.chmod(self.place, 0o555)

    def __exit__(self, *error):
        if self.root:
            driver.run("umount", "-l", self.place)
        else:
            os.chmod(self.place, 0o755)


def test_a_read_only_folder_is_told_and_nothing_is_lost():
    path = job_with_piece("locked.stickleback")
    place = os.path.join(folder(), "locked")
    os.makedirs(place)
    with ReadOnly(place, path):
        app = App(os.path.join(place, "locked.stickleback"))
        nudge(app)
        app.key("ctrl+s")
        app.find("The job could not be saved")
        app.key("Escape")
        assert app.is_modified()
        app.stop()


def test_the_window_is_as_it_was_left():
    """Size, zoom, switches, unit and panes, from one run of the program to the next."""
    path = job_with_piece("again.stickleback")
    # In a file, where the settings of tests otherwise go with the program.
    env = {"GSETTINGS_BACKEND": "keyfile"}

    def look(app):
        strip, waste = app.find("Non-printable strip", "label"), app.look("Waste: ", "label", begins=True)
        window = app.window_ids("again")[0]
        size = driver.run("xdotool", "getwindowgeometry", window).split("Geometry:")[1].strip()
        zoom = app.find("Zoom", "slider").value
        return bool(strip), bool(waste), size, round(zoom, 6)

    app = App(path, env=env)
    app.find("tomato, piece 1", begins=True)
    first = look(app)
    window = app.window_ids("again")[0]
    driver.run("xdotool", "windowsize", "--sync", window, "1200", "780")
    app.key("ctrl+3", "ctrl+plus", "ctrl+plus", "shift+F9")
    app.find("Waste: ", "label", begins=True)
    app.gone("Artwork width", "text")
    app.key("ctrl+comma")
    app.click(app.find("Unit of length", "combo box"))
    app.key("Down", "Down", "Down", "Return")
    app.find("1.59 × 1.59", "label", begins=True)  # 40.4 mm of finished size, told in inches
    app.key("Escape")
    app.gone("Unit of length", "combo box")
    left = look(app)
    app.key("ctrl+w")
    wait("the program to end", lambda: app.process.poll() is not None)
    app.stop()
    assert left != first

    app = App(path, env=env)
    app.find("tomato, piece 1", begins=True)
    wait("everything as it was", lambda: look(app) == left)
    assert not app.look("Width of the paper", "text")
    app.find("1.59 × 1.59", "label", begins=True)
    app.stop()


def test_recent_jobs_open_from_the_start_page():
    path = job_with_piece("recent.stickleback")
    app = App(path)
    app.find("tomato, piece 1", begins=True)
    recent = os.path.join(os.environ["XDG_DATA_HOME"], "recently-used.xbel")
    wait("the desktop to remember it",
         lambda: os.path.exists(recent) and "recent.stickleback" in open(recent).read())
    app.stop()
    app = App()
    app.click(app.find("recent", "list item"))
    app.find("tomato, piece 1", begins=True)
    app.stop()


driver.own_screen()
driver.main(test_new_from_paper_size_and_save_as, test_save_as_gives_the_ending,
            test_close_asks_and_can_be_taken_back, test_close_saves,
            test_a_job_without_changes_closes_at_once, test_work_survives_kill_9,
            test_the_same_file_twice_is_one_window, test_two_jobs_are_two_windows,
            test_a_change_by_another_program_is_told,
            test_a_damaged_file_is_told_and_leaves_the_window_empty,
            test_a_read_only_folder_is_told_and_nothing_is_lost,
            test_the_window_is_as_it_was_left, test_recent_jobs_open_from_the_start_page)
