#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Prints through the command line and measures what the virtual printers received. Each printer has
# its own row of jobs; the rows run side by side, and what arrived is measured at the end.
set -u
. "$(dirname "$0")/lib.sh"

make_square "$work/letter.stickleback" letter 1.5 2
make_square "$work/a4.stickleback" a4 1.5 2
make_square "$work/index.stickleback" 4x6 0.7 1.3
make_square "$work/landscape.stickleback" 11x8.5in 1.5 2
"$program" new "$work/full.stickleback" --paper=letter --replace >/dev/null
"$program" add "$work/full.stickleback" "$(black)" --size=400mm --border=0mm --guide=off >/dev/null
"$program" place "$work/full.stickleback" black --at=4.25in,5.5in >/dev/null
job=$work/letter.stickleback

# --- Rows of jobs: each line of $work/PRINTER.jobs says what the next document has to be ---

print_square() { # name printer job x y
  if "$program" print "$3" --printer=$2 >"$work/$2.out" 2>&1; then
    echo "$4 $5 $1" >>"$work/$2.jobs"
  else
    bad "$1: $(cat "$work/$2.out")" | tee -a "$work/failed"
  fi
}
print_with_default() { # printer option
  lpadmin -p $1 -o ${2%=*}-default=${2#*=}
  print_square "letter on $1 whose default is $2" $1 "$job" 1.5 2
  lpadmin -p $1 -R ${2%=*}-default
}

row_of_ink() {
  for paper in letter a4; do print_square "$paper on ink" ink "$work/$paper.stickleback" 1.5 2; done
  print_square "4 x 6 in on ink" ink "$work/index.stickleback" 0.7 1.3
  # A landscape page lies on its sheet turned clockwise: top at the right.
  print_square "landscape on ink" ink "$work/landscape.stickleback" 4.5 1.5
  for option in print-scaling=fit print-scaling=fill fit-to-page=true number-up=2; do
    print_with_default ink $option
  done
}
# The 12.7 mm foot of a page that is black all over comes last.
row_of_tail() {
  print_square "letter on raster-only tail" tail "$job" 1.5 2
  print_square "4 x 6 in on raster-only tail" tail "$work/index.stickleback" 0.7 1.3
  print_square "landscape on raster-only tail" tail "$work/landscape.stickleback" 4.5 1.5
  for option in print-scaling=fit fit-to-page=true; do print_with_default tail $option; done
  "$program" print "$work/full.stickleback" --printer=tail --despite-stop >/dev/null
}
row_of_ink &
row_of_tail &

# --- Meanwhile what needs no measuring: proof and printers for programs and people ---

"$program" proof "$work/full.stickleback" --printer=tail --json >"$work/proof" 2>&1
check "the proof for tail stops" test $? = 1
lost() { # edge
  grep -o "\"edge\":\"$1\",\"lost_mm\":[0-9.]*" "$work/proof" | sed 's/.*://'
}
"$program" printers --json >"$work/printers.json"
has_paper() { # printer name borderless top bottom
  python3 -c 'import json, sys
printer, name, borderless, top, bottom = sys.argv[2:]
papers = [p for q in json.load(open(sys.argv[1]))["printers"] if q["name"] == printer for p in q["papers"]]
sys.exit(not [p for p in papers if p["name"] == name and p["borderless"] == (borderless == "yes")
              and p["top_mm"] == float(top) and p["bottom_mm"] == float(bottom)])' "$work/printers.json" "$@"
}
check "papers of ink" has_paper ink iso_a4_210x297mm no 3.05 3.05
check "papers of tail" has_paper tail na_letter_8.5x11in no 4.2 12.7
check "papers of edge with margins" has_paper edge na_letter_8.5x11in no 3.05 3.05
check "papers of edge without" has_paper edge na_letter_8.5x11in yes 0 0
"$program" printers >"$work/printers"
check "printers in words" grep -q '^ink: ink, ' "$work/printers"
check "their papers in words" grep -q '^  na_index-4x6_4x6in (.*): margins 3' "$work/printers"
check "borderless in words" grep -q '^  na_letter_8.5x11in (.*): borderless, not true size' "$work/printers"
check "unknown papers in words" grep -q '^  papers and margins unknown' "$work/printers"
"$program" proof "$job" --printer=raw >"$work/out" 2>&1
check "unknown margins are a note" grep -q '^note: .*raw does not say what it leaves white' "$work/out"

# --- Stock ---

"$program" calibrate "$job" --printer=edge --kind=laser >/dev/null
before=$(count edge)
timeout 20 "$program" print "$job" --printer=edge >"$work/out" 2>&1
check "inkjet stock is refused for a laser" test $? = 2
check "and the heat is named" grep -q 'fumes' "$work/out"
timeout 20 "$program" print "$job" --printer=edge --plain --check-bar >"$work/out" 2>&1
check "the plain-paper test may go there" test $? = 0
arrived edge "$before" >/dev/null
check "and nothing else was sent" test "$(count edge)" = $((before + 1))

# --- What arrived ---

wait
if [ -e "$work/failed" ]; then failed=$(($failed + $(wc -l <"$work/failed"))); fi
measure_row() { # printer
  local i=0 x y name file
  while read -r x y name; do
    file=$(arrived $1 $i)
    if [ -n "$file" ]; then check "$name" is_square "$(measure "$file")" $x $y; else bad "$name: nothing arrived"; fi
    i=$((i + 1))
  done <"$work/$1.jobs"
}
measure_row ink
measure_row tail
at=$(wc -l <"$work/tail.jobs")
file=$(arrived tail $at) && set -- $(measure "$file") || set -- 0 0 0 0 0 0
mm() { awk -v px="$1" 'BEGIN { print px / 600 * 25.4 }'; }
# A page that is black all over, 400 mm wide on 215.9: what the proof says is lost is past the strip.
strip() { awk -v lost="$(lost $1)" -v side=$2 'BEGIN { print lost - (400 - side) / 2 }'; }
check "lost on the left as proofed" near "$(mm $3)" "$(strip left 215.9)" 0.1
check "lost at the top as proofed" near "$(mm $4)" "$(strip top 279.4)" 0.1
check "lost on the right as proofed" near "$(mm $(($1 - $5)))" "$(strip right 215.9)" 0.1
check "lost at the foot as proofed" near "$(mm $(($2 - $6)))" "$(strip bottom 279.4)" 0.1
check "that is 4.2 mm" near "$(mm $3)" 4.2 0.1
check "and 12.7 mm at the foot" near "$(mm $(($2 - $6)))" 12.7 0.1

# --- Calibration: a printer that makes everything 101.5 % wide and 98.8 % high and moves it by
# +0.7 and -0.4 mm gets pages from which a 2 in square comes out as 1200 px. ---

"$program" calibrate "$job" --printer=ink --across=152.25mm --along=197.6mm --left=21mm \
  --top=19.36mm >"$work/out" 2>&1
check "calibration is told: $(cat "$work/out")" grep -q '101.50 % across, 98.80 % along, 0.7.mm to the right, 0.4.mm up' "$work/out"
before=$(count ink)
"$program" print "$job" --printer=ink >/dev/null
file=$(arrived ink "$before") && set -- $(measure_finely "$file") || set -- 0 0 0 0 0 0
# From 2400 dpi, so that the pixels of the measuring do not add to what is measured, in 1/600 in.
on_paper() { awk -v v="$1" -v s="$2" -v d="$3" 'BEGIN { print v / 4 * s + d / 25.4 * 600 }'; }
span() { awk -v a="$(on_paper $1 $3 0)" -v b="$(on_paper $2 $3 0)" 'BEGIN { print b - a }'; }
check "calibrated width" near "$(span $3 $5 1.015)" 1200 1
check "calibrated height" near "$(span $4 $6 0.988)" 1200 1
check "calibrated place across" near "$(on_paper $3 1.015 0.7)" 900 1
check "calibrated place along" near "$(on_paper $4 0.988 -0.4)" 1200 1
"$program" calibrate "$job" --printer=ink --across=141.2mm >"$work/out" 2>&1
check "a setting that shrinks is named" grep -q 'fit to page' "$work/out"
"$program" calibrate "$job" --printer=ink --clear >/dev/null
before=$(count ink)
"$program" print "$job" --printer=ink >/dev/null
file=$(arrived ink "$before") && check "calibration cleared" is_square "$(measure "$file")" 1.5 2

# --- Refusals: the right words, a status, no hang ---

refused() { # name, status, words, then the command
  local name=$1 status=$2 words=$3 got
  shift 3
  timeout 20 "$@" >"$work/out" 2>&1
  got=$?
  if [ $got = "$status" ] && grep -q "$words" "$work/out"; then ok "$name: $(head -1 "$work/out")"; else bad "$name: status $got, $(cat "$work/out")"; fi
}
cupsreject ink
refused "rejecting" 3 'does not take jobs' "$program" print "$job" --printer=ink
cupsaccept ink
cupsdisable ink
refused "paused" 3 'is stopped' "$program" print "$job" --printer=ink
cupsenable ink
refused "no such printer" 2 'no printer named' "$program" print "$job" --printer=nobody
refused "no such printer to proof for" 2 'no printer named' "$program" proof "$job" --printer=nobody
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
finish
