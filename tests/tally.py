"""Counts single tests in the logs of `meson test`: tally.py BUILDS_THAT_FAILED FOLDER...

A program that reports in TAP (cmocka does, and scripts may) counts for each of its "ok" and
"not ok" lines, those it skipped apart; one that failed without such a line, or says nothing, counts
as one test.
"""
import json
import os
import re
import sys

LINE = re.compile(r"^(not )?ok\b(?: \d+)?(?: - )?(.*)$", re.MULTILINE)
SKIP = re.compile(r"# SKIP\b", re.IGNORECASE)


def counted(record):
    """Names of the passed, the failed and the skipped single tests of one program."""
    text = (record.get("stdout") or "") + "\n" + (record.get("stderr") or "")
    passed, failed, skipped = [], [], []
    for bad, name in LINE.findall(text):
        kept = skipped if SKIP.search(name) else failed if bad else passed
        kept.append(name.strip())
    good = record["result"] in ("OK", "EXPECTEDFAIL")
    if good and not passed and not failed and not skipped:
        passed.append(record["name"])
    if not good and not failed:
        failed.append("%s, ended by %s" % (record["name"], record["result"]))
    return passed, failed, skipped


def main(unbuilt, folders):
    all_passed, all_failed = 0, unbuilt
    for folder in folders:
        path = os.path.join(folder, "meson-logs", "testlog.json")
        if not os.path.exists(path):
            print("%s: no tests were run" % folder)
            continue
        passed = failed = skipped = 0
        with open(path, encoding="utf-8") as log:
            for line in log:
                record = json.loads(line)
                good, bad, left = counted(record)
                passed, failed = passed + len(good), failed + len(bad)
                skipped += len(left)
                for name in bad:
                    print("FAILED in %s: %s: %s" % (folder, record["name"], name))
        print("%s: %d passed, %d failed, %d skipped" % (folder, passed, failed, skipped))
        all_passed, all_failed = all_passed + passed, all_failed + failed
    print("%d passed, %d failed" % (all_passed, all_failed))
    return 1 if all_failed or not all_passed else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), sys.argv[2:]))
