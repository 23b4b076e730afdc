#!/bin/sh
# Prints how many instructions the main paths of the program take for a tune of 2,000 notes: unlike
# times, the counts are the same on a busy machine. Installs valgrind where it is missing.
#
#   sh tests/bench/count.sh
set -eu
. "$(dirname "$0")/setup.sh"
. "$root/examples/packages.sh"

install_packages valgrind
build yubifu bench_files
"$build/tests/bench/bench_files" "$work" 1 2000

# count SOURCE TARGET NOTES: instructions of one conversion
count() {
  valgrind --tool=callgrind --callgrind-out-file=/dev/null \
    "$build/yubifu" convert "$work/tune-$3.$1" -o "$work/out.$2" 2>&1 |
    sed -n 's/.*Collected : \([0-9]*\).*/\1/p'
}

printf '%-22s %14s %14s %10s\n' 'instructions' '2,000 notes' '1 bar' 'a note'
for path in yubifu:yubifu yubifu:musicxml yubifu:mid yubifu:json yubifu:svg musicxml:yubifu \
  musicxml:mid mid:yubifu json:yubifu; do
  source=${path%%:*}
  target=${path##*:}
  large=$(count "$source" "$target" 2000)
  small=$(count "$source" "$target" 1)
  printf '%-22s %14d %14d %10d\n' "$source to $target" "$large" "$small" \
    $(((large - small) / 2000))
done
