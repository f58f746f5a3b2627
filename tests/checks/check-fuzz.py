#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every public function of calc is called by the fuzz program.

usage: check-fuzz.py SOURCE_ROOT
"""

import pathlib
import re
import sys


def main():
    source = pathlib.Path(sys.argv[1])
    fuzz = "".join(file.read_text() for file in sorted((source / "tests/calc").glob("calc-fuzz*.c")))
    functions = []
    for header in sorted((source / "src/calc").glob("wb-calc-*.h")):
        if header.name.endswith("-private.h"):
            continue
        text = re.sub(r"/\*.*?\*/", "", header.read_text(encoding="utf-8"), flags=re.S)
        functions += [(header.name, name) for name in re.findall(r"\b(wb_calc_\w+)\s*\(", text)]
    missing = [f"{header}: {name} is not called in tests/calc/calc-fuzz*.c" for header, name in functions if f"{name} (" not in fuzz]
    if len(functions) < 40:
        missing.append("hardly a function was read: wrong folder?")
    print(f"{len(functions)} public functions of calc")
    for complaint in missing:
        print(complaint)
    return 1 if missing else 0


sys.exit(main())
