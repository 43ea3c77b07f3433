#!/bin/sh
# Installs the Debian packages that are asked for and not there yet. Called by the two commands of
# the README:  sh data/install-needed.sh build|tests
set -eu

build='build-essential pkg-config meson ninja-build gettext itstool desktop-file-utils
libglib2.0-dev libglib2.0-bin libgtk-4-dev librsvg2-dev libcairo2-dev libpango1.0-dev libpng-dev
libgdk-pixbuf-2.0-dev liblcms2-dev libjson-glib-dev libarchive-dev libcups2-dev libqpdf-dev zlib1g-dev
adwaita-icon-theme librsvg2-common fonts-cantarell fonts-dejavu-core'
tests="$build check libgeos-dev xvfb xauth xdotool xclip dbus at-spi2-core python3-gi gir1.2-atspi-2.0
imagemagick poppler-utils qpdf librsvg2-bin cups cups-client cups-filters cups-ipp-utils libxml2-utils
zip unzip appstream procps libcupsimage2-dev"

case "${1:-build}" in
build) wanted=$build ;;
tests) wanted=$tests ;;
*)
  echo "usage: sh data/install-needed.sh build|tests" >&2
  exit 2
  ;;
esac

if ! command -v dpkg-query >/dev/null 2>&1 || ! command -v apt-get >/dev/null 2>&1; then
  echo "This is not a Debian system, so nothing is installed by itself. Stickleback needs what these"
  echo "Debian packages hold:" $wanted
  exit 0
fi

missing=
for package in $wanted; do
  case "$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)" in
  'install ok installed') ;;
  *) missing="$missing $package" ;;
  esac
done
[ -n "$missing" ] || exit 0

echo "Installing these Debian packages:$missing"
as_root=
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo >/dev/null 2>&1; then
    echo "They can only be installed as root, and sudo is not there. As root, run:" >&2
    echo "  apt-get install$missing" >&2
    exit 1
  fi
  as_root=sudo
fi
if ! $as_root apt-get update -qq ||
  ! $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null; then
  echo "apt-get could not install them; see its message above." >&2
  exit 1
fi
