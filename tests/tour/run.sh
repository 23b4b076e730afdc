#!/bin/sh
# Runs the tour of README.md and README.ja.md, and draws their pictures anew, which must be those
# that are kept. With --write, keeps what comes out.
#
#   sh tests/tour/run.sh [--write] BUILD
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
write=""
if [ "$1" = --write ]; then write=$1; shift; fi
build=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

# shellcheck disable=SC2086  # empty or one word
python3 "$here/check_tour.py" $write "$build/yubifu" "$root"/README*.md

tune="$root/examples/scores/ferry-lanterns.yubifu"
"$build/yubifu" convert "$tune" --scale 2.5 --landscape -o "$work/ferry-lanterns.svg" 2>"$work/log"
"$build/yubifu" convert "$tune" -o "$work/staff.musicxml" 2>>"$work/log"
# The packages of tests/oracles, which has run before.
node "$here/staff_picture.mjs" "$build/oracle-packages/node_modules" "$work/staff.musicxml" \
  "$work/ferry-lanterns-staff.svg"
for picture in "$work"/*.svg; do
  kept="$root/examples/pictures/$(basename "$picture")"
  if [ -n "$write" ]; then
    mkdir -p "$root/examples/pictures"
    cp "$picture" "$kept"
  fi
  cmp "$picture" "$kept" || { echo "$kept is not what the program draws now" >&2; exit 1; }
done
echo "the pictures are those of today"
