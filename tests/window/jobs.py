# SPDX-License-Identifier: GPL-3.0-or-later
"""Jobs for the tests to work on, made with the command line from the demo's artwork."""

import os

import driver
from driver import command, folder

ART = os.path.join(driver.SOURCE, "data", "demo", "art")


def art(name):
    return os.path.join(ART, name)


def new_job(name, *pictures, count=1, paper="a4"):
    path = os.path.join(folder(), name)
    command("new", path, f"--paper={paper}")
    for picture in pictures:
        command("add", path, art(picture), "--size=40mm", f"--count={count}")
    return path


def job_with_piece(name, at="105mm,148mm"):
    """One tomato in the middle of an A4 page."""
    path = new_job(name, "tomato.png")
    command("place", path, "tomato", f"--at={at}")
    return path
