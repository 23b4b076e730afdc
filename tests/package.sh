#!/bin/sh
# Makes the Debian package of a build, installs it by the recipe of examples/ci, uses what it brought,
# and removes it again. As root or with sudo; nothing stays behind. Everything of the build must be up
# to date. Where build/web has the page for browsers, it must be in the package.
#
#   package.sh BUILD_FOLDER
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=$(cd "$1" && pwd)
. "$root/examples/packages.sh"
install_packages dpkg-dev file groff-base man-db lintian

as_root=""
if [ "$(id -u)" -ne 0 ]; then as_root="sudo"; fi
fail() {
  echo "package.sh: $1" >&2
  exit 1
}
# holds TEXT PATTERN: some line of the text matches.
holds() { printf '%s\n' "$1" | grep -Eq -- "$2" || fail "no '$2' in:
$1"; }

if dpkg-query -W -f '${Status}' yubifu 2>/dev/null | grep -q 'ok installed'; then
  fail "a package yubifu is installed already; it is left alone"
fi

work=$(mktemp -d)
chmod 755 "$work" # the user under whom apt-get reads packages has to see it
installed=no
clean_up() {
  if [ "$installed" = yes ]; then $as_root dpkg --purge yubifu >/dev/null; fi
  rm -rf "$work"
}
trap clean_up EXIT

version=$(sed -n 's/^project(yubifu VERSION \([0-9.]*\).*/\1/p' "$root/CMakeLists.txt")

echo "-- the package"
cpack -G DEB --config "$build/CPackConfig.cmake" -B "$work/cpack" >"$work/cpack.log" 2>&1 || {
  cat "$work/cpack.log"
  fail "cpack failed"
}
deb=$(ls "$work"/cpack/*.deb)
info=$(dpkg-deb --info "$deb")
holds "$info" '^ Package: yubifu$'
holds "$info" '^ Section: sound$'
holds "$info" '^ Maintainer: yubifu developers <'
holds "$info" '^ Description: fingering numbers .{20,60}$'
holds "$info" '^  Players of the shinobue'
for library in libc6 libfmt libpugixml libsmf libzip libglib2.0 libutf8proc; do
  holds "$info" "^ Depends:.*$library"
done

contents=$(dpkg-deb --contents "$deb" | sed 's| \./| /|')
for path in bin/yubifu share/yubifu/flutes/lantern-procession.json \
  share/yubifu/schemas/score.schema.json share/bash-completion/completions/yubifu \
  share/zsh/vendor-completions/_yubifu share/fish/vendor_completions.d/yubifu.fish \
  share/man/man1/yubifu.1.gz share/doc/yubifu/README.md share/doc/yubifu/copyright \
  share/doc/yubifu/changelog.gz; do
  holds "$contents" " root/root .* /usr/$path\$"
done
web=no
if [ -e "$root/build/web/yubifu.html" ]; then
  web=yes
  for file in index.html page.js core_worker.js staff_worker.js service_worker.js yubifu.wasm \
    yubifu.html notices.txt; do
    holds "$contents" " root/root .* /usr/share/yubifu/web/$file\$"
  done
fi
odd=$(printf '%s\n' "$contents" |
  grep -Ev '^(drwxr-xr-x .*/|-rwxr-xr-x .* /usr/bin/yubifu|-rw-r--r-- .* /usr/share/.*)$' || true)
[ -z "$odd" ] || fail "unexpected in the package:
$odd"

# Not from the system: small ones leave documentation out when they install packages.
dpkg-deb --extract "$deb" "$work/files"
share="$work/files/usr/share"

echo "-- lintian"
lintian --allow-root --fail-on error "$deb" || fail "lintian finds errors"

for library in cxxopts nlohmann-json; do
  holds "$(cat "$share/doc/yubifu/copyright")" "^ $library: Copyright"
done

entry=$(gzip -dc "$share/doc/yubifu/changelog.gz" | dpkg-parsechangelog --file - 2>&1)
holds "$entry" "^Version: $version\$"
case $entry in *warning*) fail "$entry" ;; esac

echo "-- the manual page"
page="$share/man/man1/yubifu.1.gz"
warnings=$(gzip -dc "$page" | groff -man -K utf8 -ww -Tutf8 2>&1 >"$work/page.txt")
[ -z "$warnings" ] || fail "groff warns: $warnings"
warnings=$(LC_ALL=C.UTF-8 man --warnings -l "$page" 2>&1 >"$work/page.txt")
[ -z "$warnings" ] || fail "man warns: $warnings"
holds "$(cat "$work/page.txt")" '^YUBIFU CONVERT'

# The page that stands beside the program, wherever both were put.
expect_page() {
  if [ "$web" = yes ]; then
    holds "$("$1/bin/yubifu" help page)" "^  $1/share/yubifu/web/yubifu.html\$"
    cmp "$1/share/yubifu/web/yubifu.html" "$root/build/web/yubifu.html"
  else
    holds "$("$1/bin/yubifu" help page)" "'sh src/web/build.sh'"
  fi
}

echo "-- installed by the recipe of examples/ci"
cp -r "$root/examples/ci" "$work/tunes of the troupe"
clone="$work/tunes of the troupe"
rm -rf "$clone/reports"
mkdir "$clone/packages"
cp "$deb" "$clone/packages"
installed=yes
DEBIAN_FRONTEND=noninteractive sh "$clone/debian.sh" >"$work/recipe.log" 2>&1 || {
  cat "$work/recipe.log"
  fail "the recipe failed"
}
grep -q 'reed-boat.mid hold the same music' "$work/recipe.log" || fail "the recipe compared nothing"
for report in tunes.sarif tunes.xml reed-boat.mid.xml; do
  [ -s "$clone/reports/$report" ] || fail "there is no $report"
done
sed -i 's/六 1 2 1/六 1 3 1/' "$clone/tunes/reed-boat.yubifu"
status=0
sh "$clone/check.sh" >"$work/recipe.log" 2>&1 || status=$?
[ "$status" = 1 ] || fail "a tune changed without its exports ends with $status"

expect_page /usr
expect_page "$work/files/usr"
files=$(dpkg-query -L yubifu | grep -E '/[^/]*yubifu')
cd "$work"
yubifu=/usr/bin/yubifu
[ "$($yubifu --version)" = "yubifu $version" ] || fail "--version is not $version"
cp "$root/examples/scores/ferry-lanterns.yubifu" .
$yubifu convert ferry-lanterns.yubifu -o ferry-lanterns.musicxml
[ "$(grep -c '<lyric' ferry-lanterns.musicxml)" -gt 20 ] || fail "the staff has no fingering"
printf 'flute: /usr/share/yubifu/flutes/lantern-procession.json\n\nろ は に |=\n' >lanterns.yubifu
$yubifu convert lanterns.yubifu -o lanterns.mid
[ "$(head -c 4 lanterns.mid)" = MThd ] || fail "a flute that is installed gives no MIDI file"
$yubifu --language ja help | LC_ALL=C grep -q "$(printf '\343\201')" || fail "no hiragana in the help"
$yubifu schema flute | cmp - /usr/share/yubifu/schemas/flute.schema.json

echo "-- completion"
# completed CURRENT_WORD_AND_THOSE_BEFORE...: what bash offers for the last word.
completed() {
  bash --norc -c 'source /usr/share/bash-completion/completions/yubifu
    COMP_WORDS=(yubifu "$@") COMP_CWORD=$#
    _yubifu && echo "${COMPREPLY[*]}"' bash "$@"
}
expect_completed() {
  expected=$1
  shift
  [ "$(completed "$@")" = "$expected" ] || fail "bash completes '$*' with '$(completed "$@")'"
}
expect_completed "convert compare" co
expect_completed "--landscape" convert --land
expect_completed "musicxml mxl midi" convert --to m
expect_completed "lanterns.mid" convert lanterns.m
expect_completed "score" schema sc
if command -v zsh >/dev/null; then zsh -n "$share/zsh/vendor-completions/_yubifu"; fi
if command -v fish >/dev/null; then
  fish --no-config -n "$share/fish/vendor_completions.d/yubifu.fish"
fi

echo "-- removed"
$as_root dpkg --purge yubifu >"$work/purge.log" 2>&1
installed=no
for file in $files; do
  [ ! -e "$file" ] || fail "$file is still there"
done
echo "$(basename "$deb"), $(($(stat -c %s "$deb") / 1024)) KiB, installs, works and leaves nothing"
