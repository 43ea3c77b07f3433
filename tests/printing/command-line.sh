#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Prints through the command line and measures what the virtual printers received.
set -u
. "$(dirname "$0")/lib.sh"

print_square() { # name printer job x y
  local before file
  before=$(count $2)
  "$program" print "$3" --printer=$2 >"$work/out" 2>&1 || { bad "$1: $(cat "$work/out")"; return; }
  file=$(arrived $2 "$before") || { bad "$1: nothing arrived"; return; }
  check "$1" is_square "$(measure "$file")" $4 $5
}

# --- True size ---

make_square "$work/letter.stickleback" letter 1.5 2
make_square "$work/a4.stickleback" a4 1.5 2
make_square "$work/index.stickleback" 4x6 0.7 1.3
make_square "$work/landscape.stickleback" 11x8.5in 1.5 2
for job in letter a4; do print_square "$job on ink" ink "$work/$job.stickleback" 1.5 2; done
print_square "4 x 6 in on ink" ink "$work/index.stickleback" 0.7 1.3
print_square "letter on raster-only tail" tail "$work/letter.stickleback" 1.5 2
print_square "4 x 6 in on raster-only tail" tail "$work/index.stickleback" 0.7 1.3
# A landscape page lies on its sheet turned clockwise: top at the right.
print_square "landscape on ink" ink "$work/landscape.stickleback" 4.5 1.5
print_square "landscape on raster-only tail" tail "$work/landscape.stickleback" 4.5 1.5
for wish in ink:print-scaling=fit tail:print-scaling=fit ink:print-scaling=fill ink:fit-to-page=true \
  tail:fit-to-page=true ink:number-up=2; do
  queue=${wish%%:*} option=${wish#*:}
  lpadmin -p $queue -o ${option%=*}-default=${option#*=}
  print_square "letter on $queue whose default is $option" $queue "$work/letter.stickleback" 1.5 2
  lpadmin -p $queue -R ${option%=*}-default
done

# --- The strip that is lost is the strip of the proof: a page that is black all over ---

"$program" new "$work/full.stickleback" --paper=letter --replace >/dev/null
"$program" add "$work/full.stickleback" "$(black)" --size=400mm --border=0mm --guide=off >/dev/null
"$program" place "$work/full.stickleback" black --at=4.25in,5.5in >/dev/null
"$program" print "$work/full.stickleback" --printer=tail >/dev/null 2>&1
check "a page over the strip stops" test $? = 1
before=$(count tail)
"$program" print "$work/full.stickleback" --printer=tail --despite-stop >/dev/null
file=$(arrived tail "$before") && set -- $(measure "$file") || set -- 0 0 0 0 0 0
mm() { awk -v px="$1" 'BEGIN { print px / 600 * 25.4 }'; }
check "4.2 mm lost on the left" near "$(mm $3)" 4.2 0.1
check "4.2 mm lost at the top" near "$(mm $4)" 4.2 0.1
check "4.2 mm lost on the right" near "$(mm $(($1 - $5)))" 4.2 0.1
check "12.7 mm lost at the foot" near "$(mm $(($2 - $6)))" 12.7 0.1

# --- Calibration: a printer that makes everything 101.5 % wide and 98.8 % high and moves it by
# +0.7 and -0.4 mm gets pages from which a 2 in square comes out as 1200 px. ---

"$program" calibrate "$work/letter.stickleback" --printer=ink --across=152.25mm --along=197.6mm \
  --left=21mm --top=19.36mm >"$work/out" 2>&1
check "calibration is told: $(cat "$work/out")" grep -q '101.50 %, along 98.80 %, 0.70 mm to the right, -0.40 mm down' "$work/out"
before=$(count ink)
"$program" print "$work/letter.stickleback" --printer=ink >/dev/null
file=$(arrived ink "$before") && set -- $(measure "$file") || set -- 0 0 0 0 0 0
on_paper() { awk -v v="$1" -v s="$2" -v d="$3" 'BEGIN { print v * s + d / 25.4 * 600 }'; }
check "calibrated width" near "$(awk -v a="$(on_paper $3 1.015 0)" -v b="$(on_paper $5 1.015 0)" 'BEGIN { print b - a }')" 1200 1.5
check "calibrated height" near "$(awk -v a="$(on_paper $4 0.988 0)" -v b="$(on_paper $6 0.988 0)" 'BEGIN { print b - a }')" 1200 1.5
check "calibrated place across" near "$(on_paper $3 1.015 0.7)" 900 2
check "calibrated place along" near "$(on_paper $4 0.988 -0.4)" 1200 2
"$program" calibrate "$work/letter.stickleback" --printer=ink --across=141.2mm >"$work/out" 2>&1
check "a setting that shrinks is named" grep -q 'fit to page' "$work/out"
"$program" calibrate "$work/letter.stickleback" --printer=ink --clear >/dev/null
print_square "letter on ink, calibration cleared" ink "$work/letter.stickleback" 1.5 2

# --- Stock ---

"$program" calibrate "$work/letter.stickleback" --printer=edge --kind=laser >/dev/null
before=$(count edge)
timeout 20 "$program" print "$work/letter.stickleback" --printer=edge >"$work/out" 2>&1
check "inkjet stock is refused for a laser" test $? = 2
check "and the heat is named" grep -q 'fumes' "$work/out"
check "nothing was sent" test "$(count edge)" = "$before"
timeout 20 "$program" print "$work/letter.stickleback" --printer=edge --plain >"$work/out" 2>&1
check "the plain-paper test may go there" test $? = 0

# --- Refusals: the right words, a status, no hang ---

refused() { # name, status, words, then the command
  local name=$1 status=$2 words=$3 got
  shift 3
  timeout 20 "$@" >"$work/out" 2>&1
  got=$?
  if [ $got = "$status" ] && grep -q "$words" "$work/out"; then ok "$name: $(head -1 "$work/out")"; else bad "$name: status $got, $(cat "$work/out")"; fi
}
job=$work/letter.stickleback
cupsreject ink
refused "rejecting" 3 'does not take jobs' "$program" print "$job" --printer=ink
cupsaccept ink
cupsdisable ink
refused "paused" 3 'is stopped' "$program" print "$job" --printer=ink
cupsenable ink
refused "no such printer" 2 'no printer named' "$program" print "$job" --printer=nobody
"$program" new "$work/odd.stickleback" --paper=120x180mm --replace >/dev/null
refused "a paper that is not offered" 2 'does not offer' "$program" print "$work/odd.stickleback" --printer=mixed
refused "no print service" 3 'does not answer' env CUPS_SERVER="$SB_LAB/nobody.sock" "$program" print "$job" --printer=ink
refused "no print service to list" 3 'does not answer' env CUPS_SERVER="$SB_LAB/nobody.sock" "$program" printers
lpadmin -p gone -E -v ipp://127.0.0.1:9/ipp/print -P "$SB_LAB/root/ppd/ink.ppd" 2>/dev/null
refused "a printer that is switched off" 0 'gone has the job' "$program" print "$job" --printer=gone
cancel -a gone 2>/dev/null
"$SB_MEASURE" --noise 1500 "$work/noise.png"
"$program" new "$work/noise.stickleback" --paper=letter --replace >/dev/null
"$program" add "$work/noise.stickleback" "$work/noise.png" --size=150mm >/dev/null
"$program" place "$work/noise.stickleback" noise --at=4.25in,5.5in >/dev/null
refused "a job too large for the queue" 3  'disk' "$program" print "$work/noise.stickleback" --printer=ink
refused "printers in words" 0 'ink: ink, idle' "$program" printers
finish
