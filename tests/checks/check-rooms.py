#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Who may know whom: reads every #include of src/ and the undefined symbols of each room's archive.

usage: check-rooms.py SOURCE_ROOT BUILD_ROOT
"""

import configparser
import pathlib
import re
import subprocess
import sys

# Shared libraries by the name used in rooms.ini; what they export is asked of the libraries themselves.
LIBRARIES = {
    "glib": ["libglib-2.0.so.0"],
    "gobject": ["libgobject-2.0.so.0"],
    "gio": ["libgio-2.0.so.0"],
    "sqlite3": ["libsqlite3.so.0"],
    "nettle": ["libnettle.so.8"],
    "cholmod": ["libcholmod.so.3"],
    "gsl": ["libgsl.so.27", "libgslcblas.so.0"],
    "cairo": ["libcairo.so.2"],
    "pango": ["libpango-1.0.so.0", "libpangocairo-1.0.so.0"],
    "gdk-pixbuf": ["libgdk_pixbuf-2.0.so.0"],
    "exif": ["libexif.so.12"],
    "qrencode": ["libqrencode.so.4"],
    "csv": ["libcsv.so.3"],
    "xlsxwriter": ["libxlsxwriter.so.4", "libxlsxwriter.so.5"],
    "ical": ["libical.so.3", "libicalss.so.3"],
    "json-glib": ["libjson-glib-1.0.so.0"],
    "gtk": ["libgtk-4.so.1"],
    "gsound": ["libgsound.so.0"],
}


def library_paths():
    listing = subprocess.run(["/sbin/ldconfig", "-p"], capture_output=True, text=True, check=True).stdout
    return {line.split()[0]: line.split("=>")[1].strip() for line in listing.splitlines() if "=>" in line}


def exported(path):
    out = subprocess.run(["nm", "-D", "--defined-only", path], capture_output=True, text=True, check=True).stdout
    return {line.split()[-1].split("@")[0] for line in out.splitlines() if len(line.split()) >= 3}


def undefined(archive):
    out = subprocess.run(["nm", "-u", archive], capture_output=True, text=True, check=True).stdout
    return {line.split()[-1] for line in out.splitlines() if line.strip().startswith("U ")}


def main():
    source, build = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    rules = configparser.ConfigParser()
    rules.read(source / "tests/checks/rooms.ini")
    complaints = []

    folders = {path.name for path in (source / "src").iterdir() if path.is_dir()}
    for room in sorted(folders - set(rules.sections())):
        complaints.append(f"src/{room}: a room that rooms.ini does not know")
    rooms = [room for room in rules.sections() if room in folders]

    home = {}
    for room in rooms:
        for header in (source / "src" / room).glob("*.h"):
            if header.name in home:
                complaints.append(f"{header.name} stands in {home[header.name]} and in {room}")
            home[header.name] = room

    includes = 0
    for room in rooms:
        known = set(rules[room]["knows"].split())
        for file in sorted((source / "src" / room).glob("*.[ch]")):
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
                found = re.match(r'\s*#\s*include\s*"([^"]+)"', line)
                if not found or found[1] in ("config.h", "languages.h"):
                    continue
                includes += 1
                there = home.get(found[1])
                where = f"src/{room}/{file.name}:{number}"
                if there is None:
                    if not re.search(r"resources\.h$|-sql\.h$", found[1]):
                        complaints.append(f"{where}: {found[1]} stands in no room")
                elif there != room and found[1].endswith("-private.h"):
                    complaints.append(f"{where}: {found[1]} is private to {there}")
                elif there != room and there not in known:
                    complaints.append(f"{where}: {room} may not know {there} ({found[1]})")

    paths = library_paths()
    owner = {}
    for name, files in LIBRARIES.items():
        present = [file for file in files if file in paths]
        if not present:
            complaints.append(f"{name}: none of {', '.join(files)} is installed")
        for file in present:
            for symbol in exported(paths[file]):
                owner.setdefault(symbol, name)

    archives = 0
    for room in rooms:
        archive = build / "src" / room / f"libwb-{room}.a"
        if not archive.exists():
            complaints.append(f"{archive}: not built")
            continue
        archives += 1
        allowed = set(rules[room]["outside"].split())
        for symbol in sorted(undefined(archive)):
            if symbol in owner and owner[symbol] not in allowed:
                complaints.append(f"libwb-{room}.a: calls {symbol} of {owner[symbol]}, which {room} does without")

    # A checker that reads nothing would pass everything.
    if not rooms or not includes or not archives:
        complaints.append("nothing was read: wrong folders?")
    print(f"{len(rooms)} rooms, {includes} includes, {archives} archives, {len(owner)} library symbols")
    for complaint in complaints:
        print(complaint)
    return 1 if complaints else 0


sys.exit(main())
