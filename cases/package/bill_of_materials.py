"""Lists the shared libraries a program is linked with, as SPDX 2.3 JSON.

    bill_of_materials.py PROGRAM VERSION FILE

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


def package_of(library):
    """Debian package that owns a library, or None. The merged /usr has two names for one file."""
    for name in (library, "/usr" + library if not library.startswith("/usr/") else library[4:]):
        owner = output("dpkg-query", "-S", name)
        if owner:
            return owner.split(":", 1)[0].split(",")[0]
    return None


def licences_of(package):
    file = pathlib.Path("/usr/share/doc") / package / "copyright"
    if not file.exists():
        return "NOASSERTION"
    names = sorted(set(re.findall(r"^License:\s*([^\s,][^\n,]*)", file.read_text(errors="replace"), re.M)))
    return "; ".join(name.strip() for name in names) or "NOASSERTION"


def main():
    program, version, file = sys.argv[1:4]
    linked = re.findall(r"=> (/\S+)", output("ldd", program))
    packages = sorted({name for name in map(package_of, linked) if name})
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
        installed, source = (output("dpkg-query", "-W", "-f=${Version} ${source:Package}", name).split() + ["", ""])[:2]
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
        {"spdxElementId": "SPDXRef-coilwright", "relationshipType": "DYNAMIC_LINK", "relatedSpdxElement": item["SPDXID"]}
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
