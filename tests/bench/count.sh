#!/bin/sh
# Prints how many instructions the main paths of the program take for a tune of 2,000 notes: unlike
# times, the counts are the same on a busy machine. Needs valgrind (installed here) and a build of
# the benchmarks.
#
#   sh tests/bench/count.sh
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build="${YUBIFU_BENCH_BUILD:-$root/build/bench}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
. "$root/examples/packages.sh"

install_packages valgrind
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DYUBIFU_BENCH=ON \
  -DYUBIFU_TESTS=OFF >/dev/null
cmake --build "$build" --target yubifu bench_files >/dev/null
"$build/tests/bench/bench_files" "$work" 1 2000

# count SOURCE TARGET NOTES: instructions of one conversion
count() {
  valgrind --tool=callgrind --callgrind-out-file=/dev/null \
    "$build/yubifu" convert "$work/tune-$3.$1" -o "$work/out.$2" 2>&1 |
    sed -n 's/.*Collected : \([0-9]*\).*/\1/p'
}

printf '%-24s %14s %14s %10s\n' 'instructions' '2,000 notes' '1 bar' 'a note'
for path in yubifu:yubifu yubifu:musicxml yubifu:mid yubifu:json yubifu:svg musicxml:yubifu \
  musicxml:mid mid:yubifu json:yubifu; do
  source=${path%%:*}
  target=${path##*:}
  large=$(count "$source" "$target" 2000)
  small=$(count "$source" "$target" 1)
  printf '%-24s %14d %14d %10d\n' "$source to $target" "$large" "$small" \
    $(((large - small) / 2000))
done
