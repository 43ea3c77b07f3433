#!/bin/sh
# Takes pictures of the window in all its states:  sh tests/window/shots.sh DIR
# The program is build/src/stickleback, or SB_TEST_PROGRAM. Always writes; nothing is compared:
# the pictures are for eyes. SHOTS="proof dark" takes only those.
set -eu
[ $# -eq 1 ] || {
  echo "usage: shots.sh DIR" >&2
  exit 2
}
mkdir -p "$1"
out=$(cd "$1" && pwd)
source=$(cd "$(dirname "$0")/../.." && pwd)
export SB_TEST_SOURCE_DIR="$source" SB_SHOTS="$out"
export SB_TEST_PROGRAM="${SB_TEST_PROGRAM:-$source/build/src/stickleback}"
export GSETTINGS_BACKEND=memory LC_ALL=C.UTF-8
python=/usr/bin/python3

# Strings half as long again, as a translation can be: a build folder of our own with them in it.
long=$(mktemp -d)
trap 'rm -rf "$long"' EXIT
mkdir -p "$long/src" "$long/data" "$long/po/xx/LC_MESSAGES"
cp "$SB_TEST_PROGRAM" "$long/src/"
cp "$(dirname "$SB_TEST_PROGRAM")/../data/gschemas.compiled" "$long/data/" 2>/dev/null || true
(cd "$source" && xgettext --from-code=UTF-8 -f po/POTFILES --keyword=_ --keyword=N_ \
  --keyword=ngettext:1,2 -o "$long/all.pot" 2>/dev/null)
msgen "$long/all.pot" | sed 's/charset=CHARSET/charset=UTF-8/' | msgfilter --keep-header \
  perl -0777 -pe 'unless (/\n/) { $_ .= " üüüüü" x int(length() * 0.08 + 1) }' \
  2>/dev/null >"$long/xx.po"
msgfmt -o "$long/po/xx/LC_MESSAGES/stickleback.mo" "$long/xx.po"
# Right to left only goes what speaks a language that does.
mkdir -p "$long/po/he/LC_MESSAGES"
cp "$long/po/xx/LC_MESSAGES/stickleback.mo" "$long/po/he/LC_MESSAGES/"
export SB_SHOTS_LONG="$long/src/stickleback"

status=0
for shot in ${SHOTS:-$($python "$source/tests/window/shots.py" --list)}; do
  timeout 120 $python "$source/tests/window/shots.py" "$shot" >"$out/$shot.log" 2>&1 || {
    echo "shots.sh: $shot failed, see $out/$shot.log" >&2
    status=1
    continue
  }
  rm -f "$out/$shot.log"
done
exit $status
