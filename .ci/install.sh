#!/usr/bin/env bash
# install.sh [tests]: install whatever .ci/packages.txt lists and this machine lacks.
# Does nothing, and needs no network, when all of it is there.
set -euo pipefail
list=$(dirname "$0")/packages.txt
missing=()
while read -r purpose name; do
  case $purpose in program | "${1:-program}") ;; *) continue ;; esac
  dpkg-query -W -f='${Status}' "$name" 2>/dev/null | grep -q '^install ok installed' || missing+=("$name")
done < <(grep -v '^#' "$list")
[ ${#missing[@]} -gt 0 ] || exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
  command -v sudo >/dev/null || {
    echo "Missing packages, and no sudo here. As root: apt-get install ${missing[*]}" >&2
    exit 1
  }
  as_root=(sudo)
fi
echo "Installing from Debian: ${missing[*]}"
export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get -qq update
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
  apt-get -qq install -y --no-install-recommends "${missing[@]}" >/dev/null
