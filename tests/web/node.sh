#!/bin/sh
# Uses the package for Node.js as a stranger would, without a network: its command and its module in
# an empty folder, then the recipe of examples/ci.
#
#   node.sh [OUT]      OUT: what src/web/build.sh made, build/web without it
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
out=$(cd "${1:-$root/build/web}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export LC_ALL=C.UTF-8
unset NO_COLOR LANGUAGE
fail() {
  echo "node.sh: $1" >&2
  exit 1
}
# holds TEXT PATTERN: some line of the text matches.
holds() { printf '%s\n' "$1" | grep -Eq -- "$2" || fail "no '$2' in:
$1"; }
# ends STATUS COMMAND...: what the command says stands in $said.
ends() {
  expected=$1
  shift
  status=0
  said=$("$@" 2>&1) || status=$?
  [ "$status" = "$expected" ] || fail "'$*' ends with $status: $said"
}

echo "-- installed into an empty folder"
mkdir "$work/笛 の 譜"
cd "$work/笛 の 譜"
cp "$out"/yubifu-*.tgz .
cp -r "$root/examples/ci/tunes" "$root/examples/ci/exports" "$root/examples/ci/flutes" .
ends 0 npm install --no-audit --no-fund --offline ./yubifu-*.tgz
[ "$(ls node_modules)" = yubifu ] || fail "it brought more than itself: $(ls node_modules)"
npx --no-install yubifu check tunes && npx --no-install yubifu compare tunes/reed-boat.yubifu exports/reed-boat.mid
sed -i 's/六 1 2 1/六 1 3 1/' tunes/reed-boat.yubifu
ends 1 npx --no-install yubifu compare tunes/reed-boat.yubifu exports/reed-boat.mid
holds "$said" '^tunes/reed-boat.yubifu:7:[0-9]+: error: bar 3, beat 3: '

echo "-- names, pipes and terminals"
yubifu=node_modules/.bin/yubifu
cp tunes/reed-boat.yubifu "舟 の 歌.yubifu"
ends 0 $yubifu convert "舟 の 歌.yubifu" -o "舟 の 歌.mid"
$yubifu convert - --to midi <"舟 の 歌.yubifu" | cmp - "舟 の 歌.mid" || fail "a pipe changes the file"
ends 2 $yubifu check "波 の 歌.yubifu"
holds "$said" '^波 の 歌.yubifu: error: .*No such file'
ends 0 $yubifu check tunes --jobs 8
# More than a pipe holds, for a reader who is late.
$yubifu check tunes --report sarif >whole
[ "$(wc -c <whole)" -gt 70000 ] || fail "this is too short to fill a pipe"
mkfifo pipe late
$yubifu check tunes --report sarif >pipe &
{ cat late >/dev/null && cat; } <pipe | cmp - whole &
compared=$!
echo now >late
wait $compared || fail "a late reader gets another report"
ends 0 sh -c "$yubifu check tunes --report sarif | head -c 1 >taken"
mkfifo typed
$yubifu convert - --to text <typed >/dev/null &
waiting=$!
exec 3>typed
kill -TERM $waiting
status=0
wait $waiting || status=$?
exec 3>&-
[ "$status" = 143 ] || fail "it ends with $status when it is told to"
printf 'flute: 6\n\n三 い 五 |=\n' >fault.yubifu
coloured=$(script -qec "$yubifu check fault.yubifu" /dev/null || true)
holds "$coloured" "$(printf '\033')\\["
coloured=$(NO_COLOR=1 script -qec "$yubifu check fault.yubifu" /dev/null || true)
case $coloured in *"$(printf '\033')"*) fail "colours in spite of NO_COLOR" ;; esac

echo "-- what it has not, it says"
ends 2 $yubifu convert "舟 の 歌.yubifu" -o page.pdf
holds "$said" 'built without librsvg and cairo, which make PDF'
[ ! -e page.pdf ] || fail "a PDF was begun"
ends 0 $yubifu help page
holds "$said" '^The package for Node.js does not hold it'

echo "-- the module and its types"
cat >use.mts <<'END'
import { run, start, type Answer, type Program } from "yubifu";

const tune = new TextEncoder().encode("flute: 6\n\n三 四 |=\n");
const answer: Answer = await run(["convert", "a.yubifu", "-o", "a.mid"], new Map([["a.yubifu", tune]]));
const program: Program = await start({ LC_ALL: "ja_JP.UTF-8" });
console.log(answer.status, answer.files.get("a.mid")?.length, program.run(["check", "no.mid"]).messages);
END
"$root/src/web/node_modules/.bin/tsc" --strict --target es2022 --lib es2022,dom --module nodenext use.mts
ends 0 node use.mjs
holds "$said" '^0 [0-9]+ no.mid: .*そのような'

echo "-- the recipe"
mkdir "$work/clone"
cp -r "$root/examples/ci/." "$work/clone"
rm -rf "$work/clone/reports"
mkdir "$work/clone/packages"
cp "$out"/yubifu-*.tgz "$work/clone/packages"
ends 0 sh "$work/clone/node.sh"
for report in tunes.sarif tunes.xml reed-boat.mid.xml; do
  [ -s "$work/clone/reports/$report" ] || fail "there is no $report"
done
cp tunes/reed-boat.yubifu "$work/clone/tunes"
ends 1 sh "$work/clone/node.sh"
holds "$said" '^tunes/reed-boat.yubifu:7:'
holds "$(cat "$work/clone/reports/reed-boat.mid.xml")" '<failure'
echo "$(basename "$out"/yubifu-*.tgz), $(($(stat -c %s "$out"/yubifu-*.tgz) / 1024)) KiB, installs and works under Node.js $(node --version)"
