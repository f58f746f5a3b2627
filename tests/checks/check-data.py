#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""check-data.py SOURCE BUILD: what the desktop reads about the program, held to the desktop's own validators.

Sources: freedesktop.org's Desktop Entry, AppStream, Shared MIME-info and Icon Theme specifications, through
desktop-file-validate, appstreamcli, update-mime-database and glib-compile-schemas.
"""
import pathlib
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

ID = "org.wickbench.Wickbench"
complaints = []


def run(*command):
    done = subprocess.run([str(word) for word in command], capture_output=True, text=True)
    told = (done.stdout + done.stderr).strip()
    if done.returncode:
        complaints.append(f"{command[0]}: {told}")
    return told


def check_mime(source, known_icons):
    with tempfile.TemporaryDirectory() as folder:
        packages = pathlib.Path(folder, "packages")
        packages.mkdir()
        shutil.copy(source, packages / f"{ID}.xml")
        run("update-mime-database", folder)
        globs = pathlib.Path(folder, "globs2")
        if not globs.exists() or "application/x-wickbench:*.wickbench" not in globs.read_text():
            complaints.append(f"{source}: files that end in .wickbench are not known")
    for icon in tree.parse(source).iter("{http://www.freedesktop.org/standards/shared-mime-info}icon"):
        if icon.get("name") not in known_icons:
            complaints.append(f"{source}: there is no icon {icon.get('name')}")


def main(top, build):
    data = top / "data"
    icons = {path.stem for path in (top / "icons").rglob("*.svg")}
    desktop = build / "data" / f"{ID}.desktop"
    told = run("desktop-file-validate", desktop)
    if told and not complaints:
        complaints.append(f"desktop-file-validate: {told}")
    run("appstreamcli", "validate", "--no-net", "--pedantic", build / "data" / f"{ID}.metainfo.xml")
    run("glib-compile-schemas", "--strict", "--dry-run", data)
    check_mime(data / f"{ID}.mime.xml", icons)
    if ID not in icons:
        complaints.append(f"icons: there is no icon {ID}")
    types = [line for line in desktop.read_text().splitlines() if line.startswith("MimeType=")]
    if types != ["MimeType=application/x-wickbench;"]:
        complaints.append(f"{desktop}: it opens {types}, not the notebook's own type")
    for complaint in complaints:
        print(complaint, file=sys.stderr)
    print(f"desktop entry, metainfo, schema, MIME type, {len(icons)} icons")
    return 1 if complaints else 0


sys.exit(main(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])))
