#!/bin/sh
# Gathers every text that the program shows into a template for translators: those of the source
# code, and those of its tables, which the program itself prints.
#
#   sh src/po/extract.sh BUILD TEMPLATE
#   msgmerge --update --no-wrap src/po/ja.po TEMPLATE     # then translate what is new
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$1
template=$2
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

"$build/yubifu" list-texts >"$work/tables.cpp"
cd "$root"
# It takes the ends of raw strings, which hold no texts to translate, for unfinished strings.
gather() {
  find src -name '*.cpp' -o -name '*.h' | LC_ALL=C sort |
    xgettext --language=C++ --from-code=UTF-8 --no-wrap --add-location=file --package-name=yubifu \
      --keyword --files-from=- --output="$template" "$@" 2>"$work/log" ||
    { cat "$work/log" >&2; exit 1; }
}
gather --keyword=message:1 --keyword=require:2 --keyword=catalogued:1 --keyword=kind:2 \
  "$work/tables.cpp"
gather --join-existing --keyword=kind:3  # one call takes one argument of a keyword
sed -i "s|^#: $work/tables.cpp|#: tables|; s| $work/tables.cpp| tables|" "$template"
