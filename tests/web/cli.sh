#!/bin/sh
# Runs the tests of the command line on the package for Node.js, but for those in differences.txt:
# of these each must have its reason, and still differ. With YUBIFU_EVERY=N only each Nth of the
# others is run: all take as long as ten thousand starts of the program.
#
#   cli.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=$(cd "$1" && pwd)
tests=$build/tests/cli/cli_test
# Under the name that shells complete, as npm installs it.
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
ln -s "$root/build/web/node/yubifu.mjs" "$folder/yubifu"
export LC_ALL=C.UTF-8 YUBIFU_PROGRAM="$folder/yubifu"

listed=$(grep -v '^#' "$here/differences.txt" || true)
if echo "$listed" | grep . | grep -vE '^[A-Za-z]+\.[A-Za-z0-9_]+: .{10,}$' >&2; then
  echo "lines of differences.txt without a test or a reason" >&2
  exit 1
fi
names=$(echo "$listed" | cut -d: -f1)

for name in $names; do
  if "$tests" --gtest_brief=1 --gtest_filter="$name" >/dev/null 2>&1; then
    echo "$name passes: it needs no line in differences.txt" >&2
    exit 1
  fi
done
# Two at a time: each test waits for the program most of its time.
shards=$((2 * ${YUBIFU_EVERY:-1}))
shard() {
  GTEST_TOTAL_SHARDS=$shards GTEST_SHARD_INDEX=$1 "$tests" --gtest_brief=1 \
    --gtest_filter="-$(echo "$names" | paste -sd: -)"
}
shard 0 &
first=$!
shard 1
wait $first
echo "$(echo "$names" | wc -w) tests differ for the reasons in differences.txt"
