#!/bin/sh
# Installs what Stickleback needs, builds it and opens the demo: the seed-swap stall of Radish & Rue.
# Without a display it writes the demo's pages, proof and pictures instead and says where.
set -eu
cd "$(dirname "$0")/../.."
sh data/install-needed.sh build

echo "Building Stickleback in the folder build ..."
log=$(mktemp)
if ! { [ -f build/build.ninja ] || meson setup build; } >"$log" 2>&1 || ! ninja -C build >"$log" 2>&1; then
  tail -40 "$log" >&2
  echo "Stickleback could not be built; the whole log is $log" >&2
  exit 1
fi
rm -f "$log"

program=build/src/stickleback

if [ -n "${WAYLAND_DISPLAY:-}" ] || [ -n "${DISPLAY:-}" ]; then
  # A copy, so that playing with it leaves the demo as it was.
  copy=$(mktemp -d)/seed-swap.stickleback
  cp data/demo/seed-swap-letter.stickleback "$copy"
  exec "$program" "$copy"
fi

out=build/demo
mkdir -p "$out"
echo "There is no display to open a window on, so the demo is written to files:"
for paper in letter a4; do
  job=data/demo/seed-swap-$paper.stickleback
  "$program" export "$job" "$out/seed-swap-$paper.pdf"
  "$program" export "$job" "$out/seed-swap-$paper.png" --page=1 --dpi=150
  # The proof says by its exit status that something stops; the demo wants its lines either way.
  "$program" proof "$job" >"$out/seed-swap-$paper-proof.txt" || [ $? -eq 1 ]
  "$program" figures "$job" >"$out/seed-swap-$paper-figures.txt"
done
for file in "$out"/*; do
  echo "  $PWD/$file"
done
