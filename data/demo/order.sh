#!/bin/sh
# The demo's order: 40 packs of five designs with header and backing cards, and 20 sticker sheets. Lays
# it, writes its papers beside it and tells pages, counts and cost:
#   sh data/demo/order.sh [PROGRAM [FOLDER]]
# The prices are invented, as the stall is.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
program=${1:-$here/../../build/src/stickleback}
out=${2:-$here/../../build/demo}
mkdir -p "$out"
job=$out/fair-order.stickleback
cp "$here/seed-swap-letter.stickleback" "$job"
"$program" sheet "$job" "Garden sheet" --size=4x6 --with=seedling=2 --with=daisy=2 --with=raindrop=2 \
  --with=bean=2 --with=mushroom=2 --with=clover=2 --title="Garden sheet" --maker="Radish & Rue"
"$program" card "$job" Header --bag=4in --folded=1.5in --front="Harvest pack" --back="Radish & Rue"
"$program" card "$job" Backing --inside=98x152mm
exec "$program" order "$job" --currency=USD \
  --pack="Harvest pack=40:radish,tomato,garlic,carrot,rue,Header,Backing" --single="Garden sheet=20" \
  --rate=stock-price=12.50 --rate=stock-sheets=20 --rate=card-price=9 --rate=card-sheets=50 \
  --rate=ink-price=48 --rate=ink-yield=240 --rate=bag-price=0.06 --rate=staple-price=0.004 \
  --rate=wage=15 --rate=stall=20 --rate=card-fee=2.5 --rate=pack-asked=5 --rate=sheet-asked=4 \
  --text=title="Harvest set" --text=maker="Radish & Rue" --text=batch=R-1 \
  --lay --seconds=20 --tick-list="$out/tick-list.pdf" --slip="$out/packing-slip.pdf" \
  --csv="$out/fair-order.csv"
