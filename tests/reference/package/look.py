"""A site package as Python's zipfile and hashlib see it.

look.py PACKAGE FOLDER: unpacks it into the folder and prints a JSON object: what `testzip` says, names that are there
twice, each file's name, date, SHA-256 and the sum listed for it, and how many sums are listed.
"""

import datetime
import hashlib
import json
import sys
import zipfile

package = zipfile.ZipFile(sys.argv[1])
names = package.namelist()
lines = package.read("checksums.sha256").decode("ascii").splitlines()
sums = dict(reversed(line.split("  ", 1)) for line in lines)
assert len(sums) == len(lines), "a file is listed twice"
files = [
    {
        "name": info.filename,
        "date": datetime.datetime(*info.date_time).isoformat(),
        "sha256": hashlib.sha256(package.read(info)).hexdigest(),
        "listed": sums.get(info.filename),
    }
    for info in package.infolist()
]

package.extractall(sys.argv[2])
said = {
    "versions": f"Python {sys.version.split()[0]}",
    "testzip": package.testzip(),
    "duplicates": sorted({name for name in names if names.count(name) > 1}),
    "files": files,
    "listed": len(sums),
}
print(json.dumps(said))
