#!/usr/bin/env bash
# shipped.sh: writes assets/shipped.txt, the fingerprints (SHA-256) of every version of every unit and
# scenario that was ever committed under circuits/ and scenarios/. By it an honest log of an earlier
# version is told from one of a changed file. Run it before a release, in a clone with its whole history.
set -euo pipefail
cd "$(dirname "$0")/.."
out=assets/shipped.txt
{
  echo "# Fingerprints of units and scenarios as they were shipped: kind, name, SHA-256. Made by .ci/shipped.sh."
  {
    git log --format=%H -- circuits scenarios | while read -r commit; do
      git ls-tree -r "$commit" -- circuits scenarios
    done | sort -u | while read -r _ _ blob path; do
      case $path in
        circuits/*.yaml) kind=unit ;;
        scenarios/*.yaml) kind=scenario ;;
        *) continue ;;
      esac
      echo "$kind $(basename "$path" .yaml) $(git cat-file blob "$blob" | sha256sum | cut -d' ' -f1)"
    done
  } | sort -u
} >"$out.new"
mv "$out.new" "$out"
