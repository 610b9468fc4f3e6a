#!/usr/bin/env bash
# Install what is missing, build, and open the first ticket: in the window, or where there is no
# display in the terminal. Arguments go to the program: bash gui/start.sh --ticket mb-003
set -euo pipefail
cd "$(dirname "$0")/.."
bash .ci/install.sh
cmake --preset release -DLEGWORK_TESTS=OFF >build-start.log 2>&1 || { cat build-start.log; exit 1; }
rm -f build-start.log
cmake --build --preset release --target legwork

first=mb-002
if ! build/release/legwork --can-open; then
  echo "So no window can open here. The same ticket in the terminal:"
  exec build/release/legwork work "$first"
fi
[ $# -gt 0 ] || set -- --ticket "$first"
exec build/release/legwork "$@"
