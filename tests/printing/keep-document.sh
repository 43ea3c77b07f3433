#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What a virtual printer does with a document: keeps it, with its number, under the printer's name,
# and beside it in tickets/ what the job asked for (IPP_MEDIA, IPP_COPIES and so on).
folder=$SB_LAB/received/$SB_PRINTER
number=$(ls "$folder" | wc -l)
case $CONTENT_TYPE in
application/pdf) ending=pdf ;;
image/pwg-raster) ending=pwg ;;
image/urf) ending=urf ;;
*) ending=bin ;;
esac
env | grep '^IPP_' >"$SB_LAB/tickets/$SB_PRINTER/$(printf %03d "$number")"
cp "$1" "$folder/.new" && mv "$folder/.new" "$folder/$(printf %03d "$number").$ending"
