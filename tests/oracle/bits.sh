#!/bin/sh
# The solver's bits on g++ and clang++, -O0 and -O2: builds its few sources each way and compares what solver_hash
# prints. Ordinarily the two ways that differ most; all four with LEGWORK_ALL.
# Usage: bits.sh [source folder]
set -eu
cd "${1:-$(dirname "$0")/../..}"
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
sources="engine/base/random.cpp engine/base/fingerprint.cpp engine/circuit/plan.cpp engine/circuit/solver.cpp engine/circuit/motor_stamp.cpp
  engine/circuit/motor_plate.cpp engine/circuit/transformer_stamp.cpp tests/support/lanes.cpp tests/support/readings.cpp
  tests/support/networks.cpp tests/oracle/solver_hash.cpp"
cache=$(command -v ccache || true)
first=
for compiler in g++ clang++; do
  if ! command -v $compiler >/dev/null; then echo "no $compiler here: nothing to compare with"; exit 77; fi
  for level in -O0 -O2; do
    case "${LEGWORK_ALL:-few} $compiler$level" in few\ g++-O2 | few\ clang++-O0) continue ;; esac
    objects=
    for source in $sources; do
      object="$room/$(basename "$source").$compiler$level.o"
      $cache $compiler -std=c++20 -ffp-contract=off $level -I. -c "$source" -o "$object"
      objects="$objects $object"
    done
    $compiler $objects -o "$room/solver_hash"
    bits=$("$room/solver_hash")
    echo "$compiler $level $bits"
    if [ -n "$first" ] && [ "$bits" != "$first" ]; then echo "the bits differ"; exit 1; fi
    first=$bits
  done
done
