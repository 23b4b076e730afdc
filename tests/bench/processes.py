"""Runs programs and measures them: time from start to end, peak memory. As a script, prints the name
of the machine."""
import os
import statistics
import subprocess
import sys
import time


def run(command):
    """(seconds, peak memory in bytes) of one run; ends this program when the run fails."""
    begun = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - begun
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        sys.exit(f"{' '.join(map(str, command))}: status {process.returncode}")
    return seconds, usage.ru_maxrss * 1024


def median_of(commands, times=10):
    """The median seconds of each command, run in turn so that all see the same machine."""
    for command in commands:
        run(command)
    runs = [[run(command)[0] for command in commands] for _ in range(times)]
    return [statistics.median(column) for column in zip(*runs)]


def machine():
    with open("/proc/cpuinfo", encoding="utf-8") as info:
        names = [line.split(":")[1].strip() for line in info if line.startswith("model name")]
    return f"{names[0]}, {len(names)} cores" if names else "an unknown machine"


if __name__ == "__main__":
    print(machine())
