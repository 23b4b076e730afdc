#!/bin/sh
# Proves that the tunes of this folder have no faults, stand in the canonical layout, and are what
# the exported files say. Every fault is told; the status is 1 when there is one, 2 when something
# could not be read.
#
#   sh check.sh [PROGRAM]
set -u
yubifu=${1:-yubifu}
case $yubifu in
  */*) yubifu=$(cd "$(dirname "$yubifu")" && pwd)/$(basename "$yubifu") ;;
esac
cd "$(dirname "$0")" || exit 2

worst=0
prove() {
  "$yubifu" "$@"
  status=$?
  if [ "$status" -gt "$worst" ]; then worst=$status; fi
}

echo "== Faults of tunes and flutes, then of exports"
prove check tunes flutes
# Exports have no comments that could allow what a tune allows.
prove check exports --rule fast-leap=off

echo "== Layout"
prove tidy --check tunes

echo "== Exports against their tunes"
for tune in tunes/*.yubifu; do
  name=$(basename "$tune" .yubifu)
  prove compare "$tune" "exports/$name.musicxml"
  prove compare "$tune" "exports/$name.mid"
done

# The same findings for services that show them beside the lines of a pull request.
"$yubifu" check tunes flutes --report sarif >report.sarif

exit "$worst"
