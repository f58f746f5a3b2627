#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Lists skipped tests of a meson run and fails on one that is not explained, then counts what ran.

usage: skips.py TESTLOG_JSON EXPLAINED

A line of EXPLAINED is a test's path, a tab, and why it may be skipped.
"""

import json
import pathlib
import re
import sys


def main():
    lines = pathlib.Path(sys.argv[2]).read_text(encoding="utf-8").splitlines()
    explained = {line.split("\t")[0] for line in lines if line.strip() and not line.startswith("#")}
    passed = failed = skipped = unexplained = 0
    for line in pathlib.Path(sys.argv[1]).read_text(encoding="utf-8").splitlines():
        run = json.loads(line)
        cases = re.findall(r"^(ok|not ok) \d+ (\S+)(.*)$", run.get("stdout", ""), re.MULTILINE)
        if not cases:
            cases = [("ok" if run["result"] in ("OK", "EXPECTEDFAIL") else "skip" if run["result"] == "SKIP" else "not ok", run["name"], "")]
        for result, name, rest in cases:
            if result == "skip" or re.search(r"#\s*SKIP", rest, re.IGNORECASE):
                skipped += 1
                if name not in explained:
                    unexplained += 1
                    print(f"skipped without an explanation in {sys.argv[2]}: {name}{rest}")
            elif result == "ok":
                passed += 1
            else:
                failed += 1
    print(f"{passed} passed, {failed} failed, {skipped} skipped")
    return 1 if failed or unexplained or not passed else 0


sys.exit(main())
