"""Lists what a program is linked with and what is compiled into it, as SPDX 2.3 JSON.

    bill_of_materials.py PROGRAM VERSION FILE [COMPILED_IN ...]

COMPILED_IN: a file of each library that is headers alone, or text in the program.

Package, version and source come from Debian's package database, licences from the copyright files of
the packages (the names there, joined; NOASSERTION where a file is not in the machine-readable form).
"""

import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys
import time


def output(*command):
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout


def names_of(file):
    """Both names that a file has in the merged /usr."""
    return [file, "/usr" + file if not file.startswith("/usr/") else file[4:]]


def packages_of(files):
    """The Debian packages that own these files; one query for all of them, since each takes long."""
    owners = {}
    for line in output("dpkg-query", "-S", *(name for file in files for name in names_of(file))).splitlines():
        package, _, name = line.partition(": ")
        owners[name] = package.split(",")[0].split(":")[0]
    return {owners[name] for file in files for name in names_of(file) if name in owners}


def versions_of(packages):
    """package -> (version, source package)"""
    rows = output("dpkg-query", "-W", "-f=${Package}\t${Version}\t${source:Package}\n", *packages).splitlines()
    return {name: (version, source) for name, version, source in (row.split("\t") for row in rows)}


def licences_of(package):
    file = pathlib.Path("/usr/share/doc") / package / "copyright"
    if not file.exists():
        return "NOASSERTION"
    text = file.read_text(errors="replace")
    # Older files use plain text and name the common licences.
    names = re.findall(r"^License:\s*([^\s,][^\n,]*)", text, re.M) or re.findall(r"common-licenses/([\w.-]*\w)", text)
    names = sorted(set(names))
    return "; ".join(name.strip() for name in names) or "NOASSERTION"


def main():
    program, version, file, *compiled_in = sys.argv[1:]
    linked = re.findall(r"=> (/\S+)", output("ldd", program))
    inside = packages_of(compiled_in)
    packages = sorted(packages_of(linked) | inside)
    versions = versions_of(packages)
    listed = [
        {
            "SPDXID": "SPDXRef-coilwright",
            "name": "coilwright",
            "versionInfo": version,
            "downloadLocation": "NOASSERTION",
            "licenseDeclared": "GPL-3.0-or-later",
            "checksums": [
                {"algorithm": "SHA256", "checksumValue": hashlib.sha256(pathlib.Path(program).read_bytes()).hexdigest()}
            ],
        }
    ]
    for name in packages:
        installed, source = versions.get(name, ("", ""))
        listed.append(
            {
                "SPDXID": "SPDXRef-" + re.sub(r"[^A-Za-z0-9.-]", "-", name),
                "name": name,
                "versionInfo": installed,
                "sourceInfo": "Debian source package " + source,
                "downloadLocation": "NOASSERTION",
                "licenseDeclared": "NOASSERTION",
                "licenseComments": licences_of(name),
            }
        )
    links = [
        {
            "spdxElementId": "SPDXRef-coilwright",
            "relationshipType": "CONTAINS" if item["name"] in inside else "DYNAMIC_LINK",
            "relatedSpdxElement": item["SPDXID"],
        }
        for item in listed[1:]
    ]
    seconds = int(os.environ.get("SOURCE_DATE_EPOCH", time.time()))
    moment = time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(seconds))
    document = {
        "spdxVersion": "SPDX-2.3",
        "dataLicense": "CC0-1.0",
        "SPDXID": "SPDXRef-DOCUMENT",
        "name": "coilwright " + version,
        "documentNamespace": "urn:coilwright:" + listed[0]["checksums"][0]["checksumValue"],
        "creationInfo": {"created": moment, "creators": ["Tool: bill_of_materials.py"]},
        "packages": listed,
        "relationships": links,
    }
    pathlib.Path(file).write_text(json.dumps(document, indent=1, ensure_ascii=False) + "\n")


main()
