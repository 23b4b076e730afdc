#!/bin/sh
# Installs what the program needs, builds it, and does the main job both ways on an example.
# May be run again. Use: sh examples/quickstart.sh
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build="$root/build/release"
results="$root/build/quickstart"
. "$root/examples/packages.sh"

# shellcheck disable=SC2086  # a list of words
install_packages $build_packages

echo "== Building yubifu"
# shellcheck disable=SC2086  # a list of words
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release $whole_build \
  -DYUBIFU_TESTS=OFF -DYUBIFU_WERROR="${YUBIFU_WERROR:-OFF}" >/dev/null
cmake --build "$build" --target yubifu
yubifu="$build/yubifu"
mkdir -p "$results"

echo
echo "== A fingering score for the flute of size 6 ..."
cat "$root/examples/scores/ferry-lanterns.yubifu"
echo
echo "== ... becomes a staff with the fingering under it, and a MIDI file to listen to"
"$yubifu" convert "$root/examples/scores/ferry-lanterns.yubifu" -o "$results/ferry-lanterns.musicxml"
"$yubifu" convert "$root/examples/scores/ferry-lanterns.yubifu" -o "$results/ferry-lanterns.mid"
grep -c '<lyric' "$results/ferry-lanterns.musicxml" | sed 's/$/ lyrics (fingering and song text) in the staff file/'

echo
echo "== A staff melody becomes fingering for the flute of size 7"
"$yubifu" convert "$root/examples/scores/mill-stream.musicxml" --flute 7 --octave auto \
  -o "$results/mill-stream.yubifu"
cat "$results/mill-stream.yubifu"

echo
echo "The program is $yubifu"
echo "The results are in $results"
