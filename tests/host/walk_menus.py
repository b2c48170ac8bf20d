"""Walks a card through several menu entries in one running editor, as a maker does.

Run by the system's Python inside `dbus-run-session`; the order is JSON in the first argument:
`svg`, `pictures` (a folder) and `steps`, each with its `entry` and the ids to `select` before.
After the last step all drawing steps are undone and done again, then the drawing is saved. The
answer is one line of JSON: what was seen at each step, and how many undos took all of it back.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time

from menu import BUS, Host, press, save, visit


def select(host, ids):
    """Select objects by the host's own action; nothing else is selected."""
    for action, value in (("select-clear", "[]"), ("select-by-id", f"[<'{','.join(ids)}'>]")):
        subprocess.run([*BUS, action, value, "{}"], check=True, capture_output=True)
    time.sleep(0.3)


def undo_all(host, most):
    """Ctrl+Z until the drawing is as it was opened; how often. Then all is done again."""
    count = 0
    while host.title().startswith("*") and count < most:
        press("ctrl+z")
        time.sleep(0.7)
        count += 1
    left = host.title().startswith("*")
    for _ in range(count):
        press("ctrl+shift+z")
        time.sleep(0.7)
    return None if left else count


def main(order):
    """Every step, then undo, redo, save."""
    host = Host(order["svg"])
    seen = []
    for number, step in enumerate(order["steps"], 1):
        if step.get("select"):
            select(host, step["select"])
        name = step["entry"].lower().replace(" ", "-")
        picture = os.path.join(order["pictures"], f"{number:02d}-{name}.png")
        seen.append({"entry": step["entry"], **visit(host, step["entry"], picture)})
    undone = undo_all(host, 2 * len(seen))
    save(host)
    print(json.dumps({"steps": seen, "undone": undone}), flush=True)
    host.process.kill()


if __name__ == "__main__":
    main(json.loads(sys.argv[1]))
