#!/usr/bin/env python3
"""A fixed piece of work takes no more instructions than is written down: check_instructions.py PROGRAM RECORD.

Counted by valgrind, so that neither load nor clock matters. More than 3 % above the record fails; more than 10 % below it asks
for a new record, so that what was won is not lost again."""
import re
import subprocess
import sys

MOST, LEAST = 1.03, 0.90


def main():
    program, record = sys.argv[1:]
    with open(record) as file:
        recorded = int([line for line in file if not line.startswith("#")][0])
    done = subprocess.run(["valgrind", "--tool=callgrind", "--callgrind-out-file=/dev/null", program], capture_output=True, text=True)
    found = re.search(r"Collected : (\d+)", done.stderr)
    if done.returncode or not found:
        sys.exit(f"instructions: valgrind could not count\n{done.stderr}")
    counted = int(found.group(1))
    print(f"instructions: {counted:,}, {100 * counted / recorded:.1f} % of the {recorded:,} written down")
    if counted > MOST * recorded:
        sys.exit("instructions: too many; find out why, or write down the new count with the reason in the commit")
    if counted < LEAST * recorded:
        sys.exit(f"instructions: fewer than before; write the new count into {record}")


main()
