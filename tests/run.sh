#!/usr/bin/env bash
# Everything that guards a landing: install, format, build with warnings as errors, all tests.
#   bash tests/run.sh          seeded samples of the large sweeps, a few minutes
#   bash tests/run.sh --all    larger sweeps (LEGWORK_ALL=1), and the other compiler
set -euo pipefail
cd "$(dirname "$0")/.."
case ${1:-} in
  "") ;;
  --all) export LEGWORK_ALL=1 ;;
  *) echo "usage: bash tests/run.sh [--all]" >&2; exit 2 ;;
esac
bash .ci/install.sh tests
failed=()

echo "== format"
find engine gui tests \( -name '*.cpp' -o -name '*.h' \) -print0 |
  xargs -0 -r clang-format --dry-run -Werror || failed+=("format: run clang-format -i on the files above")

build_and_test() {
  echo "== build ($1)"
  cmake --preset "$1"
  cmake --build --preset "$1"
  echo "== tests ($1)"
  ctest --preset "$1" || failed+=("tests ($1): listed above")
}
build_and_test ci
[ -z "${LEGWORK_ALL:-}" ] || build_and_test clang

if [ ${#failed[@]} -gt 0 ]; then
  printf 'FAILED %s\n' "${failed[@]}"
  exit 1
fi
echo "100% passed: format, build, tests"
