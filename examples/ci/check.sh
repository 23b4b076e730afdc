#!/bin/sh
# Proves that the tunes of this folder have no faults, stand in the canonical layout, and are what
# the exported files say. Every fault is told; the status is 1 when there is one, 2 when something
# could not be read. The folder reports gets the same findings for services that show them: SARIF
# beside the lines of a pull request, JUnit among the tests.
#
#   sh check.sh [PROGRAM]     the native program, or node_modules/.bin/yubifu
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
rm -rf reports
mkdir reports
for tune in tunes/*.yubifu; do
  name=$(basename "$tune" .yubifu)
  for export in "exports/$name.musicxml" "exports/$name.mid"; do
    prove compare "$tune" "$export"
    "$yubifu" compare "$tune" "$export" --report junit >"reports/${export##*/}.xml" 2>/dev/null
  done
done
"$yubifu" check tunes flutes --report sarif >reports/tunes.sarif 2>/dev/null
"$yubifu" check tunes flutes --report junit >reports/tunes.xml 2>/dev/null

exit "$worst"
