#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
#
# with-queues.sh COMMAND...: runs COMMAND beside a print service of its own, with five virtual
# printers on the loopback interface. Nothing outside a new folder ($SB_LAB) is touched, and all of
# it is gone afterwards.
#
#   ink    3.05 mm all round, PDF; takes no custom sizes
#   tail   4.2 mm and a foot of 12.7 mm, raster only; takes custom sizes
#   edge   3.05 mm, and the same papers borderless
#   mixed  other margins for each paper; Letter named twice
#   raw    a queue that says nothing of its papers
#
# Exit status 77 (skipped) with the reason where the print service is not installed.
set -u
here=$(cd "$(dirname "$0")" && pwd)
PATH=$PATH:/usr/sbin:/sbin
for tool in cupsd ippeveprinter lpadmin dbus-daemon pdftoppm; do
  command -v $tool >/dev/null || { echo "SKIP: $tool is not installed"; exit 77; }
done
SB_LAB=$(mktemp -d /tmp/sb-print-XXXXXX) || exit 1
export SB_LAB
chmod 755 "$SB_LAB"
mkdir -p "$SB_LAB"/{root/ppd,root/ssl,cache,state,spool/tmp,attributes,received,home,xdg,config}
chmod 700 "$SB_LAB/xdg"
pids=()
stop() {
  for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null; done
  for pid in "${pids[@]}"; do wait "$pid" 2>/dev/null; done
  rm -rf "$SB_LAB"
}
trap stop EXIT
trap 'exit 143' TERM INT

# --- What the printers say of themselves (PWG 5100.7 media-col-database, in 1/100 mm) ---

size_of() {
  case $1 in
  na_letter_8.5x11in) echo 21590 27940 ;;
  iso_a4_210x297mm) echo 21000 29700 ;;
  na_index-4x6_4x6in) echo 10160 15240 ;;
  na_5x7_5x7in) echo 12700 17780 ;;
  esac
}
# paper top bottom left right
entry() {
  set -- $(size_of "$1") "$@"
  echo "{MEMBER collection media-size {MEMBER integer x-dimension $1 MEMBER integer y-dimension $2}" \
    "MEMBER keyword media-size-name $3 MEMBER integer media-top-margin $4" \
    "MEMBER integer media-bottom-margin $5 MEMBER integer media-left-margin $6" \
    "MEMBER integer media-right-margin $7 MEMBER keyword media-source main" \
    "MEMBER keyword media-type stationery}"
}
custom_size="{MEMBER rangeOfInteger x-dimension 8900-21590 MEMBER rangeOfInteger y-dimension 12700-35560}"
# name formats custom(yes|no) "paper top bottom left right"...
describe() {
  local name=$1 formats=$2 custom=$3 names= entries= sizes= margins= e first_entry=$4
  shift 3
  for e in "$@"; do
    set -- $e
    case ,$names, in *,$1,*) ;; *)
      names=$names${names:+,}$1
      sizes="$sizes${sizes:+,}{MEMBER integer x-dimension $(size_of $1 | cut -d' ' -f1) MEMBER integer y-dimension $(size_of $1 | cut -d' ' -f2)}"
      ;;
    esac
    entries="$entries${entries:+,}$(entry $e)"
    margins="$margins $2 $3 $4 $5"
  done
  local list first=${first_entry%% *}
  list=$(printf '%s\n' $margins | sort -nu | paste -sd,)
  if [ $custom = yes ]; then
    names=$names,custom_min_89x127mm,custom_max_8.5x14in
    sizes="$sizes,$custom_size"
  fi
  cat <<END
ATTR text printer-make-and-model "Test $name"
ATTR mimeMediaType document-format-supported application/octet-stream,$formats
ATTR keyword print-color-mode-default color
ATTR keyword print-color-mode-supported auto,color,monochrome
ATTR boolean color-supported true
ATTR integer copies-default 1
ATTR rangeOfInteger copies-supported 1-99
ATTR keyword media-source-supported auto,main
ATTR keyword media-type-supported auto,stationery,labels
ATTR enum orientation-requested-default 3
ATTR enum orientation-requested-supported 3,4,5,6
ATTR boolean page-ranges-supported true
ATTR enum print-quality-default 4
ATTR enum print-quality-supported 3,4,5
ATTR resolution printer-resolution-default 600dpi
ATTR resolution printer-resolution-supported 600dpi
ATTR resolution pwg-raster-document-resolution-supported 600dpi
ATTR keyword pwg-raster-document-sheet-back normal
ATTR keyword pwg-raster-document-type-supported black_1,sgray_8,srgb_8
ATTR keyword sides-default one-sided
ATTR keyword sides-supported one-sided
ATTR keyword urf-supported CP1,IS1-4,MT1-2-3,RS600,V1.4,W8,SRGB24
ATTR integer media-top-margin-supported $list
ATTR integer media-bottom-margin-supported $list
ATTR integer media-left-margin-supported $list
ATTR integer media-right-margin-supported $list
ATTR keyword media-default $first
ATTR keyword media-supported $names
ATTR keyword media-ready $first
ATTR collection media-size-supported $sizes
ATTR collection media-col-database $entries
END
  for e in default ready; do echo "ATTR collection media-col-$e $(entry $first_entry)"; done
}
pdf=application/pdf,image/pwg-raster,image/urf
raster=image/pwg-raster,image/urf
letter=na_letter_8.5x11in a4=iso_a4_210x297mm index=na_index-4x6_4x6in photo=na_5x7_5x7in
same="305 305 305 305" foot="420 1270 420 420" none="0 0 0 0"
describe ink $pdf no "$letter $same" "$a4 $same" "$index $same" "$photo $same" >"$SB_LAB/attributes/ink"
describe tail $raster yes "$letter $foot" "$a4 $foot" "$index $foot" >"$SB_LAB/attributes/tail"
describe edge $pdf no "$letter $same" "$a4 $same" "$letter $none" "$a4 $none" >"$SB_LAB/attributes/edge"
describe mixed $pdf no "$letter 305 1270 635 635" "$letter $same" "$a4 305 305 340 340" >"$SB_LAB/attributes/mixed"

# --- The print service ---

port=
for try in $(seq 40); do
  candidate=$((20000 + (RANDOM % 4000) * 8))
  free=yes
  for i in 0 1 2 3 4; do
    (: </dev/tcp/127.0.0.1/$((candidate + i))) 2>/dev/null && free=no
  done
  [ $free = yes ] && { port=$candidate; break; }
done
[ -n "$port" ] || { echo "SKIP: no free ports"; exit 77; }

cat >"$SB_LAB/cups-files.conf" <<END
SystemGroup root lpadmin
ServerRoot $SB_LAB/root
CacheDir $SB_LAB/cache
StateDir $SB_LAB/state
RequestRoot $SB_LAB/spool
TempDir $SB_LAB/spool/tmp
AccessLog $SB_LAB/access.log
ErrorLog $SB_LAB/error.log
PageLog $SB_LAB/page.log
Printcap
END
# A document past MaxRequestSize is refused, as it is on a full spool disk.
cat >"$SB_LAB/cupsd.conf" <<END
LogLevel info
Listen 127.0.0.1:$port
Listen $SB_LAB/cups.sock
MaxRequestSize 3m
Browsing No
WebInterface No
DefaultAuthType None
ErrorPolicy retry-job
<Location />
  Order allow,deny
  Allow 127.0.0.1
</Location>
<Policy default>
  <Limit All>
    Order deny,allow
  </Limit>
</Policy>
END
# ippeveprinter wants a system bus to be there, even where it announces nothing.
dbus-daemon --session --nofork --nopidfile --address="unix:path=$SB_LAB/bus" >/dev/null 2>&1 &
pids+=($!)
export DBUS_SYSTEM_BUS_ADDRESS=unix:path=$SB_LAB/bus
cupsd -f -c "$SB_LAB/cupsd.conf" -s "$SB_LAB/cups-files.conf" >"$SB_LAB/cupsd.log" 2>&1 &
pids+=($!)
export CUPS_SERVER=$SB_LAB/cups.sock
for i in $(seq 50); do [ -S "$SB_LAB/bus" ] && break; sleep 0.1; done

i=1
for name in ink tail edge mixed; do
  mkdir -p "$SB_LAB/ipp/$name" "$SB_LAB/received/$name" "$SB_LAB/tickets/$name"
  SB_PRINTER=$name TMPDIR=$SB_LAB/ipp/$name ippeveprinter -K "$SB_LAB/ipp/$name" -r off -n localhost \
    -p $((port + i)) -a "$SB_LAB/attributes/$name" -d "$SB_LAB/ipp/$name" \
    -c "$here/keep-document.sh" -k "$name" >"$SB_LAB/$name.log" 2>&1 &
  pids+=($!)
  i=$((i + 1))
done

for i in $(seq 100); do [ -S "$CUPS_SERVER" ] && lpstat -r 2>/dev/null | grep -q 'is running' && break; sleep 0.1; done
i=1
for name in ink tail edge mixed; do
  # A queue made before its printer answers has no list of papers.
  for try in $(seq 100); do (: </dev/tcp/127.0.0.1/$((port + i))) 2>/dev/null && break; sleep 0.1; done
  lpadmin -p $name -E -v ipp://localhost:$((port + i))/ipp/print -m everywhere 2>/dev/null
  for try in $(seq 100); do [ -s "$SB_LAB/root/ppd/$name.ppd" ] && break; sleep 0.1; done
  [ -s "$SB_LAB/root/ppd/$name.ppd" ] || { echo "the queue $name could not be made"; tail -5 "$SB_LAB/$name.log"; exit 1; }
  # Else each job keeps the queue until its printer tells that it is done, some seconds later.
  lpadmin -p $name -v "ipp://localhost:$((port + i))/ipp/print?waitjob=false" 2>/dev/null
  i=$((i + 1))
done
lpadmin -p raw -E -v socket://127.0.0.1:9 2>/dev/null
lpadmin -d ink
export SB_PORT=$port
export HOME=$SB_LAB/home XDG_RUNTIME_DIR=$SB_LAB/xdg STICKLEBACK_CONFIG_DIR=$SB_LAB/config
"$@"
