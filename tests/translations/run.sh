#!/bin/sh
# Proves the message catalogues: nothing the program can say is missing in one, nothing in one is
# left over, every translation takes the same values as its English text, and findings have no
# words that are kept from the catalogues.
#
#   sh tests/translations/run.sh BUILD
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

python3 -B "$here/check_findings.py" "$root/src"
sh "$root/src/po/extract.sh" "$build" "$work/yubifu.pot"
for catalogue in "$root"/src/po/*.po; do
  msgfmt --check --output-file=/dev/null "$catalogue"
  msgcmp "$catalogue" "$work/yubifu.pot"
  msgfmt --output-file="$work/yubifu.mo" "$catalogue"
  python3 "$here/check_catalogue.py" "$work/yubifu.mo" "$catalogue" "$work/yubifu.pot"
done
