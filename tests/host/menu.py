"""Drives the editor through accessibility names, as a maker would by hand.

Run by the system's Python inside `dbus-run-session`; the order is JSON in the first argument,
the answer one line of JSON. Standard library and pyatspi only.

Apply gets a real mouse click: an accessibility action on a button that opens a modal box blocks
the bus. Children are read after clearCache, since the host builds its menus late.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time

import pyatspi

PATIENCE = 60.0

#: An action may search for some time.
LONG = 60.0

#: The host's own words, in the languages that tests use.
EXTENSIONS = ("Extensions", "Erweiterungen")
APPLY = ("Apply", "Anwenden")
CLOSE = ("Close", "Schließen")
WAIT = ("please wait", "bitte warten", "loading result", "ergebnis wird geladen")

#: A button's role: its name before and after at-spi2-core 2.53.
BUTTON = ("push button", "button")

#: Now and then the editor starts mute (its bridge to the registry comes too late).
TRIES = 3

OBJECT = ["--dest", "org.inkscape.Inkscape", "--object-path", "/org/inkscape/Inkscape"]
BUS = ["gdbus", "call", "--session", *OBJECT, "--method", "org.gtk.Actions.Activate"]


def until(look, what, give_up=True, patience=PATIENCE):
    """Ask until there is an answer."""
    end = time.monotonic() + patience
    while time.monotonic() < end:
        try:
            found = look()
        except (LookupError, RuntimeError, AttributeError, OSError):
            found = None
        except Exception as fault:  # the bus's own errors have no common base
            if "atspi" not in repr(fault).lower() and "GLib" not in repr(type(fault)):
                raise
            found = None
        if found:
            return found
        time.sleep(0.1)
    if not give_up:
        return None
    raise SystemExit(f"never seen: {what}")


def walk(node):
    """A node and all below it."""
    yield node
    for i in range(node.childCount):
        child = node.getChildAtIndex(i)
        if child is not None:
            yield from walk(child)


class Host:
    """The running editor."""

    def __init__(self, svg):
        self.log = os.path.join(os.environ["HOME"], "host.log")
        # The bus of the registry must be there first: a program that starts before it stays mute.
        until(lambda: pyatspi.Registry.getDesktop(0).getRoleName(), "the registry")
        for _ in range(TRIES):
            self._start(svg)
            self.app = until(self._application, "the editor", give_up=False)
            if self.app:
                break
            self.process.kill()
            self.process.wait()
        else:
            raise SystemExit("never seen: the editor")
        until(lambda: self.find("menu", EXTENSIONS), "its menu")
        self._fill_screen()

    def _start(self, svg):
        with open(self.log, "w", encoding="utf-8") as log:
            self.process = subprocess.Popen(
                ["inkscape", svg], stdin=subprocess.DEVNULL, stdout=log, stderr=log
            )

    def _application(self):
        desktop = pyatspi.Registry.getDesktop(0)
        desktop.clearCache()
        return next((app for app in desktop if app and "nkscape" in app.name), None)

    def _fill_screen(self):
        """Without a window manager the window stays as small as it can be."""
        search = ["xdotool", "search", "--sync", "--onlyvisible", "--name", " - Inkscape"]
        subprocess.run([*search, "windowsize", "100%", "100%"], check=True, timeout=PATIENCE)
        time.sleep(0.5)
        press("5")  # the whole page in the window

    def find(self, role, name, root=None):
        """First widget of a role whose name starts so (or so, of several; so with roles)."""
        roles = (role,) if isinstance(role, str) else role
        root = root or self.app
        root.clearCache()
        found = (n for n in walk(root) if n.getRoleName() in roles and n.name.startswith(name))
        return next(found, None)

    def windows(self, role):
        """Names of top windows of a role."""
        self.app.clearCache()
        return [window for window in self.app if window and window.getRoleName() == role]

    def title(self):
        """Title of the drawing's window."""
        return next((w.name for w in self.windows("frame")), "")

    def selected(self):
        """Ids of the selected objects: the host's own action prints them."""
        start = os.path.getsize(self.log)
        subprocess.run([*BUS, "select-list", "[]", "{}"], check=True, capture_output=True)
        time.sleep(0.5)
        with open(self.log, encoding="utf-8") as log:
            log.seek(start)
            return [line.split()[0] for line in log if " cloned: " in line]


def click(node):
    """A real mouse click in the middle of a widget."""
    box = node.queryComponent().getExtents(pyatspi.DESKTOP_COORDS)
    place = [str(box.x + box.width // 2), str(box.y + box.height // 2)]
    subprocess.run(["xdotool", "mousemove", *place, "click", "1"], check=True)


def walk_menu(host, entry):
    """Menu, submenu and entry by real clicks: what the entry does at once may block the bus."""
    click(showing(host, "menu", EXTENSIONS))
    click(showing(host, "menu", "Underlit"))
    click(showing(host, "menu item", entry))


def showing(host, role, name):
    """A widget that stands still on the screen: menus open in their own time."""
    seen = []

    def look():
        node = host.find(role, name)
        if node is None or not node.getState().contains(pyatspi.STATE_SHOWING):
            return None
        box = node.queryComponent().getExtents(pyatspi.DESKTOP_COORDS)
        seen.append((box.x, box.y, box.width, box.height))
        return node if len(seen) > 2 and seen[-1] == seen[-3] else None

    return until(look, f"{name} in its menu")


def press(*keys):
    """Real keys."""
    subprocess.run(["xdotool", "key", *keys], check=True)


def shoot(path):
    """A picture of the whole screen."""
    subprocess.run(["import", "-window", "root", path], check=True)


def texts(alert):
    """All that a box says."""
    alert.clearCache()
    words = []
    for node in walk(alert):
        if node.getRoleName() == "label":
            words.append(node.name)
        elif node.getRoleName() == "text":
            text = node.queryText()
            words.append(text.getText(0, text.characterCount))
    return [word for word in words if word.strip()]


def closing_box(host):
    """The box with the action's words, not the one that asks to wait."""
    for alert in host.windows("alert"):
        words = texts(alert)
        if words and not any(wait in word.lower() for word in words for wait in WAIT):
            return alert, words
    return None


def visit(host, entry, picture, dialog=True):
    """One entry: menu, dialog, Apply, box, Close. What was seen; pictures of dialog and result."""
    seen = {}
    menu = until(lambda: host.find("menu", "Underlit"), "our submenu")
    seen["entries"] = [item.name for item in until(lambda: list(menu), "entries")]
    item = until(lambda: host.find("menu item", entry, menu), "our entry")
    if not dialog:
        walk_menu(host, entry)
    else:
        item.queryAction().doAction(0)
        box = until(lambda: host.find("dialog", entry), "the dialog")
        seen["dialog"] = [[n.getRoleName(), n.name] for n in walk(box) if n.name]
        time.sleep(0.3)
        shoot(picture.replace(".png", "-dialog.png"))
        click(until(lambda: host.find(BUTTON, APPLY, box), "Apply"))
    _, seen["told"] = until(lambda: closing_box(host), "the closing box", patience=LONG)
    time.sleep(0.5)
    shoot(picture.replace(".png", "-told.png"))
    press("Escape")
    until(lambda: not host.windows("alert"), "the box gone")
    time.sleep(1.0)
    seen["selected"] = host.selected()
    for window in host.windows("dialog"):
        click(until(lambda own=window: host.find(BUTTON, CLOSE, own), "Close"))
    until(lambda: not host.windows("dialog"), "the dialog gone")
    shoot(picture)
    return seen


def save(host):
    """Ctrl+S, and wait until it is done."""
    press("ctrl+s")
    until(lambda: not host.title().startswith("*"), "the drawing saved")


def main(order):
    """One visit, then save."""
    host = Host(order["svg"])
    seen = visit(host, order["entry"], order["picture"], order.get("dialog", True))
    seen["changed"] = host.title().startswith("*")
    if order["save"] and seen["changed"]:
        save(host)
    seen["title"] = host.title()
    print(json.dumps(seen), flush=True)
    host.process.kill()


if __name__ == "__main__":
    main(json.loads(sys.argv[1]))
