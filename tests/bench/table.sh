#!/bin/sh
# Builds the benchmarks and prints their table: medians of ten runs in one process, then whole runs
# of the program. Needs what tests/run.sh installs.
#
#   sh tests/bench/table.sh [FILTER]        FILTER as --benchmark_filter takes it
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build="${YUBIFU_BENCH_BUILD:-$root/build/bench}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DYUBIFU_BENCH=ON \
  -DYUBIFU_TESTS=OFF >/dev/null
cmake --build "$build" --target yubifu yubifu_bench bench_files >/dev/null

python3 -B -c 'import sys; sys.path.insert(0, sys.argv[1]); import processes
print(processes.machine())' "$here"
"$build/tests/bench/yubifu_bench" --benchmark_filter="${1:-.}" --benchmark_repetitions=10 \
  --benchmark_min_time=0.01 --benchmark_report_aggregates_only=true --benchmark_format=json \
  2>/dev/null | python3 -B "$here/table.py"
echo
"$build/tests/bench/bench_files" "$work" 2000 20000
python3 -B "$here/whole_program.py" "$build/yubifu" "$work" 2000 20000
