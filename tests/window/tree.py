# SPDX-License-Identifier: GPL-3.0-or-later
"""What a program's windows tell screen readers, read over the accessibility bus. The usual client
library asks for one thing at a time and waits for the answer; here a whole level of the tree is
asked for at once, which is many times quicker where program and test share a processor."""

import types

import gi
gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, Gio, GLib  # noqa: E402

ACCESSIBLE = "org.a11y.atspi.Accessible"
WINDOW_COORDS = 1
PATIENCE_MS = 30000

_bus = None


def bus():
    """The accessibility bus, which the first one to ask starts."""
    global _bus
    if _bus is None:
        session = Gio.bus_get_sync(Gio.BusType.SESSION, None)
        address = session.call_sync("org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus", "GetAddress",
                                    None, None, Gio.DBusCallFlags.NONE, PATIENCE_MS, None).unpack()[0]
        _bus = Gio.DBusConnection.new_for_address_sync(
            address, Gio.DBusConnectionFlags.AUTHENTICATION_CLIENT
            | Gio.DBusConnectionFlags.MESSAGE_BUS_CONNECTION, None, None)
    return _bus


def ask_all(questions):
    """The answers to (node, interface, method, arguments), asked for all at once; None for what is
    gone meanwhile."""
    answers = [None] * len(questions)
    left = len(questions)

    def answered(connection, result, i):
        nonlocal left
        left -= 1
        try:
            answers[i] = connection.call_finish(result).unpack()
        except GLib.GError:
            pass
    for i, (node, interface, method, arguments) in enumerate(questions):
        bus().call(node.owner, node.path, interface, method, arguments, None,
                   Gio.DBusCallFlags.NONE, PATIENCE_MS, None, answered, i)
    while left:
        GLib.MainContext.default().iteration(True)
    return answers


class Node:
    """One thing in a window. What is asked of a node that is gone is empty."""

    def __init__(self, owner, path, parent=None):
        self.owner = owner
        self.path = path
        self.parent = parent  # None for the program

    def _ask(self, interface, method, arguments=None):
        return ask_all([(self, interface, method, arguments)])[0]

    def _property_question(self, interface, name):
        return self, "org.freedesktop.DBus.Properties", "Get", GLib.Variant("(ss)", (interface, name))

    def _get(self, interface, name, missing):
        answer = ask_all([self._property_question(interface, name)])[0]
        return answer[0] if answer else missing

    @property
    def name(self):
        return self._get(ACCESSIBLE, "Name", "")

    @property
    def description(self):
        return self._get(ACCESSIBLE, "Description", "")

    @property
    def frame(self):
        """The window it is in."""
        node = self
        while node.parent.parent:
            node = node.parent
        return node

    @property
    def role(self):
        answer = self._ask(ACCESSIBLE, "GetRole")
        return Atspi.role_get_name(Atspi.Role(answer[0])) if answer else ""

    @property
    def children(self):
        answer = self._ask(ACCESSIBLE, "GetChildren")
        return [Node(*child, self) for child in answer[0]] if answer else []

    def has_state(self, name):
        """As "focused", "sensitive", "checked", "pressed"."""
        answer = self._ask(ACCESSIBLE, "GetState")
        bit = int(getattr(Atspi.StateType, name.upper()))
        return bool(answer and answer[0][bit // 32] >> bit % 32 & 1)

    @property
    def box(self):
        """Within its window; without size for what is not shown."""
        answer = self._ask("org.a11y.atspi.Component", "GetExtents",
                           GLib.Variant("(u)", (WINDOW_COORDS,)))
        return types.SimpleNamespace(**dict(zip(("x", "y", "width", "height"),
                                                answer[0] if answer else (0, 0, 0, 0))))

    @property
    def text(self):
        answer = self._ask("org.a11y.atspi.Text", "GetText", GLib.Variant("(ii)", (0, 9999)))
        return answer[0] if answer else ""

    @property
    def value(self):
        return self._get("org.a11y.atspi.Value", "CurrentValue", None)

    def press(self):
        self._ask("org.a11y.atspi.Action", "DoAction", GLib.Variant("(i)", (0,)))

    def walk(self):
        """(node, name) of itself and of all below it, in reading order."""
        level = [self]
        while level:
            answers = ask_all([node._property_question(ACCESSIBLE, "Name") for node in level]
                              + [(node, ACCESSIBLE, "GetChildren", None) for node in level])
            below = []
            for node, name, children in zip(level, answers, answers[len(level):]):
                node.told_name = name[0] if name else ""
                node.told_children = [Node(*child, node) for child in children[0]] if children else []
                below += node.told_children
            level = below

        def in_order(node):
            yield node, node.told_name
            for child in node.told_children:
                yield from in_order(child)
        return in_order(self)


def find_program(pid):
    """The node of a program, whose children are its windows; None while it is not there."""
    desktop = Node("org.a11y.atspi.Registry", "/org/a11y/atspi/accessible/root")

    for node in desktop.children:
        answer = ask_all([(Node("org.freedesktop.DBus", "/org/freedesktop/DBus"),
                           "org.freedesktop.DBus", "GetConnectionUnixProcessID",
                           GLib.Variant("(s)", (node.owner,)))])[0]
        if answer and answer[0] == pid:
            return Node(node.owner, node.path)
    return None
