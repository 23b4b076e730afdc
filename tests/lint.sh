#!/bin/sh
# Runs clang-tidy, with the checks of .clang-tidy, over source files: those named, or those that the
# last commits changed. All of them take half an hour.
#
#   sh tests/lint.sh [FILE...]
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
commits=3
build="$root/build/lint"
. "$root/examples/packages.sh"

cd "$root"
install_packages clang clang-tidy
[ $# -gt 0 ] || set -- $(
  before=$(git rev-list --first-parent --max-count=$((commits + 1)) HEAD | tail -n 1)
  git diff --name-only --diff-filter=d "$before" HEAD -- 'src/*.cpp' ':!src/web'
)
if [ $# -eq 0 ]; then
  echo "nothing to look at"
  exit 0
fi
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++ \
  -DCMAKE_EXPORT_COMPILE_COMMANDS=ON -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON -DYUBIFU_TESTS=OFF \
  >/dev/null
printf '%s\n' "$@" | xargs -n 1 -P "$(nproc)" clang-tidy -p "$build" --quiet 2>/dev/null
echo "$# files without a finding"
