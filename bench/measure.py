#!/usr/bin/python3
"""Runs a command with its output in a file and writes what it took to another
as JSON: seconds on the wall and of the processor, and the most memory in kB,
all of it ("peak") and what is its own ("own": without the pages of the program
file and the libraries, which the system shares and drops as it likes). Own is
looked at every 5 ms, so that a short peak may be missed. Linux."""

import json
import os
import sys
import threading
import time


def watch(pid, own):
    while True:
        try:
            with open("/proc/%d/status" % pid) as f:
                own[0] = max([own[0]] + [int(line.split()[1]) for line in f if line.startswith("RssAnon")])
        except OSError:
            return
        time.sleep(0.005)


def main(took, out, command):
    begin = time.monotonic()
    pid = os.fork()
    if pid == 0:
        os.dup2(os.open(out, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), 1)
        os.execvp(command[0], command)
    own = [0]
    threading.Thread(target=watch, args=(pid, own), daemon=True).start()
    _, status, used = os.wait4(pid, 0)
    wall = time.monotonic() - begin
    with open(took, "w") as f:
        json.dump({"wall": wall, "cpu": used.ru_utime + used.ru_stime, "peak": used.ru_maxrss, "own": own[0]}, f)
    sys.exit(os.waitstatus_to_exitcode(status))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3:])
