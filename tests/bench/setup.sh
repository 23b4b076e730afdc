# Sourced by the scripts of this folder: a folder for files, and a build of the benchmarks. With
# YUBIFU_BENCH_BUILD that build is taken instead of one of its own.
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build="${YUBIFU_BENCH_BUILD:-$root/build/bench}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# build TARGET...
build() {
  [ -f "$build/CMakeCache.txt" ] ||
    cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DYUBIFU_BENCH=ON \
      -DYUBIFU_TESTS=OFF >/dev/null
  cmake --build "$build" --target "$@" >/dev/null
}
