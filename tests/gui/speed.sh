#!/usr/bin/env bash
# What the window costs, under Xvfb: first frame, idle, memory. Nothing is held to it: a table to read.
# speed.sh LEGWORK HOME OPENING_BENCH
set -euo pipefail
if [ -z "${SPEED_DISPLAY:-}" ]; then
  export SPEED_DISPLAY=1
  exec xvfb-run -a -s "-screen 0 1600x1000x24 -noreset" bash "$0" "$@"
fi
legwork=$1
export LEGWORK_HOME=$2 LEGWORK_DATA
LEGWORK_DATA=$(mktemp -d)
pid=
trap '[ -z "$pid" ] || kill $pid 2>/dev/null || true; rm -rf "$LEGWORK_DATA"' EXIT
echo "shown round: true" >"$LEGWORK_DATA/settings.yaml"
row() { awk -v what="$1" -v is="$2" -v goal="$3" -v unit="$4" \
  'BEGIN { printf "%-58s %8.1f %-3s goal %5.0f %-3s %5.2f of it\n", what, is, unit, goal, unit, is / goal }'; }

best=
for _ in 1 2 3 4 5; do
  ms=$("$legwork" --only-first 2>/dev/null | grep -o '[0-9]*' | head -1)
  if [ -z "$best" ] || [ "$ms" -lt "$best" ]; then best=$ms; fi
done
row "process start to first frame, best of 5" "$best" 300 ms

# Once for the caches, once to be measured.
"$3" >/dev/null
"$3"

"$legwork" --ticket mb-002 2>/dev/null &
pid=$!
sleep 8  # opened, and all suspects worked out from what is kept
spent() { awk '{ sub(/.*\) /, ""); print $12 + $13 }' /proc/$pid/stat; }
before=$(spent)
sleep 20
row "idle on site, of one processor" "$(( $(spent) - before ))" 20 "/20"
row "private memory, all suspects loaded" \
  "$(awk '/^Private/ { kb += $2 } END { print kb / 1024 }' /proc/$pid/smaps_rollup)" 200 MB
