#!/bin/sh
# Installs what the tests need, builds, and runs every test. May be run again; only what changed is
# built anew. Use: sh tests/run.sh
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build="$root/build/release"
. "$root/examples/packages.sh"

# shellcheck disable=SC2086  # lists of words
install_packages $build_packages libgtest-dev libgmock-dev libbenchmark-dev libxml2-utils midicsv fonts-ipafont-gothic \
  clang-format python3 python3-jsonschema python3-mido python3-numpy sox libsox-fmt-base aubio-tools
# Node.js may come from elsewhere than Debian, where the two packages would not fit beside it.
command -v npm >/dev/null || install_packages nodejs npm

echo "== Layout of the source"
git -C "$root" ls-files 'src/*.h' 'src/*.cpp' 'tests/*.h' \
  'tests/*.cpp' |
  (cd "$root" && xargs clang-format --dry-run -Werror)

echo "== Build"
# shellcheck disable=SC2086  # a list of words
cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release $whole_build \
  -DYUBIFU_TESTS=ON -DYUBIFU_WERROR="${YUBIFU_WERROR:-OFF}" >/dev/null
cmake --build "$build"

echo "== Unit and property tests"
(cd "$build" && ctest --output-on-failure --parallel "$(nproc)")

echo "== Independent readers and official schemas"
sh "$root/tests/oracles/run.sh" "$build"

echo "== Translations"
sh "$root/tests/translations/run.sh" "$build"

echo "== The grammar for editors"
sh "$root/tests/editor/run.sh" "$build"

echo "== The tour of the README and its pictures"
sh "$root/tests/tour/run.sh" "$build"

echo "The page has tests of its own: sh src/web/build.sh, then sh tests/web/run.sh build/release"
