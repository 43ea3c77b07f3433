#!/bin/sh
# Makes the demo's bitmaps, its two ready jobs and the README's picture of what arranging saves anew
# from the drawings in art/, with the program in build/. Run it after a drawing or the job's format
# changed, and commit what it makes; "make.sh PROGRAM waste" makes the picture alone and tells the
# figures. Needs rsvg-convert and ImageMagick.
set -eu
cd "$(dirname "$0")"
program=${1:-../../build/src/stickleback}

make_art() {
  # Some drawings come as a tablet would export them: 600 dpi with transparency.
  for name in radish tomato garlic pumpkin; do
    rsvg-convert --dpi-x 600 --dpi-y 600 "art/$name.svg" -o "art/$name.png"
    convert "art/$name.png" -units PixelsPerInch -density 600 -define png:exclude-chunks=date,time,tEXt \
      "art/$name.png"
  done
  # One comes as a photo of a painting on cream paper.
  rsvg-convert marigold-painting.svg -o marigold.png
  convert marigold.png -attenuate 0.12 -seed 7 +noise gaussian -units PixelsPerInch -density 500 -strip \
    -density 500 -quality 90 art/marigold.jpg
  rm marigold.png
}

add_designs() {
  job=$1
  shift
  rm -f "$job"
  "$program" new "$job" "$@" --gap=3mm
  for name in radish tomato garlic pumpkin; do
    "$program" add "$job" "art/$name.png" --border=2.5mm --nook=3mm --count=2
  done
  for name in carrot beetroot pea-pod sweetcorn aubergine basil rue seed-packet bumblebee \
    swallowtail ladybird; do
    "$program" add "$job" "art/$name.svg" --border=2.5mm --nook=3mm --count=2
  done
  "$program" add "$job" art/marigold.jpg --size=46mm --border=2.5mm --nook=3mm --count=2
  for name in seedling daisy raindrop bean mushroom clover; do
    "$program" add "$job" "art/$name.svg" --border=2mm --nook=2mm --freebie
  done
}
letter="--paper=letter --margins=3.05mm,3.05mm,12.7mm,3.05mm"

# What Arrange and Fill gaps save: the first page in straight rows, arranged, and filled.
shot() {
  "$program" export waste.stickleback "$1.png" --page=1 --dpi=60
  convert "$1.png" -bordercolor gray60 -border 1 -bordercolor white -border 6 "$1.png"
}
make_waste() {
  # shellcheck disable=SC2086
  add_designs waste.stickleback $letter
  "$program" arrange waste.stickleback --rows --seconds=5
  shot waste-1
  add_designs waste.stickleback $letter
  "$program" arrange waste.stickleback --seconds=20 --seed=1
  shot waste-2
  "$program" arrange waste.stickleback --seconds=5 --seed=1 --fill
  shot waste-3
  convert waste-1.png waste-2.png waste-3.png +append -colors 192 \
    -define png:exclude-chunks=date,time,tEXt waste.png
  rm -f waste-?.png waste.stickleback
}

make_job() {
  add_designs "$@"
  "$program" arrange "$1" --seconds=20 --seed=1 --fill
}

if [ "${2-}" != waste ]; then
  make_art
  # shellcheck disable=SC2086
  make_job seed-swap-letter.stickleback $letter
  make_job seed-swap-a4.stickleback --paper=a4 --margins=4.2mm
fi
make_waste
