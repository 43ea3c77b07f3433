#!/bin/sh
# Runs every test, twice: as released, and with the address and undefined-behaviour sanitizers.
# The last line is "N passed, N failed, N skipped".
set -eu
cd "$(dirname "$0")/.."
sh data/install-needed.sh tests

passed=0 failed=0 skipped=0

# Builds in folder $1 with the meson options that follow, runs the tests, adds up what they said.
run_all() {
  folder=$1
  shift
  echo "== $folder"
  if [ ! -f "$folder/build.ninja" ]; then
    meson setup "$folder" "$@" >"/tmp/stickleback-$folder.log" 2>&1 || {
      cat "/tmp/stickleback-$folder.log"
      failed=$((failed + 1))
      return 0
    }
  fi
  ninja -C "$folder" >"/tmp/stickleback-$folder.log" 2>&1 || {
    tail -60 "/tmp/stickleback-$folder.log"
    failed=$((failed + 1))
    return 0
  }
  rm -f "$folder/meson-logs/testlog.json"
  meson test -C "$folder" --no-rebuild --print-errorlogs --num-processes 2 \
    --timeout-multiplier "$slower" || true
  results=$folder/meson-logs/testlog.json
  if [ ! -s "$results" ]; then
    echo "The tests did not run."
    failed=$((failed + 1))
    return 0
  fi
  passed=$((passed + $(grep -cE '"result": "(OK|EXPECTEDFAIL)"' "$results" || true)))
  skipped=$((skipped + $(grep -c '"result": "SKIP"' "$results" || true)))
  failed=$((failed + $(grep -cE '"result": "(FAIL|TIMEOUT|ERROR|INTERRUPT|UNEXPECTEDPASS)"' "$results" || true)))
}

slower=2
run_all build
slower=6
run_all build-sanitize -Db_sanitize=address,undefined -Db_lundef=false -Doptimization=1

echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ]
