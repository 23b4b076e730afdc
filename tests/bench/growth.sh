#!/bin/sh
# Counts the instructions that large inputs take at two lengths, one four times the other, and fails
# where the count grows with the square of the length. Unlike times, counts are the same on a busy
# machine. The inputs are those of tests that take their length from YUBIFU_SIZE. Installs valgrind
# where it is missing.
#
#   sh tests/bench/growth.sh [BUILD]        a build with tests; build/release without a word
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
build=${1:-$root/build/release}
. "$root/examples/packages.sh"
install_packages valgrind

short=5000
long=$((4 * short))
# Four times the work, a little more where something is sorted; the square would be sixteen times.
most=5.5

# count PROGRAM TEST LENGTH: instructions of one test
count() {
  LC_ALL=C.UTF-8 YUBIFU_SIZE=$3 valgrind --tool=cachegrind --cache-sim=no \
    --cachegrind-out-file=/dev/null "$build/tests/$1/${1}_test" --gtest_filter="$2" 2>&1 |
    sed -n 's/.*I *refs: *//p' | tr -d ,
}

printf '%-58s %14s %14s %8s\n' 'instructions, without those of the start' $short $long times
failed=0
while read -r program test; do
  start=$(count "$program" none $short)
  little=$(($(count "$program" "$test" $short) - start))
  much=$(($(count "$program" "$test" $long) - start))
  times=$(awk "BEGIN { printf \"%.2f\", $much / $little }")
  printf '%-58s %14d %14d %8s\n' "$test" "$little" "$much" "$times"
  if awk "BEGIN { exit !($times > $most) }"; then failed=1; fi
done <<'TESTS'
base SourceText.FindsThePlaceAndTheLineOfEveryWordOfOneLine
midi Hostile.NotesThatAreNeverEndedUnderAMovingWheel
midi Hostile.ManyWordsOnOneNote
midi Hostile.ManyOwners
midi Hostile.ManyNotesInEveryBeat
midi Hostile.ATempoAMeterAndAKeyOnEveryTick
midi Hostile.OneOpenNoteOnEachKeyStruckOverAndOver
midi Hostile.AMarkerAfterEachNoteAndBehindTheMusic
fingering CheapestPath.leads_through_a_long_melody
fingering Property.a_long_melody_is_fingered_to_its_end
check Comparison.FindsTheTwoNotesThatALongScoreLacks
page Layout.GrowsWithTheScore
page Book.GrowsWithItsTunes
TESTS
if [ $failed = 1 ]; then
  echo "growth.sh: the work of a test grows with the square of its input" >&2
  exit 1
fi
