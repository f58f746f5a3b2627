#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What can be translated, and what is: xgettext reads every text whole, and each language of po/LINGUAS is complete.

usage: check-translations.py [--template FILE] SOURCE_ROOT

With --template nothing is checked: the template is taken into FILE, for po/update.

A language is complete when a template taken from the sources now holds no text that its file leaves out, none of its
entries is fuzzy, msgfmt -c accepts it, and every translation keeps the directives and the blanks at its ends of the
text it stands for, also where no C format is told.
"""

import pathlib
import re
import subprocess
import sys
import tempfile

# As meson's preset "glib" calls it; meson has no way to ask for the list.
XGETTEXT = [
    "xgettext", "--from-code=UTF-8", "--add-comments", "--keyword=_", "--keyword=N_", "--keyword=C_:1c,2",
    "--keyword=NC_:1c,2", "--keyword=g_dcgettext:2", "--keyword=g_dngettext:2,3", "--keyword=g_dpgettext2:2c,3",
    "--flag=N_:1:pass-c-format", "--flag=C_:2:pass-c-format", "--flag=NC_:2:pass-c-format",
    "--flag=g_dngettext:2:pass-c-format", "--flag=g_strdup_printf:1:c-format", "--flag=g_string_printf:2:c-format",
    "--flag=g_string_append_printf:2:c-format", "--flag=g_error_new:3:c-format", "--flag=g_set_error:4:c-format",
]
DIRECTIVE = re.compile(r"%(?:\d+\$)?[-+0#]*(?:\d+|\*)?(?:\.(?:\d+|\*))?(?:<PRI[a-zA-Z0-9]+>|(?:l|ll|z|h)?[sduifgc](?![a-z])|%)")


def run(*command):
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return done.returncode, done.stderr.strip()


def read_entries(path):
    """The entries of a PO file as dictionaries of its keywords, each text joined but not unescaped."""
    entries, entry, field = [], {}, None
    for line in path.read_text(encoding="utf-8").splitlines() + [""]:
        start = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d\])?) "(.*)"$', line)
        if start:
            field = start[1]
            entry[field] = start[2]
        elif line.startswith('"') and field:
            entry[field] += line[1:-1]
        elif not line.strip() and "msgid" in entry:
            entries.append(entry)
            entry, field = {}, None
    return entries


def get_directives(text):
    return sorted(re.sub(r"\d+\$", "", directive) for directive in DIRECTIVE.findall(text) if directive != "%%")


def check_entry(entry):
    complaints = []
    for field, translation in entry.items():
        if not field.startswith("msgstr") or not translation:
            continue
        of = entry["msgid_plural"] if field not in ("msgstr", "msgstr[0]") else entry["msgid"]
        # A singular may leave its number out ("one sample"), as msgfmt allows.
        fewer = field == "msgstr[0]" and "msgid_plural" in entry and len(get_directives(translation)) < len(get_directives(of))
        if get_directives(translation) != get_directives(of) and not fewer:
            complaints.append(f"“{of}” becomes “{translation}”, with other directives")
        if (of[:1] == " ", of[-1:] == " ") != (translation[:1] == " ", translation[-1:] == " "):
            complaints.append(f"“{of}” becomes “{translation}”, with other blanks at its ends")
    return complaints


def check_language(po, pot):
    if not po.exists():
        return [f"{po}: LINGUAS names it, and it is not there"]
    complaints = []
    status, words = run("msgfmt", "-c", "-o", "/dev/null", str(po))
    if status:
        complaints.append(words)
    # Tells what is missing, not translated, or fuzzy.
    status, words = run("msgcmp", str(po), str(pot))
    if status:
        complaints.append(words)
    for entry in read_entries(po)[1:]:
        complaints += [f"{po}: {complaint}" for complaint in check_entry(entry)]
    return complaints


HEAD = (
    'msgid ""\nmsgstr ""\n"Project-Id-Version: a\\n"\n"PO-Revision-Date: 2026-01-01 00:00+0000\\n"\n"Last-Translator: a <a@b.c>\\n"\n'
    '"Language-Team: a <a@b.c>\\n"\n"Language: de\\n"\n"MIME-Version: 1.0\\n"\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
    '"Content-Transfer-Encoding: 8bit\\n"\n"Plural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
)
WICK = '#, c-format\nmsgid "wick %s of %s"\nmsgstr "'


def take_template(source, pot):
    return run(*XGETTEXT, f"--directory={source}", f"--files-from={source / 'po/POTFILES.in'}", "-o", str(pot))


def check_the_check(folder):
    """Translations that are wrong each in one way; a check that takes one of them, or refuses the right one, is worth nothing."""
    pot = folder / "a.pot"
    pot.write_text(HEAD + WICK + '"\n\nmsgid "pour %s "\nmsgstr ""\n', encoding="utf-8")
    right = WICK + 'Docht %2$s von %1$s"\n\nmsgid "pour %s "\nmsgstr "gießen %s "\n'
    cases = {
        "is right": (right, False),
        "lacks a text": (WICK + 'Docht %s von %s"\n', True),
        "leaves one empty": (right.replace("gießen %s ", ""), True),
        "has a fuzzy one": (right.replace("#, c-format", "#, fuzzy, c-format"), True),
        "lost a directive": (right.replace("%2$s von %1$s", "%s"), True),
        "lost one that no format tells of": (right.replace("gießen %s ", "gießen "), True),
        "lost a blank": (right.replace("gießen %s ", "gießen %s"), True),
    }
    complaints = []
    for name, (text, is_wrong) in cases.items():
        po = folder / "a.po"
        po.write_text(HEAD + text, encoding="utf-8")
        if bool(check_language(po, pot)) != is_wrong:
            complaints.append(f"this check itself: of a file that {name} it says {check_language(po, pot)}")
    return complaints


def main():
    if sys.argv[1] == "--template":
        status, words = take_template(pathlib.Path(sys.argv[3]), pathlib.Path(sys.argv[2]))
        print(words, end="", file=sys.stderr)
        return status
    source = pathlib.Path(sys.argv[1])
    languages = [line for line in (source / "po/LINGUAS").read_text().split("\n") if line.strip() and not line.startswith("#")]
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        complaints = check_the_check(folder)
        pot = folder / "wickbench.pot"
        status, words = take_template(source, pot)
        if status or words:
            complaints.append(words)
        n_texts = len(read_entries(pot)) - 1 if pot.exists() else 0
        if n_texts < 1000:
            complaints.append(f"the template holds {n_texts} texts: wrong folder?")
        for language in languages:
            complaints += check_language(source / f"po/{language}.po", pot)
    print(f"{n_texts} texts, {len(languages)} languages")
    for complaint in complaints:
        print(complaint)
    return 1 if complaints else 0


sys.exit(main())
