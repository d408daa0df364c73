"""A site package as Python's zipfile, hashlib and jsonschema see it.

look.py PACKAGE FOLDER: unpacks it into the folder and prints a JSON object: what `testzip` says, names that are there
twice, each file's name, date, SHA-256 and the sum listed for it, how many sums are listed, and what is wrong with each
line of the book by the schema in the package.
"""

import datetime
import hashlib
import json
import sys
import zipfile
from importlib.metadata import version

import jsonschema

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

schema = json.loads(package.read("book.schema.json"))
kind = jsonschema.validators.validator_for(schema, default=None)
assert kind is jsonschema.Draft202012Validator, kind
kind.check_schema(schema)
validator = kind(schema)


def judge(line):
    error = next(validator.iter_errors(json.loads(line)), None)
    return error and f"{error.json_path}: {error.message[:200]}"


package.extractall(sys.argv[2])
said = {
    "versions": f"Python {sys.version.split()[0]}, jsonschema {version('jsonschema')}",
    "testzip": package.testzip(),
    "duplicates": sorted({name for name in names if names.count(name) > 1}),
    "files": files,
    "listed": len(sums),
    # Not splitlines: a word may hold other line ends than JSON Lines knows.
    "judged": [judge(line) for line in package.read("book.jsonl").decode("utf-8").split("\n") if line],
}
print(json.dumps(said))
