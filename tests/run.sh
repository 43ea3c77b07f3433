#!/bin/sh
# Runs every test, twice: as released, and with the address and undefined-behaviour sanitizers.
# The last line is "N passed, N failed, N skipped".
set -eu
cd "$(dirname "$0")/.."
sh data/install-needed.sh tests

passed=0 failed=0 skipped=0

# Builds in folder $1 with the meson options that follow; says what went wrong, if anything did.
build() {
  folder=$1
  shift
  log=/tmp/stickleback-$folder.log
  { [ -f "$folder/build.ninja" ] || meson setup "$folder" "$@"; } >"$log" 2>&1 &&
    nice ninja -C "$folder" >>"$log" 2>&1 && return
  tail -60 "$log"
  return 1
}

# Runs the tests in folder $1, $2 times more patiently than as released, with meson's options that
# follow, and adds up what they said.
run_all() {
  results=$1/meson-logs/testlog.json
  echo "== $1"
  rm -f "$results"
  meson test -C "$1" --no-rebuild --print-errorlogs --num-processes "$(nproc)" \
    --timeout-multiplier "$2" $3 || true
  if [ ! -s "$results" ]; then
    echo "The tests did not run."
    failed=$((failed + 1))
    return
  fi
  passed=$((passed + $(grep -cE '"result": "(OK|EXPECTEDFAIL)"' "$results" || true)))
  skipped=$((skipped + $(grep -c '"result": "SKIP"' "$results" || true)))
  failed=$((failed + $(grep -cE '"result": "(FAIL|TIMEOUT|ERROR|INTERRUPT|UNEXPECTEDPASS)"' "$results" || true)))
}

# Window tests wait more than they work, so the second tree is built while the first is tested.
built=yes
build build || built=no
build build-sanitize -Db_sanitize=address,undefined -Db_lundef=false -Doptimization=1 &
sanitized=$!
if [ "$built" = yes ]; then run_all build 4 ''; else failed=$((failed + 1)); fi
if wait "$sanitized"; then run_all build-sanitize 6 '--no-suite figures'; else failed=$((failed + 1)); fi

echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ]
