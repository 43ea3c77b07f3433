#!/bin/sh
# Runs a command on a screen of its own. Without MIT-SHM a full redraw of the software renderer
# costs a fifth; keys do not repeat, or a slow program would see a short press as several. Exit status
# 77 (skipped) where there is no Xvfb.
if ! command -v xvfb-run >/dev/null || ! command -v xdotool >/dev/null; then
  echo "with-screen.sh: xvfb-run and xdotool are needed"
  exit 77
fi
# Without GL its drivers stay unloaded, which leak a little of their own.
[ "${GSK_RENDERER:-}" = gl ] || export GDK_DEBUG=gl-disable
exec xvfb-run -a -s "-screen 0 ${SCREEN:-1600x1000}x24 -extension MIT-SHM -r -noreset" "$@"
