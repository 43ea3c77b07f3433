#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What a virtual printer does with a document: keeps it, with its number, under the printer's name.
folder=$SB_LAB/received/$SB_PRINTER
number=$(ls "$folder" | wc -l)
case $CONTENT_TYPE in
application/pdf) ending=pdf ;;
image/pwg-raster) ending=pwg ;;
image/urf) ending=urf ;;
*) ending=bin ;;
esac
cp "$1" "$folder/.new" && mv "$folder/.new" "$folder/$(printf %03d "$number").$ending"
