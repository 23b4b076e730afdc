#!/bin/sh
# Builds the benchmarks and prints their table: medians of ten runs in one process, then whole runs
# of the program. The runs of all benchmarks are mixed, since what one leaves on the heap makes the
# next one faster or slower. Needs what tests/run.sh installs.
#
#   sh tests/bench/table.sh [FILTER]        FILTER as --benchmark_filter takes it
set -eu
. "$(dirname "$0")/setup.sh"

build yubifu yubifu_bench bench_files reading_memory
python3 -B "$here/processes.py"
"$build/tests/bench/yubifu_bench" --benchmark_filter="${1:-.}" --benchmark_repetitions=10 \
  --benchmark_enable_random_interleaving=true \
  --benchmark_min_time=0.01 --benchmark_report_aggregates_only=true --benchmark_format=json \
  2>/dev/null | python3 -B "$here/table.py"
"$build/tests/bench/reading_memory"
echo
"$build/tests/bench/bench_files" "$work" 2000 20000
python3 -B "$here/whole_program.py" "$build/yubifu" "$work" 2000 20000
