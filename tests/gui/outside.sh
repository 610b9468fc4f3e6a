#!/usr/bin/env bash
# The real window from outside, under Xvfb: opens, is clicked and typed at, and leaves when asked.
# outside.sh LEGWORK HOME
set -euo pipefail
if [ -z "${OUTSIDE_DISPLAY:-}" ]; then
  export OUTSIDE_DISPLAY=1
  exec xvfb-run -a -s "-screen 0 1600x1000x24 -noreset" bash "$0" "$@"
fi
legwork=$1
export LEGWORK_HOME=$2 LEGWORK_DATA
LEGWORK_DATA=$(mktemp -d)
log=$LEGWORK_DATA/stderr
"$legwork" 2>"$log" &
pid=$!
trap 'kill $pid 2>/dev/null || true; rm -rf "$LEGWORK_DATA"' EXIT
fail() { echo "outside: $*"; cat "$log"; exit 1; }

# How long a frame takes on a busy machine is not what is tested.
for _ in $(seq 600); do
  window=$(xdotool search --name '^Legwork$' 2>/dev/null) && break
  kill -0 $pid 2>/dev/null || fail "left before its window opened"
  sleep 0.1
done
[ -n "${window:-}" ] || fail "no window after 60 s"
sleep 1

# Where things stand is the same without a display: ask, then click there.
click() {
  at=$("$legwork" --places --size 1600x1000 | awk -v name="$1" '{x=$1; y=$2; $1=$2=""; sub(/^ +/,""); if ($0==name) print x, y}')
  [ -n "$at" ] || fail "nothing called '$1' on the day sheet"
  xdotool mousemove --window "$window" $at click 1
  sleep 0.5
}
click symbols
kill -0 $pid 2>/dev/null || fail "left at a click"
xdotool key F1; sleep 0.5
xdotool key Escape; sleep 0.3
xdotool key Escape; sleep 0.3
xdotool key ctrl+q
for _ in $(seq 600); do
  kill -0 $pid 2>/dev/null || { wait $pid; echo "outside: opened, clicked, left"; exit 0; }
  sleep 0.1
done
fail "still there 60 s after Ctrl Q"
