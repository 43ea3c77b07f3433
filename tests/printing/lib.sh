# SPDX-License-Identifier: GPL-3.0-or-later
#
# What the printing tests share. Sourced by scripts that with-queues.sh runs; SB_TEST_PROGRAM and
# SB_MEASURE name the programs.
passed=0 failed=0
work=$SB_LAB/work
mkdir -p "$work"
program=$SB_TEST_PROGRAM

ok() { passed=$((passed + 1)); echo "ok    $1"; }
bad() { failed=$((failed + 1)); echo "FAIL  $1"; }
check() { # name, then a command
  local name=$1
  shift
  if "$@"; then ok "$name"; else bad "$name"; fi
}
finish() { echo "$passed passed, $failed failed"; [ $failed = 0 ] && [ $passed -gt 0 ]; }

# A black PNG of 1200 px a side; its size is said when it is added.
black() {
  [ -s "$work/black.png" ] || "$SB_MEASURE" --black 1200 "$work/black.png"
  echo "$work/black.png"
}

count() { ls "$SB_LAB/received/$1" | wc -l; }

# The document number $2 (from 0) of printer $1.
nth() { ls "$SB_LAB/received/$1" | sed -n "$(($2 + 1))s#^#$SB_LAB/received/$1/#p"; }

# Waits until printer $1 has more than $2 documents; tells the first of them.
arrived() {
  for i in $(seq 600); do
    [ "$(count $1)" -gt "$2" ] && { nth $1 $2; return; }
    sleep 0.05
  done
  return 1
}

# Width, height and dark box at 600 dpi of what a printer received.
measure() {
  case $1 in
  *.pdf) pdftoppm -r 600 -gray -aa no -aaVector no -singlefile "$1" "$work/page" && "$SB_MEASURE" "$work/page.pgm" ;;
  *) "$SB_MEASURE" "$1" ;;
  esac
}

# The same of a PDF's square at 2400 dpi, from a part of the page that holds it.
measure_finely() {
  pdftoppm -r 2400 -x 3000 -y 4000 -W 6000 -H 6000 -gray -aa no -aaVector no -singlefile "$1" "$work/fine" &&
    "$SB_MEASURE" "$work/fine.pgm" | awk '{ print $1, $2, $3 + 3000, $4 + 4000, $5 + 3000, $6 + 4000 }'
}

# near A B TOLERANCE
near() { awk -v a="$1" -v b="$2" -v t="$3" 'BEGIN { d = a - b; exit !(d <= t && d >= -t) }'; }

# is_square "WIDTH HEIGHT X0 Y0 X1 Y1" X_IN Y_IN: 2 in at 600 dpi is 1200 px, here with its corner.
is_square() {
  set -- $1 $2 $3
  near $(($5 - $3)) 1200 1 && near $(($6 - $4)) 1200 1 &&
    near $3 "$(awk -v v=$7 'BEGIN { print v * 600 }')" 2 && near $4 "$(awk -v v=$8 'BEGIN { print v * 600 }')" 2 && return
  echo "      square of $(($5 - $3)) x $(($6 - $4)) px at $3, $4 on a page of $1 x $2"
  return 1
}

# A job with the 2 in square: file paper x y (of its corner).
make_square() {
  "$program" new "$1" --paper="$2" --replace >/dev/null &&
    "$program" add "$1" "$(black)" --size=2in --border=0mm --guide=off >/dev/null &&
    "$program" place "$1" black --at="$(awk -v v=$3 'BEGIN { print v + 1 }')in,$(awk -v v=$4 'BEGIN { print v + 1 }')in" >/dev/null
}
