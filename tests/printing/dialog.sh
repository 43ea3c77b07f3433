#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Prints through the window and the system's own print dialog with real key events, and measures
# what the virtual printers received. SB_SHOTS, if set, is a folder for pictures of each step.
set -u
for tool in xvfb-run xdotool dbus-run-session; do
  command -v $tool >/dev/null || { echo "SKIP: $tool is not installed"; exit 77; }
done
if [ -z "${SB_INSIDE:-}" ]; then
  SB_INSIDE=yes GDK_BACKEND=x11 NO_AT_BRIDGE=1 exec dbus-run-session -- \
    xvfb-run -a -s "-screen 0 1280x1000x24" "$0"
fi
. "$(dirname "$0")/lib.sh"
shot() { [ -z "${SB_SHOTS:-}" ] || import -window root "$SB_SHOTS/$1.png"; }

visible() { xdotool search --onlyvisible --pid "$app" --name '.*' 2>/dev/null; }
# Waits until `test` of the number of visible windows holds: wait_windows -ge 2
wait_windows() {
  for i in $(seq 150); do
    [ "$(visible | wc -l)" "$1" "$2" ] && { sleep 0.5; return 0; }
    sleep 0.1
  done
  return 1
}
# The dialog in front is the youngest window.
top() { visible | sort -n | tail -1; }
press() { xdotool windowfocus --sync "$(top)" 2>/dev/null; xdotool key --clearmodifiers "$1"; }

open_job() { # file
  "$program" "$1" >"$work/window.log" 2>&1 &
  app=$!
  wait_windows -ge 1 || { bad "the window did not open: $(cat "$work/window.log")"; return 1; }
  main=$(visible | head -1)
  sleep 1.5
}
open_print() {
  xdotool windowfocus --sync "$main"
  xdotool key --clearmodifiers ctrl+p
  wait_windows -ge 2 || { bad "no dialog came"; return 1; }
  sleep 1
}
# Whether the window still answers: it closes when it is told to.
close_job() {
  check "$1: the window is alive" kill -0 $app
  xdotool windowfocus --sync "$main" 2>/dev/null
  xdotool key --clearmodifiers ctrl+w
  for i in $(seq 50); do kill -0 $app 2>/dev/null || break; sleep 0.1; done
  kill $app 2>/dev/null
  wait $app 2>/dev/null
  check "$1: no critical warning" sh -c "! grep CRITICAL '$work/window.log'"
}
print_from_window() { # name printer job x y
  local before file
  before=$(count $2)
  open_job "$3" || return
  if open_print; then
    shot "$1-dialog"
    press alt+p
    file=$(arrived $2 "$before") && check "$1" is_square "$(measure "$file")" $4 $5 || bad "$1: nothing arrived"
    shot "$1-sent"
  fi
  close_job "$1"
}

make_square "$work/letter.stickleback" letter 1.5 2
make_square "$work/landscape.stickleback" 11x8.5in 1.5 2

# --- The kind of printer is asked once ---
before=$(count ink)
open_job "$work/letter.stickleback"
if open_print; then
  press alt+p
  sleep 1.5
  wait_windows -ge 2
  shot kind
  check "nothing is sent before the kind of printer is told" test "$(count ink)" = "$before"
  press alt+i
  file=$(arrived ink "$before") && check "letter" is_square "$(measure "$file")" 1.5 2 || bad "letter: nothing arrived"
fi
close_job "letter"

lpadmin -p ink -o print-scaling-default=fit
print_from_window "letter on a queue whose default is fit" ink "$work/letter.stickleback" 1.5 2
lpadmin -p ink -R print-scaling-default
lpadmin -p ink -o fit-to-page-default=true
print_from_window "landscape on a queue whose default is fit-to-page" ink "$work/landscape.stickleback" 4.5 1.5
lpadmin -p ink -R fit-to-page-default

# --- A stop asks once more, and No is the answer that is at hand ---
"$program" new "$work/stop.stickleback" --paper=letter --replace >/dev/null
"$program" add "$work/stop.stickleback" "$(black)" --size=2in --border=0mm --guide=off >/dev/null
"$program" place "$work/stop.stickleback" black --at=0.9in,3in >/dev/null
before=$(count ink)
open_job "$work/stop.stickleback"
if open_print; then
  shot stop
  check "a question comes before the dialog" sh -c "! xdotool search --onlyvisible --name '^Print$' >/dev/null 2>&1"
  press Return
  wait_windows -eq 1
  check "Return does not print a stop" test "$(count ink)" = "$before"
fi
if open_print; then
  press alt+p
  for i in $(seq 50); do xdotool search --onlyvisible --name '^Print$' >/dev/null 2>&1 && break; sleep 0.1; done
  check "a second yes opens the dialog" sh -c "xdotool search --onlyvisible --name '^Print$' >/dev/null 2>&1"
  # GTK 4.8 warns when its dialog is closed while it still asks a printer for its papers.
  sleep 2
  press Escape
  wait_windows -eq 1
fi
close_job "stop"

# --- A paused queue is told in words ---
cupsdisable ink
before=$(count ink)
open_job "$work/letter.stickleback"
if open_print; then
  press alt+p
  sleep 1.5
  check "a paused queue is refused in a dialog" wait_windows -ge 2
  shot paused
  check "nothing went to the paused queue" test "$(lpstat -o ink | wc -l)" = 0
  press Escape
fi
close_job "paused"
cupsenable ink

# --- No print service: the dialog offers files only ---
CUPS_SERVER=$SB_LAB/nobody.sock open_job "$work/letter.stickleback"
if open_print; then
  shot no-service
  press Escape
  wait_windows -eq 1
fi
close_job "no service"
finish
