#!/usr/bin/env bash
# Everything that guards a landing, in one command. Each stage says how long it took; a stage that
# fails takes none of the later ones with it, and all of them are named at the end.
#
#   bash tests/run.sh           install, format, build with warnings as errors, all tests with seeded
#                               samples of the large sweeps, the fuzzers' corpora
#   bash tests/run.sh --all     besides: the other compiler, the unit tests with sanitizers, 100 kills,
#                               1,000 mutants of each kind of file and every hostile name, once plain
#                               and once with sanitizers, two minutes of each fuzzer.
#                               Meant for under an hour on two cores
#   bash tests/run.sh --night   besides: the large sweeps whole (LEGWORK_ALL=1) by both compilers, the
#                               sanitizers over all tests but the window's, half an hour of each fuzzer.
#                               Several hours on two cores
set -uo pipefail
cd "$(dirname "$0")/.."
how_much=landing
fuzz_seconds=0
test_seconds=300  # that one test may take
case ${1:-} in
  "") ;;
  --all) how_much=all; fuzz_seconds=120; test_seconds=1200; export LEGWORK_ATTACK=1 ;;
  --night) how_much=night; fuzz_seconds=1800; test_seconds=28800; export LEGWORK_ATTACK=1 LEGWORK_ALL=1 ;;
  *) echo "usage: bash tests/run.sh [--all|--night]" >&2; exit 2 ;;
esac
failed=()
times=()

# stage NAME COMMAND...: runs it, whatever became of the ones before.
stage() {
  local name=$1 begun=$SECONDS result=well
  shift
  echo "== $name"
  "$@" || { failed+=("$name"); result=FAILED; }
  local took=$((SECONDS - begun))
  times+=("$(printf '%6d min %02d s  %-6s  %s' $((took / 60)) $((took % 60)) $result "$name")")
}

format() {
  find engine gui tests \( -name '*.cpp' -o -name '*.h' \) -print0 |
    xargs -0 -r clang-format --dry-run -Werror || { echo "run clang-format -i on the files above"; return 1; }
}

# A target that does not compile keeps none of the others from being built and tested.
build() {
  cmake --preset "$1" -DLEGWORK_TEST_SECONDS=$test_seconds && cmake --build --preset "$1" -- -k 0
}

# Each fuzzer for its time, two at once; what it finds is left in build/fuzz/found.
fuzz() {
  local name bad=0 folder=build/fuzz/found jobs=()
  mkdir -p $folder
  for name in unit scenario log steps kept; do
    mkdir -p "$folder/$name"
    (build/fuzz/tests/fuzz/${name}_fuzz -max_total_time="$fuzz_seconds" -max_len=40000 -timeout=30 \
      -rss_limit_mb=3000 -print_final_stats=1 -artifact_prefix="$folder/$name-" \
      "$folder/$name" "tests/fuzz/corpus/$name" >"$folder/$name.log" 2>&1) &
    jobs+=("$!:$name")
    if [ ${#jobs[@]} -eq 2 ] || [ "$name" = kept ]; then
      for job in "${jobs[@]}"; do
        wait "${job%%:*}" || { bad=1; tail -n 40 "$folder/${job#*:}.log"; }
        printf '%s: %s executions\n' "${job#*:}" \
          "$(sed -n 's/stat::number_of_executed_units: *//p' "$folder/${job#*:}.log")"
      done
      jobs=()
    fi
  done
  return $bad
}

bash .ci/install.sh tests || exit 1
stage format format
stage "build (ci)" build ci
stage "tests (ci)" ctest --preset ci
if [ $how_much != landing ]; then
  stage "build (clang)" build clang
  if [ $how_much = night ]; then
    stage "tests (clang)" ctest --preset clang
  else
    # The attack is the same whoever compiled: the sanitized build has it once more.
    stage "unit tests, oracles (clang)" env -u LEGWORK_ATTACK ctest --preset clang -L "unit|oracle"
  fi
  stage "build (sanitize)" build sanitize
  if [ $how_much = night ]; then
    stage "tests (sanitize)" ctest --preset sanitize -LE bench
  else
    stage "unit tests (sanitize)" ctest --preset sanitize -L unit
  fi
  stage "build (fuzz)" build fuzz
  stage "fuzz, $fuzz_seconds s each" fuzz
fi

printf '%s\n' "${times[@]}"
if [ ${#failed[@]} -gt 0 ]; then
  printf 'FAILED %s\n' "${failed[@]}"
  exit 1
fi
echo "100% passed: all of the above"
