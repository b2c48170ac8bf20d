#!/bin/sh
# Sets Underlit up by a double click (macOS; on Linux: run it in a terminal). No typed command.
cd "$(dirname "$0")" || exit 1

wait_for_enter() {
  if [ -t 0 ]; then
    printf '\nPress Enter to close this window. '
    read -r _
  fi
}

if [ ! -f install.py ]; then
  echo "This file works only beside the others of Underlit. Unpack the whole archive first,"
  echo "then double-click install.command in the new folder."
  wait_for_enter
  exit 1
fi

is_new_enough() {
  "$1" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

found=
for name in python3 python3.14 python3.13 python3.12 python3.11 \
  /Library/Frameworks/Python.framework/Versions/Current/bin/python3 \
  /opt/homebrew/bin/python3 /usr/local/bin/python3; do
  if is_new_enough "$name"; then
    found=$name
    break
  fi
done

if [ -z "$found" ]; then
  echo "Underlit needs Python 3.11 or newer, and I find none on this computer."
  echo "Get it from www.python.org, install it, then double-click this file once more."
  echo "(On Debian or Ubuntu: sudo apt install python3 python3-venv)"
  wait_for_enter
  exit 1
fi

echo "Setting up Underlit for Inkscape. This takes a minute or two."
"$found" install.py "$@"
status=$?
[ "$status" -eq 0 ] || echo "That did not work. The line above says why."
wait_for_enter
exit "$status"
