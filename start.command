#!/bin/sh
# Double-click on macOS (or run it on Linux): set Noonwater up and open the desk.
cd "$(dirname "$0")" || exit 1
for python in python3.13 python3.12 python3.11 python3; do
  if "$python" -c "import sys; sys.exit(sys.version_info < (3, 11))" >/dev/null 2>&1; then
    "$python" start.py serve "$@"
    code=$?
    [ "$code" -eq 0 ] || { printf 'Press Enter to close this window. '; read -r _; }
    exit "$code"
  fi
done
echo "Noonwater needs Python 3.11 or newer, and none was found. Install it from python.org."
printf 'Press Enter to close this window. '
read -r _
exit 2
