#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What every file owes: an SPDX line, its place in POTFILES, its template, a length that still has one subject.

usage: check-files.py SOURCE_ROOT
"""

import pathlib
import re
import subprocess
import sys

LONGEST = 800


def main():
    source = pathlib.Path(sys.argv[1])
    complaints = []
    sources = sorted((source / "src").rglob("*.[ch]"))

    # The calls that xgettext is told of (meson's preset for GLib), at a text of their own or at the domain's name.
    translatable = re.compile(r'(?<![A-Za-z0-9_])(?:_|N_|C_|NC_|ngettext|g_dngettext|g_dpgettext2?) ?\(\s*(?:GETTEXT_PACKAGE|")')
    comment = re.compile(r"/\*.*?\*/", re.DOTALL)
    potfiles = {
        line.strip() for line in (source / "po/POTFILES.in").read_text().splitlines() if line.strip() and not line.startswith("#")
    }
    for line in sorted(potfiles):
        if not (source / line).exists():
            complaints.append(f"po/POTFILES.in: {line} does not exist")
    for file in sources:
        name = str(file.relative_to(source))
        text = file.read_text(encoding="utf-8")
        if "SPDX-License-Identifier: GPL-3.0-or-later" not in text[:200]:
            complaints.append(f"{name}: no SPDX line")
        if translatable.search(comment.sub("", text)) and name not in potfiles:
            complaints.append(f"{name}: has words to translate and is not in po/POTFILES.in")
        if text.count("\n") > LONGEST:
            complaints.append(f"{name}: {text.count(chr(10))} lines, more than {LONGEST}: it has lost its subject")
        if name.endswith(".h") and "#pragma once" not in text:
            complaints.append(f"{name}: no #pragma once")

    templates = sorted((source / "ui").glob("*.ui"))
    for template in templates:
        name = str(template.relative_to(source))
        if "<template" in template.read_text(encoding="utf-8"):
            stem = f"wb-{template.stem}.c"
            if not any((source / "src" / room / stem).exists() for room in ("views", "widgets")):
                complaints.append(f"{name}: no src/views/{stem} beside it")
        if 'translatable="yes"' in template.read_text(encoding="utf-8") and name not in potfiles:
            complaints.append(f"{name}: has words to translate and is not in po/POTFILES.in")
        if subprocess.run(["xmllint", "--noout", str(template)]).returncode:
            complaints.append(f"{name}: not well-formed")

    if len(sources) < 20:
        complaints.append("hardly a source file was read: wrong folder?")
    print(f"{len(sources)} source files, {len(templates)} templates, {len(potfiles)} files to translate")
    for complaint in complaints:
        print(complaint)
    return 1 if complaints else 0


sys.exit(main())
